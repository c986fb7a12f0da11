package store

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"
	"time"

	"stubbled/scheduler/ladder"
)

// The steps at which the child may end itself, each in or between the
// transactions of its life.
var steps = []string{
	"opened", "accepted", "acknowledged", "hearing", "heard", "planning", "planned",
	"wording", "claimed", "going", "delivered", "settled", "backing up", "backed up",
}

// worker is a small daemon: it takes texts, hears them, plans, says what is
// due to a file, over and over.
type worker struct {
	s     *Store
	now   time.Time
	said  string // the file that it speaks to
	retry Retry
	step  string // to end at
	count int    // the how manieth time
}

func childWork() {
	n, _ := strconv.Atoi(os.Getenv("STUBBLED_TEST_COUNT"))
	round, _ := strconv.Atoi(os.Getenv("STUBBLED_TEST_ROUND"))
	w := &worker{said: os.Getenv("STUBBLED_TEST_SAID"), retry: Retry(os.Getenv("STUBBLED_TEST_RETRY")),
		step: os.Getenv("STUBBLED_TEST_STEP"), count: n, now: sep1.Add(time.Duration(round) * time.Hour)}
	s, err := Open(ctx, os.Getenv("STUBBLED_TEST_DB"), Options{RunID: fmt.Sprint(round), Now: w.now})
	if err != nil {
		panic(err)
	}
	w.s = s
	w.at("opened")
	for {
		if err := w.live(); err != nil {
			panic(err)
		}
	}
}

// at ends the process without a word where that was asked for.
func (w *worker) at(step string) {
	if step != w.step {
		return
	}
	if w.count--; w.count <= 0 {
		syscall.Kill(os.Getpid(), syscall.SIGKILL)
		select {}
	}
}

func (w *worker) live() error {
	w.now = w.now.Add(time.Second)
	if err := w.receive(); err != nil {
		return err
	}
	if err := w.hear(); err != nil {
		return err
	}
	if err := w.s.Update(ctx, w.now, func(x *Tx) error { return w.plan(x) }); err != nil {
		return err
	}
	w.at("planned")
	if err := w.speak(); err != nil {
		return err
	}
	if w.now.Unix()%8 == 0 {
		w.at("backing up")
		to := w.s.Path() + ".bak"
		os.Remove(to)
		if err := w.s.Backup(ctx, to); err != nil {
			return err
		}
		w.at("backed up")
	}
	return nil
}

// receive takes the next texts of the peer, and the last one again: its
// acknowledgement may have been lost.
func (w *worker) receive() error {
	c, err := w.s.Cursor(ctx, "sms")
	if err != nil {
		return err
	}
	last, _ := strconv.Atoi(c)
	var got []In
	for n := max(last, 1); n <= last+2; n++ {
		got = append(got, In{ID: fmt.Sprint(n), From: phones["Ana"], Contact: "Ana", Text: fmt.Sprintf("creek %d", n)})
	}
	if err := w.s.Accept(ctx, "sms", got, fmt.Sprint(last+2), w.now); err != nil {
		return err
	}
	w.at("accepted")
	fmt.Printf("ack %d\n", last+2)
	w.at("acknowledged")
	return nil
}

func (w *worker) hear() error {
	rows, err := w.s.Pending(ctx)
	if err != nil {
		return err
	}
	for _, in := range rows {
		err := w.s.Update(ctx, w.now, func(x *Tx) error {
			f := reading("creek", 14)
			f.Inbox, f.Words = in.Row, in.Text
			if _, _, err := x.Record(f); err != nil {
				return err
			}
			w.at("hearing")
			a := answer(ladder.AnswerVerdict, in)
			a.GoodUntil = time.Time{}
			if _, err := x.Answer(a); err != nil {
				return err
			}
			if err := w.plan(x); err != nil {
				return err
			}
			_, err := x.Heard(in.Row)
			return err
		})
		if err != nil {
			return err
		}
		w.at("heard")
	}
	return nil
}

// plan wants one notice for each of the last facts.
func (w *worker) plan(x *Tx) error {
	fs, err := x.FactsAfter(0)
	if err != nil {
		return err
	}
	kinds := []ladder.Kind{ladder.HeadsUp, ladder.ShutToday, ladder.HoldBegins}
	var wanted []ladder.Notice
	for _, f := range fs[max(0, len(fs)-40):] {
		n := notice(kinds[f.ID%3], fmt.Sprint(f.ID), "Luis")
		n.GoodUntil = time.Time{}
		wanted = append(wanted, n)
	}
	_, err = x.Reconcile(wanted)
	w.at("planning")
	return err
}

// speak hands over what is due: by a safe carrier several together, which are settled
// with the next.
func (w *worker) speak() error {
	f := bySMS(w.retry)
	if w.retry == Safe {
		f.Most = 3
	}
	for {
		all, err := w.s.Claim(ctx, w.now, f, func(e *Envelope) error { w.at("wording"); return plain(e) })
		if len(all) == 0 || err != nil {
			return err
		}
		w.at("claimed")
		f.Ended = nil
		for _, m := range all {
			if err := w.hand(m); err != nil {
				return err
			}
			o := Outcome{State: WasSent}
			if m.Attempt%7 == 0 {
				o.State = TryAgain
			}
			if f.Most > 0 {
				f.Ended = append(f.Ended, Ended{m.Attempt, o})
				continue
			}
			if err := w.s.Settle(ctx, m.Attempt, o, w.now); err != nil {
				return err
			}
			w.at("settled")
		}
	}
}

func (w *worker) hand(m *Message) error {
	if w.retry == Unsafe {
		if err := w.s.Going(ctx, m.Attempt, w.now); err != nil {
			return err
		}
		w.at("going")
	}
	f, err := os.OpenFile(w.said, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	keys := make([]string, len(m.Notices))
	for i, n := range m.Notices {
		keys[i] = n.Key.String()
	}
	fmt.Fprintf(f, "%s\t%v\t%s\t%s\t%s\n", m.ID, m.MayRepeat, m.Kind, m.Text, strings.Join(keys, ","))
	f.Close()
	w.at("delivered")
	return nil
}
