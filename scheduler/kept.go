package scheduler

import (
	"encoding/json"
	"fmt"
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// Kept are the stops of a plan as the store keeps them; none of what cannot be read.
func Kept(plan string) (stops []herd.Stop) {
	if json.Unmarshal([]byte(plan), &stops) != nil {
		return nil
	}
	return stops
}

// keep keeps the plan that was made in this pass, where one was and it is another.
func (s *Scheduler) keep(tx *store.Tx) error {
	if s.lookout.sums.made == nil {
		return nil
	}
	made, err := json.Marshal(s.lookout.sums.made.Feed.Stops())
	if err != nil {
		return fmt.Errorf("write the plan down: %w", err)
	}
	was, err := tx.KeptPlan()
	if err != nil || was == string(made) {
		return err
	}
	return tx.KeepPlan(string(made))
}

// keptNext are those of the kept plan: an answer makes none.
func keptNext(tx *store.Tx, v *season.View) []string {
	plan, err := tx.KeptPlan()
	if err != nil {
		return nil // the transaction fails by itself
	}
	return nextIn(Kept(plan), v)
}

// nextIn are the paddocks to which stops send who stands in one, in order, within the
// days that a text may speak of.
func nextIn(stops []herd.Stop, v *season.View) (paddocks []string) {
	soon := v.Today.AddDays(daysSpokenOf)
	for _, s := range stops {
		if s.Ground != v.Paddock.ID && s.Out.After(v.Today) && !s.In.After(soon) && slices.ContainsFunc(s.Herds, func(h string) bool { return slices.Contains(v.Herds.Herds, h) }) {
			paddocks = append(paddocks, s.Ground)
		}
	}
	return paddocks
}

// daysSpokenOf is how far ahead of a move its next ground is named.
const daysSpokenOf = 14

// inPlan reports whether a plan has begun.
func inPlan(plan season.FeedPlan, today civil.Date) bool {
	return !today.Before(plan.From) && !today.After(plan.To)
}
