package store

import (
	"bufio"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// The steps at which the child may end itself, each in or between the
// transactions of its life.
var steps = []string{
	"opened", "accepted", "acknowledged", "hearing", "heard", "planning", "planned",
	"wording", "claimed", "delivered", "settled", "backing up", "backed up",
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
	fs, err := x.Facts()
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

func (w *worker) speak() error {
	for {
		m, err := w.s.Claim(ctx, w.now, bySMS(w.retry), func(b Batch) (Frozen, error) { w.at("wording"); return plain(b) })
		if m == nil || err != nil {
			return err
		}
		w.at("claimed")
		f, err := os.OpenFile(w.said, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
		if err != nil {
			return err
		}
		keys := make([]string, len(m.Notices))
		for i, n := range m.Notices {
			keys[i] = n.Key
		}
		fmt.Fprintf(f, "%s\t%v\t%s\t%s\t%s\n", m.ID, m.MayRepeat, m.Kind, m.Text, strings.Join(keys, ","))
		f.Close()
		w.at("delivered")
		o := WasSent
		if m.Attempt%7 == 0 {
			o = TryAgain
		}
		if err := w.s.Settle(ctx, m.Attempt, Result{Outcome: o, NextAt: w.now}, w.now); err != nil {
			return err
		}
		w.at("settled")
	}
}

func rounds() int {
	if os.Getenv("STUBBLED_LONG") != "" {
		return 2000
	}
	return 50
}

// TestKilledAtAnyMomentNothingAcknowledgedIsLostAndNothingSaidTwice ends the
// process with SIGKILL, at each named step and at random. It shows what a
// crash of the program does. What a power cut does is shown with copies of the
// log that were cut off or damaged, not here: the kernel's memory survives a
// kill.
func TestKilledAtAnyMomentNothingAcknowledgedIsLostAndNothingSaidTwice(t *testing.T) {
	for _, retry := range []Retry{Never, Safe, Unsafe} {
		t.Run(string(retry), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			db, said := filepath.Join(dir, "farm.db"), filepath.Join(dir, "said")
			acked := 0
			for round := range rounds() / 3 {
				step, count := "", 0
				if round%4 != 3 {
					step, count = steps[round*3/4%len(steps)], 1+rand.IntN(3)
					if step == "opened" {
						count = 1 // it comes to that once
					}
				}
				acked = max(acked, killed(t, db, said, retry, round, step, count))
			}
			if acked == 0 {
				t.Fatal("no text was ever acknowledged")
			}
			afterKills(t, db, said, retry, acked)
		})
	}
}

// killed runs the child until it is dead and gives the last text that it
// acknowledged.
func killed(t *testing.T, db, said string, retry Retry, round int, step string, count int) (acked int) {
	t.Helper()
	c := child(t, "work", "STUBBLED_TEST_DB="+db, "STUBBLED_TEST_SAID="+said, "STUBBLED_TEST_RETRY="+string(retry),
		"STUBBLED_TEST_STEP="+step, fmt.Sprintf("STUBBLED_TEST_COUNT=%d", count), fmt.Sprintf("STUBBLED_TEST_ROUND=%d", round))
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	wait := time.Duration(rand.IntN(120)) * time.Millisecond
	if step != "" {
		wait = 5 * time.Second // a step that it never comes to
	}
	timer := time.AfterFunc(wait, func() { c.Process.Kill() })
	defer timer.Stop()
	for lines := bufio.NewScanner(out); lines.Scan(); {
		fmt.Sscanf(lines.Text(), "ack %d", &acked)
	}
	err = c.Wait()
	if ws, ok := c.ProcessState.Sys().(syscall.WaitStatus); !ok || ws.Signal() != syscall.SIGKILL {
		t.Fatalf("step %q: it was not killed but ended by itself: %v", step, err)
	}
	return acked
}

// afterKills starts once more, does what is left, and looks at everything.
func afterKills(t *testing.T, db, saidFile string, retry Retry, acked int) {
	t.Helper()
	w := &worker{s: open(t, db, "last"), now: sep1.AddDate(1, 0, 0), said: saidFile, retry: retry}
	if err := w.s.Aftermath(); err != nil {
		t.Errorf("aftermath: %v", err)
	}
	must(t, w.hear())
	must(t, w.speak())
	must(t, Verify(ctx, db))

	inboxOf := map[int64]int{}
	for _, f := range facts(t, w.s) {
		if f.Kind == diary.Reading {
			inboxOf[f.Inbox]++
		}
	}
	for n := 1; n <= acked; n++ {
		var row int64
		var done sql.NullInt64
		var answers int
		err := w.s.read.QueryRow(`SELECT id, done_at, (SELECT count(*) FROM outbox o WHERE o.inbox = i.id) FROM inbox i WHERE carrier = 'sms' AND carrier_id = ?`, fmt.Sprint(n)).Scan(&row, &done, &answers)
		if err != nil || !done.Valid || inboxOf[row] != 1 || answers != 1 {
			t.Errorf("text %d was acknowledged: heard %v, %d facts, %d answers (%v)", n, done.Valid, inboxOf[row], answers, err)
		}
	}
	checkSaid(t, w.s, saidFile, retry)
}

type spoken struct {
	id, kind, text string
	marked         bool
}

func readSaid(t *testing.T, name string) map[string][]spoken {
	t.Helper()
	b, err := os.ReadFile(name)
	must(t, err)
	by := map[string][]spoken{}
	for _, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		p := strings.Split(line, "\t")
		for _, key := range strings.Split(p[4], ",") {
			by[key] = append(by[key], spoken{p[0], p[2], p[3], p[1] == "true"})
		}
	}
	return by
}

func checkSaid(t *testing.T, s *Store, saidFile string, retry Retry) {
	t.Helper()
	by := readSaid(t, saidFile)
	unsaid, err := s.NotSaid(ctx, time.Unix(0, 0))
	must(t, err)
	shown := map[string]bool{}
	for _, u := range unsaid {
		shown[u.Notice.Key] = true
	}
	tried := temporary(t, s)
	for key, state := range states(t, s) {
		if state == Queued || state == Sending {
			t.Errorf("%s is still %s", key, state)
		}
		if len(by[key]) == 0 && state != Withdrawn && !shown[key] {
			t.Errorf("%s was not said, is %s, and nobody is told", key, state)
		}
	}
	for key, all := range by {
		distinct := map[string]spoken{}
		for _, sp := range all {
			if old, ok := distinct[sp.id]; ok && old.text != sp.text {
				t.Errorf("%s: %s was %q, then %q", key, sp.id, old.text, sp.text)
			}
			distinct[sp.id] = sp
		}
		if err := saidOnce(all, distinct, retry, tried); err != nil {
			t.Errorf("%s: %v: %+v", key, err, all)
		}
	}
}

// temporary gives how often each message was turned away for now; those times
// it was not said.
func temporary(t *testing.T, s *Store) map[string]int {
	t.Helper()
	rows, err := s.read.Query(`SELECT m.envelope, count(*) FROM attempts a JOIN messages m ON m.id = a.message WHERE a.outcome = 'again' GROUP BY 1`)
	must(t, err)
	defer rows.Close()
	n := map[string]int{}
	for rows.Next() {
		var id string
		var c int
		must(t, rows.Scan(&id, &c))
		n[id] = c
	}
	return n
}

func saidOnce(all []spoken, distinct map[string]spoken, retry Retry, tried map[string]int) error {
	times := len(all)
	for id := range distinct {
		times -= tried[id]
	}
	switch {
	case retry == Safe && len(distinct) > 1:
		return errors.New("two ids where the id makes it safe")
	case retry == Never && times > 1:
		return fmt.Errorf("said %d times on the console", times)
	case retry == Unsafe && times > 2:
		return fmt.Errorf("said %d times", times)
	case retry == Unsafe && times == 2 && !Repeatable(ladder.Kind(all[0].kind)):
		return errors.New("repeated though it can wait")
	case retry == Unsafe && times == 2 && !all[len(all)-1].marked:
		return errors.New("repeated and not marked")
	}
	return nil
}
