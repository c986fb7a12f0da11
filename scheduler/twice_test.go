package scheduler

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// TestReconcilingTwiceChangesNothing: whatever is texted, a second pass at the
// same moment finds the queue as it should be, and a pass a minute later says
// nothing twice.
func TestReconcilingTwiceChangesNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		k := newTalk(t, talkFarm)
		from := k.when("2026-08-20 00:00").AddDate(0, 0, rapid.IntRange(0, 70).Draw(r, "day"))
		said := map[string]bool{}
		for range rapid.IntRange(1, 12).Draw(r, "texts") {
			from = from.Add(time.Duration(rapid.IntRange(1, 40).Draw(r, "hours")) * time.Hour)
			at := from.Format("2006-01-02 15:04")
			lines := k.text(at, rapid.SampledFrom([]string{"Ana", "Luis", "Ruth"}).Draw(r, "who"), rapid.SampledFrom([]string{
				"off creek", "on creek cows", "on hill cows", "creek 9 8 10", "hill 7", "later", "ok", "frost", "brown", "undo",
				"undo frost", "clear lane", "on lane cows", "status", "stop", "start", "9", "a",
			}).Draw(r, "text"))
			for _, l := range lines {
				if said[l.Key.String()] {
					r.Fatalf("%s is said twice", l.Key)
				}
				said[l.Key.String()] = true
			}
			k.twice(r, from)
		}
	})
}

func (k *talk) twice(r *rapid.T, now time.Time) {
	for _, at := range []time.Time{now, now.Add(time.Minute)} {
		err := k.store.Update(k.t.Context(), at, func(tx *store.Tx) error {
			in, err := k.sched.input(tx)
			if err != nil {
				return err
			}
			wanted, _ := new(ladder.Memo).Plan(in, nil)
			if _, err := tx.Reconcile(wanted); err != nil {
				return err
			}
			again, err := tx.Reconcile(wanted)
			if again.Any() {
				r.Errorf("%s: reconciled again it changes %+v", at, again)
			}
			return err
		})
		if err != nil {
			r.Fatal(err)
		}
	}
	keys := func(at time.Time) (keys []string) {
		_ = k.store.Update(k.t.Context(), at, func(tx *store.Tx) error {
			in, err := k.sched.input(tx)
			again, _ := new(ladder.Memo).Plan(in, nil)
			for _, n := range again {
				keys = append(keys, n.Key.String()+n.NotBefore.String())
			}
			return err
		})
		return keys
	}
	if a, b := keys(now), keys(now.Add(time.Second)); !slices.Equal(a, b) {
		r.Fatalf("a second later it wants\n%v\nnot\n%v", b, a)
	}
}
