package store

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/ladder"
)

// world plays a farm at random against a real database, and remembers by
// itself what was said to whom.
type world struct {
	t      *rapid.T
	path   string
	s      *Store
	now    time.Time
	run    int
	retry  Retry
	texts  int
	wanted map[string]ladder.Notice
	missed map[string]bool // under way or frozen at the last pass, which could not touch them
	frosty map[string]bool // frozen, and waiting for a retry
	flying []*Message
	said   map[string][]saying  // by key
	gone   map[int64]bool       // attempts that were let go of
	frozen map[string]string    // by envelope
	stops  map[string]time.Time // by contact
	oks    map[string]int       // confirmations since then
	today  map[string]map[string]bool
}

// checks says how many farms are played, unless the command line does.
func checks(t *testing.T, n int) {
	t.Helper()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if given {
		return
	}
	if os.Getenv("STUBBLED_LONG") != "" {
		n *= 50
	}
	must(t, flag.Set("rapid.checks", fmt.Sprint(n)))
}

type saying struct {
	id      string
	outcome Result
}

var results = []Result{WasSent, TryAgain, WasRefused, NotKnown}

var people = []string{"Ana", "Bea", "Luis"}

func (w *world) open() {
	w.run++
	s, err := Open(ctx, w.path, Options{RunID: fmt.Sprint(w.run), Now: w.now, Volatile: true})
	w.must(err)
	w.s = s
}

func (w *world) must(err error) {
	if err != nil {
		w.t.Fatal(err)
	}
}

// plan wants some of a few notices, twice: the second pass must change nothing.
func (w *world) plan(t *rapid.T) {
	kinds := []ladder.Kind{ladder.HeadsUp, ladder.ShutToday, ladder.HoldBegins}
	w.wanted, w.missed = map[string]ladder.Notice{}, map[string]bool{}
	for key, frozen := range w.frosty {
		w.missed[key] = frozen
	}
	for _, m := range w.flying {
		for _, n := range m.Notices {
			w.missed[n.Key.String()] = true
		}
	}
	var list []ladder.Notice
	for _, who := range people {
		for _, kind := range kinds {
			for _, paddock := range []string{"creek", "hill"} {
				if !rapid.Bool().Draw(t, "wanted") {
					continue
				}
				n := notice(kind, paddock, who)
				ladder.OnPaddock(n.Facts).Leave = float64(rapid.IntRange(8, 9).Draw(t, "leave"))
				n.NotBefore = w.now.Add(time.Duration(rapid.IntRange(-1, 1).Draw(t, "due")) * time.Hour)
				n.GoodUntil = w.now.Add(time.Duration(rapid.IntRange(0, 4).Draw(t, "good")) * time.Hour)
				w.wanted[n.Key.String()], list = n, append(list, n)
			}
		}
	}
	for pass := range 2 {
		var c Changes
		w.must(w.s.Update(ctx, w.now, func(x *Tx) (err error) { c, err = x.Reconcile(list); return err }))
		if pass == 1 && c.Any() {
			t.Fatalf("the same pass again changed %+v", c)
		}
	}
	w.checkFlying(t)
}

// checkFlying: what is claimed is not touched.
func (w *world) checkFlying(t *rapid.T) {
	w.must(w.s.Update(ctx, w.now, func(x *Tx) error {
		said, err := x.everything()
		at := map[string]State{}
		for _, r := range said {
			at[r.Notice.Key.String()] = r.State
		}
		for _, m := range w.flying {
			for _, n := range m.Notices {
				if at[n.Key.String()] != Sending {
					t.Fatalf("%s is under way and became %s", n.Key, at[n.Key.String()])
				}
			}
		}
		return err
	}))
}

func (w *world) text(t *rapid.T, who string, kind ladder.Kind) {
	w.texts++
	id := fmt.Sprint(w.texts)
	w.must(w.s.Accept(ctx, "sms", []In{{ID: id, Contact: who, Text: id}}, id, w.now))
	rows, err := w.s.Pending(ctx)
	w.must(err)
	w.must(w.s.Update(ctx, w.now, func(x *Tx) error {
		for _, in := range rows {
			if fresh, err := x.Heard(in.Row); err != nil || !fresh {
				return fmt.Errorf("heard %d: %v, %w", in.Row, fresh, err)
			}
			switch kind {
			case ladder.AnswerStop:
				if fresh, err := x.Suppress(phones[who], who, "stop"); err != nil {
					return err
				} else if fresh {
					w.stops[who], w.oks[who] = w.now, 0
				}
			case ladder.AnswerStart:
				if _, err := x.Allow(phones[who]); err != nil {
					return err
				}
				delete(w.stops, who)
			}
			if _, err := x.Answer(answer(kind, in)); err != nil {
				return err
			}
		}
		return nil
	}))
}

func (w *world) claim(t *rapid.T) {
	f := bySMS(w.retry)
	f.Cap, f.DayStart = 2, w.now.Truncate(24*time.Hour)
	asleep := rapid.SampledFrom(append(people, "")).Draw(t, "asleep")
	f.Quiet = func(who string, _ time.Time) bool { return who == asleep }
	f.Most = rapid.IntRange(0, 3).Draw(t, "most")
	if rapid.Bool().Draw(t, "with what ended") {
		o := rapid.SampledFrom(results).Draw(t, "outcome")
		for _, m := range w.flying {
			f.Ended = append(f.Ended, Ended{m.Attempt, Outcome{State: o, After: 30 * time.Minute}})
			w.became(m, o)
		}
		w.flying = nil
	}
	all, err := w.s.Claim(ctx, w.now, f, plain)
	w.must(err)
	if len(all) > max(1, f.Most) {
		t.Fatalf("%d messages are claimed, at most %d", len(all), f.Most)
	}
	for _, m := range all {
		w.checkClaim(t, f, m, asleep)
		if w.gone[m.Attempt] = rapid.Bool().Draw(t, "goes"); w.retry == Unsafe && w.gone[m.Attempt] {
			w.must(w.s.Going(ctx, m.Attempt, w.now))
		}
	}
	w.flying = append(w.flying, all...)
}

func (w *world) checkClaim(t *rapid.T, f ClaimFor, m *Message, asleep string) {
	if m.ToName == asleep && !m.Answer {
		t.Fatalf("%s was woken by %s", m.ToName, m.Kind)
	}
	if stopped, ok := w.stops[m.ToName]; ok {
		if m.N == 1 {
			w.oks[m.ToName]++
		}
		if m.Kind != ladder.AnswerStop || w.oks[m.ToName] > 1 {
			t.Fatalf("%s said stop at %v and gets %s, confirmation %d", m.ToName, stopped, m.Kind, w.oks[m.ToName])
		}
	}
	if old, ok := w.frozen[m.ID]; ok != (m.N > 1) || ok && old != m.Text {
		t.Fatalf("attempt %d of %s is %q, was %q", m.N, m.ID, m.Text, old)
	}
	w.frozen[m.ID] = m.Text
	w.checkCap(t, f, m)
	for _, n := range m.Notices {
		w.checkNotice(t, m, n)
	}
}

func (w *world) checkCap(t *rapid.T, f ClaimFor, m *Message) {
	if m.Kind.Reserved() {
		return
	}
	key := m.ToName + f.DayStart.String()
	if w.today[key] == nil {
		w.today[key] = map[string]bool{}
	}
	if w.today[key][m.ID] = true; len(w.today[key]) > f.Cap {
		t.Fatalf("%s gets %d messages today", m.ToName, len(w.today[key]))
	}
}

func (w *world) checkNotice(t *rapid.T, m *Message, n ladder.Notice) {
	if together := n.Kind.Joins() != "" && m.Kind.Joins() != ""; n.To != m.ToName || n.Kind != m.Kind && !together {
		t.Fatalf("%s to %s in a message %s to %s", n.Kind, n.To, m.Kind, m.ToName)
	}
	if m.N == 1 {
		if n.NotBefore.After(w.now) || n.GoodUntil.Before(w.now) {
			t.Fatalf("%s is said at %v, not within %v to %v", n.Key, w.now, n.NotBefore, n.GoodUntil)
		}
		if want, ok := w.wanted[n.Key.String()]; !m.Answer && !w.missed[n.Key.String()] && (!ok || leave(want) != leave(n)) {
			t.Fatalf("%s says leave %v in; wanted: %v, %v in", n.Key, leave(n), ok, leave(want))
		}
	}
	var maybe []string // messages that may have said it, other than this one
	for _, s := range w.said[n.Key.String()] {
		if s.outcome == WasSent {
			t.Fatalf("%s was said already", n.Key)
		}
		if s.outcome == NotKnown && w.retry == Never {
			t.Fatalf("%s may have been said on the console", n.Key)
		}
		if s.outcome == NotKnown && !slices.Contains(maybe, s.id) && s.id != m.ID {
			maybe = append(maybe, s.id)
		}
	}
	if len(maybe) > 0 && (w.retry != Unsafe || !m.MayRepeat || len(maybe) > 1 || !n.Kind.Twice()) {
		t.Fatalf("%s (%s) may have been said by %v, now by %s, marked %v", n.Key, w.retry, maybe, m.ID, m.MayRepeat)
	}
}

func (w *world) settle(t *rapid.T) {
	if len(w.flying) == 0 {
		t.Skip("nothing under way")
	}
	i := rapid.IntRange(0, len(w.flying)-1).Draw(t, "which")
	m := w.flying[i]
	w.flying = slices.Delete(w.flying, i, i+1)
	o := rapid.SampledFrom(results).Draw(t, "outcome")
	w.must(w.s.Settle(ctx, m.Attempt, Outcome{State: o, After: 30 * time.Minute}, w.now))
	w.became(m, o)
}

func (w *world) became(m *Message, o Result) {
	for _, n := range m.Notices {
		w.frosty[n.Key.String()] = o == TryAgain || o == NotKnown && w.retry == Safe
		w.said[n.Key.String()] = append(w.said[n.Key.String()], saying{m.ID, o})
	}
}

// restart ends the program without a word: what was under way is unknown, but for
// what an unsafe carrier still had in its hands.
func (w *world) restart(t *rapid.T) {
	w.must(w.s.Close())
	for _, m := range w.flying {
		became := NotKnown
		if w.retry == Unsafe && !w.gone[m.Attempt] {
			became = TryAgain
		}
		w.became(m, became)
	}
	w.flying = nil
	w.open()
}

func TestNothingIsSaidTwiceWhateverHappens(t *testing.T) {
	dir := t.TempDir()
	n := 0
	checks(t, 40)
	rapid.Check(t, func(t *rapid.T) {
		n++
		w := &world{t: t, path: filepath.Join(dir, fmt.Sprintf("%d.db", n)), now: sep1,
			retry:  rapid.SampledFrom([]Retry{Safe, Unsafe, Never}).Draw(t, "retry"),
			wanted: map[string]ladder.Notice{}, said: map[string][]saying{}, frozen: map[string]string{}, frosty: map[string]bool{},
			gone: map[int64]bool{}, stops: map[string]time.Time{}, oks: map[string]int{}, today: map[string]map[string]bool{}}
		w.open()
		defer func() { w.s.Close(); os.Remove(w.path) }()
		who := rapid.SampledFrom(people)
		t.Repeat(map[string]func(*rapid.T){
			"plan":    w.plan,
			"text":    func(t *rapid.T) { w.text(t, who.Draw(t, "who"), ladder.AnswerVerdict) },
			"stop":    func(t *rapid.T) { w.text(t, who.Draw(t, "who"), ladder.AnswerStop) },
			"start":   func(t *rapid.T) { w.text(t, who.Draw(t, "who"), ladder.AnswerStart) },
			"claim":   w.claim,
			"claim 2": w.claim,
			"settle":  w.settle,
			"wait": func(t *rapid.T) {
				w.now = w.now.Add(time.Duration(rapid.IntRange(1, 150).Draw(t, "minutes")) * time.Minute)
			},
			"restart": w.restart,
		})
	})
}
