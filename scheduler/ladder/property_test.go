package ladder

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
)

// TestWhatIsDueIsInOrder: on random farms with random facts keys are unique,
// nothing is wanted before its time or after its end, and looking twice says
// the same.
func TestWhatIsDueIsInOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := drawWorld(r, t, 20)
		for now := w.from; now.Before(w.to); now = w.after(now) {
			w.write(now)
			in := w.input(now)
			due := dueOf(in)
			seen := map[Key]bool{}
			for _, n := range due {
				switch {
				case seen[n.Key]:
					r.Fatalf("%s: %s is wanted twice", now, n.Key)
				case n.To == "" || n.Medium == "" || n.Kind == "":
					r.Fatalf("%s: %s has no contact, medium or kind", now, n.Key)
				case n.NotBefore.After(now) && (n.Urgent || n.NotBefore.Sub(now) > 25*time.Hour):
					r.Fatalf("%s: %s is wanted before its time, %s", now, n.Key, n.NotBefore)
				case !n.GoodUntil.IsZero() && (!n.GoodUntil.After(now) || !n.GoodUntil.After(n.NotBefore)):
					r.Fatalf("%s: %s is wanted after its end, %s", now, n.Key, n.GoodUntil)
				case w.shun[w.address(n)]:
					r.Fatalf("%s: %s goes to somebody who opted out", now, n.Key)
				}
				seen[n.Key] = true
			}
			if again := dueOf(w.input(now)); fmt.Sprint(keysOf(again)) != fmt.Sprint(keysOf(due)) {
				r.Fatalf("%s: looked at twice it wants %v, then %v", now, keysOf(due), keysOf(again))
			}
			w.sayDue(in)
		}
	})
}

func (w *world) address(n Notice) string {
	for _, c := range w.people {
		if c.Name == n.To {
			return c.Address(n.Medium)
		}
	}
	return ""
}

func keysOf(due []Notice) []string {
	var keys []string
	for _, n := range due {
		keys = append(keys, n.Key.String())
	}
	return keys
}

// TestJumpingSaysTheSameAsSteppingByTenMinutes: Plan leaves out no moment at
// which anything changes by itself.
func TestJumpingSaysTheSameAsSteppingByTenMinutes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := drawWorld(r, t, 4)
		jumped := w.copy()
		for now := jumped.from; now.Before(jumped.to); now = jumped.after(now) {
			jumped.write(now)
			jumped.sayAll(now)
		}
		for now := w.from; now.Before(w.to); now = now.Add(10 * time.Minute) {
			w.write(now)
			w.sayAll(now)
		}
		if !slices.Equal(jumped.lines, w.lines) {
			r.Fatalf("jumping says\n  %s\nstepping says\n  %s", strings.Join(jumped.lines, "\n  "), strings.Join(w.lines, "\n  "))
		}
	})
}

// sayAll says what is due until nothing more follows from it.
func (w *world) sayAll(now time.Time) {
	for n := -1; n != len(w.lines); {
		n = len(w.lines)
		w.sayDue(w.input(now))
	}
}

func (w *world) copy() *world {
	c, s := *w, *w.stage
	c.stage = &s
	s.book = diary.NewBook()
	return &c
}

// TestOnlyANewCauseSpeaksAgain: without a fact between, nobody is told the same
// of the same paddock twice by one medium on one day, but for the one repeat of
// an unanswered rung, and a hold while animals stand on it.
func TestOnlyANewCauseSpeaksAgain(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := drawWorld(r, t, 30)
		type told struct {
			to      string
			medium  Medium
			kind    Kind
			paddock string
		}
		last := map[told]time.Time{}
		texts := map[string]map[string]bool{} // contact and day -> texts
		fact := w.from
		for now := w.from; now.Before(w.to); now = w.after(now) {
			if w.write(now) > 0 {
				fact = now
			}
			in := w.input(now)
			for _, n := range dueOf(in) {
				if _, said := in.Said.at(n.Key); said || n.NotBefore.After(now) {
					continue
				}
				k := told{n.To, n.Medium, n.Kind, n.About().Paddock}
				if at, before := last[k]; before && !repeated(n) && fact.Before(at) && w.day(at) == w.day(now) && n.Kind != FrostWarning && !onFire(n.Kind) {
					r.Fatalf("%s: %s is told again, last at %s; no fact since %s", now, n.Key, at, fact)
				}
				last[k] = now
				if n.Medium == Text && !n.Kind.Reserved() && !hazard(n.Kind) {
					day := n.To + " " + w.day(now)
					if texts[day] == nil {
						texts[day] = map[string]bool{}
					}
					texts[day][fmt.Sprint(now, n.Kind)] = true
				}
			}
			w.sayDue(in)
		}
		for day, all := range texts {
			if len(all) > mostTexts {
				r.Fatalf("%s gets %d texts: %v", day, len(all), all)
			}
		}
	})
}

func (w *world) day(at time.Time) string { return at.In(w.zone).Format(time.DateOnly) }

// mostTexts is how many texts outside the cap's reserve and the hazards fall due
// to one contact on the worst day of a random farm that is told ten things.
const mostTexts = 6

func onFire(k Kind) bool { return k == HoldAnimals || k == HoldUnsure }

func hazard(k Kind) bool {
	return k == HoldOver || k == FrostSeen || k == FreezeSeen || k == KillingFreeze
}
