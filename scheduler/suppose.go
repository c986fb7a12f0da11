package scheduler

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/suppose"
)

// supposed answers what a text supposes, or how low ground may be grazed: from the farm
// as it stands, and nothing of it is kept.
func (h *hearing) supposed(f diary.Fact) ([]ladder.Part, error) {
	plan, err := h.kept(h.tx)
	if err != nil {
		return nil, err
	}
	farm := suppose.Farm{Sight: h.sight(h.book, civil.DateOf(h.now.In(h.farm.Zone))), Views: h.views()}
	farm.Kept, farm.Changed = plan.Stops, plan.Changed
	farm.Plan = func() (season.FeedPlan, bool) { return season.FeedAsTaken(farm.Sight) }
	facts, ask := Supposed(farm, f)
	if ask != nil {
		return []ladder.Part{h.questionBack(ask)}, nil
	}
	return []ladder.Part{{Kind: ladder.AnswerAsked, Facts: facts}}, nil
}

// Supposed are the facts that answer a request of a farm, or the question that it
// leaves open.
func Supposed(farm suppose.Farm, f diary.Fact) (*ladder.AskedFacts, *diary.Question) {
	a := &ladder.AskedFacts{Head: ladder.Head{Day: farm.Today}}
	var ask *diary.Question
	if f.Kind == diary.HowLow {
		a.Supposed = farm.HowLow(f.Paddock)
	} else if a.Supposed, ask = farm.If(f); ask != nil {
		return nil, ask
	}
	for i := range a.Supposed.Grounds {
		if g := &a.Supposed.Grounds[i]; g.Closed { // who must come off hears where to
			v := viewOf(farm.Views, g.Paddock)
			to := moveTo(farm.Views, nextIn(farm.Kept, v, daysSpokenOf), g.Paddock, frozen(farm.Book, farm.Today), false)
			g.Sends = warned(farm.Views, g.Paddock, ladder.Sends{MoveTo: to})
		}
	}
	return a, nil
}
