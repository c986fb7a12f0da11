package scheduler

import (
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// Board is the carrier of what is typed on the board, where its answer is read too.
// Whoever stands before it may say what anybody may, in any contact's name.
const Board = "board"

// NotOnBoard reports whether a fact needs the contact's own phone: it ends or begins
// their messages, or lifts a hold.
func NotOnBoard(f diary.Fact) bool {
	return f.Kind == diary.Stop || f.Kind == diary.Start || f.Kind == diary.Clear
}

// Week is what the Monday mail says of a farm as it is looked at; and the plan of
// where its herds eat, from a little before it begins.
func Week(sight season.Sight, views []season.View) (*ladder.FarmFacts, *season.FeedPlan) {
	f := &ladder.FarmFacts{Head: ladder.Head{Farm: sight.Farm.Name, Day: sight.Today}}
	for i := range views {
		f.Shuts = append(f.Shuts, ladder.Line(&views[i], sight.Today))
	}
	plan, ok := season.Feed(sight)
	ok = ok && !sight.Today.Before(plan.From.AddDays(-planShown))
	solved := func() (season.FeedPlan, bool) { return plan, ok }
	f.Feed, f.Pass = feedOf(sight, solved), lastPass(sight.Land(), solved)
	if !ok {
		return f, nil
	}
	return f, &plan
}

// planShown is how many days before a plan begins it is shown.
const planShown = 15
