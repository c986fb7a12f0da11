package scheduler

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// views is the farm as it stands with what was just written down.
func (h *hearing) views() []season.View {
	today := civil.DateOf(h.now.In(h.farm.Zone))
	if h.earlier() {
		return season.Look(h.sight(h.book, today))
	}
	return h.look(h.book, today).views
}

// said answers what was just written down: each reading with its verdict, and
// the rest confirmed in one part.
func (h *hearing) said(written []diary.Fact) []ladder.Part {
	views := h.views()
	var parts []ladder.Part
	var others []diary.Fact
	told := map[string]bool{}
	for _, f := range written {
		if f.Kind != diary.Reading {
			others = append(others, f)
			continue
		}
		if v := viewOf(views, f.Paddock); v != nil && !told[f.Paddock] {
			told[f.Paddock] = true
			parts = append(parts, ladder.Part{Kind: ladder.AnswerVerdict, Facts: h.verdictFacts(views, v, written)})
		}
	}
	if len(others) > 0 && !(len(others) == len(written) && onlyAcks(others)) {
		parts = append(parts, ladder.Part{Kind: ladder.AnswerRecorded, Facts: h.recorded(views, others)})
	}
	return parts
}

// onlyAcks reports whether nothing was said but ok: it needs no answer.
func onlyAcks(facts []diary.Fact) bool {
	return !slices.ContainsFunc(facts, func(f diary.Fact) bool { return f.Kind != diary.Ack })
}

func (h *hearing) verdictFacts(views []season.View, v *season.View, written []diary.Fact) *ladder.VerdictFacts {
	f := &ladder.VerdictFacts{
		PaddockFacts: ladder.Describe(v, v.Today), Judged: ladder.Judged{Verdict: &v.Verdict},
	}
	for _, w := range written {
		if w.Paddock == v.Paddock.ID {
			f.Recorded = append(f.Recorded, w)
		}
	}
	f.Names = namesIn(h.farm, f.Recorded)
	shuts := v.Dates.Cutoff
	if !v.Paddock.Native() {
		shuts = firstCutoff(views)
	}
	summer := h.farm.Tell.Summer && spring.Summer(v.Today, shuts)
	if h.farm.Tell.Summer {
		f.Move = spring.MoveFrom(v)
	}
	f.Turn, f.Early = h.turnIn(v)
	within := daysSpokenOf
	if summer = summer && f.Move != nil; summer {
		within = allSummer // the ground that they go to next, however long they could stay
	}
	if v.Verdict.Action == season.TakeOff || summer {
		c, _ := h.changes() // the transaction fails by itself
		f.Sends = c.sends(v.Paddock.ID, moveTo(views, h.keptNext(v, within), v.Paddock.ID, frozen(h.book, v.Today), summer))
	}
	return f
}

// turnIn is when a paddock may be begun this spring, or that it was too early.
func (h *hearing) turnIn(v *season.View) (*spring.TurnIn, *spring.Early) {
	if !h.farm.Tell.Spring || !spring.Begins(v) {
		return nil, nil
	}
	springs := h.sight(h.book, v.Today).Land().Springs(v.Paddock)
	return spring.Turn(v, springs), spring.TooEarly(v, springs)
}

// firstCutoff is the first of the ground that rests; zero where none does.
func firstCutoff(views []season.View) (first civil.Date) {
	for _, v := range views {
		if c := v.Dates.Cutoff; v.Paddock.Native() && !v.FallUse && !c.IsZero() && (first.IsZero() || c.Before(first)) {
			first = c
		}
	}
	return first
}

// frozen reports whether a frost came this fall.
func frozen(book *diary.Book, today civil.Date) bool {
	return slices.ContainsFunc(book.Every(diary.Frost), func(f *diary.Fact) bool { return !f.Day.Before(fallOf(today)) })
}

// fallOf is the first day of the fall that a day lies in or after.
func fallOf(day civil.Date) civil.Date {
	fall := civil.Date{Year: day.Year, Month: time.August, Day: 1}
	if day.Before(fall) {
		fall.Year--
	}
	return fall
}

// recorded confirms facts, with what follows for the paddock that animals went
// into, else for that of the first.
func (h *hearing) recorded(views []season.View, facts []diary.Fact) *ladder.RecordedFacts {
	f := &ladder.RecordedFacts{Answered: ladder.Answered{Recorded: facts, Names: namesIn(h.farm, facts)}}
	f.Day = h.day
	about := facts[0]
	for _, fact := range facts {
		if fact.Kind == diary.On {
			about = fact // what follows is about where the animals are now
		}
	}
	if v := viewOf(views, about.Paddock); v != nil {
		f.PaddockFacts = ladder.Describe(v, v.Today)
		if about.Kind == diary.On {
			_, f.Early = h.turnIn(v)
			if len(v.Shut) == 0 { // else they come off again
				f.Cautions = v.CautionsFor(v)
			}
		}
		f.BackIn = about.Kind == diary.On && v.Phase == season.Rest && !v.FallUse
		if f.BackIn {
			f.RestDay = -f.Days
		}
	}
	if about.Kind == diary.Grid {
		f.Grid = h.stand(about)
	}
	f.Counts = h.counts(facts)
	f.Fescue = about.Kind == diary.On && h.intoToxicFescue(about)
	f.DroughtOver = about.Kind == diary.Rain && slices.ContainsFunc(views, func(v season.View) bool {
		return about.Concerns(v.Paddock.ID) && v.RainCame == about.Day
	})
	if about.Kind == diary.Frost || about.Kind == diary.Brown {
		f.RestGoesOn = slices.ContainsFunc(views, func(v season.View) bool {
			return about.Concerns(v.Paddock.ID) && v.Phase == season.Rest && v.Paddock.Native() && !v.FallUse
		})
	}
	if about.Kind == diary.Frost && ladder.EndsAllRest(views, about) {
		f.FrostSeen = &ladder.Frost{Day: about.Day, ByWho: about.By, RestOver: true}
	}
	return f
}

// stand is what a frame count comes to, beside the one before it.
func (h *hearing) stand(now diary.Fact) *spring.Stand {
	var before *spring.Thrown
	for _, f := range h.book.Every(diary.Grid) {
		if f.Paddock == now.Paddock && f.Day.Before(now.Day) && (before == nil || f.Day.After(before.Day)) {
			before = &spring.Thrown{Day: f.Day, Cells: f.Heights}
		}
	}
	s := spring.Count(spring.Thrown{Day: now.Day, Cells: now.Heights}, before)
	return &s
}

// counts are the head that are left of herds of which some were sold, or bought to.
func (h *hearing) counts(facts []diary.Fact) (all []ladder.Count) {
	for _, now := range h.farm.HerdsOn(h.book, civil.DateOf(h.now.In(h.farm.Zone))) {
		if slices.ContainsFunc(facts, func(f diary.Fact) bool {
			return (f.Kind == diary.Sold || f.Kind == diary.Bought) && f.Herd == now.ID
		}) {
			all = append(all, ladder.Count{Herd: now.ID, Head: now.Head})
		}
	}
	return all
}

// intoToxicFescue reports whether a herd goes to toxic fescue in cold weather for
// the first time this fall: after its first freeze.
func (h *hearing) intoToxicFescue(on diary.Fact) bool {
	toxic := func(id string) bool {
		p, ok := h.farm.Farm.Paddock(id)
		return ok && p.Grass.Toxic()
	}
	fall := fallOf(on.Day)
	var cold civil.Date
	for _, f := range h.book.Every(diary.Frost) {
		if !f.Day.Before(fall) && cold.IsZero() && (f.TempC == nil || *f.TempC <= 0) {
			cold = f.Day
		}
	}
	return toxic(on.Paddock) && !cold.IsZero() && !on.Day.Before(cold) && !slices.ContainsFunc(h.book.Moves(), func(m *diary.Fact) bool {
		return m.Kind == diary.On && m.ID < on.ID && !m.Day.Before(cold) && toxic(m.Paddock)
	})
}

func viewOf(views []season.View, paddock string) *season.View {
	for i := range views {
		if views[i].Paddock.ID == paddock {
			return &views[i]
		}
	}
	return nil
}

// status is one paddock, or the whole farm, on two lines.
func (h *hearing) status(paddock string) *ladder.StatusFacts {
	views := h.views()
	health := h.wellbeing()
	f := &ladder.StatusFacts{Health: &health}
	f.Day = civil.DateOf(h.now.In(h.farm.Zone))
	for i := range views {
		if paddock == "" || views[i].Paddock.ID == paddock {
			f.Shuts = append(f.Shuts, ladder.Line(&views[i], views[i].Today))
		}
	}
	if v := viewOf(views, paddock); v != nil {
		d := ladder.Describe(v, v.Today)
		f.Head, f.DaysToFrost = d.Head, d.DaysToFrost
		if v.Verdict.Action == season.TakeOff {
			c, _ := h.changes() // the transaction fails by itself
			f.Shuts[0].Sends = c.sends(paddock, moveTo(views, h.keptNext(v, daysSpokenOf), paddock, frozen(h.book, v.Today), false))
		}
	}
	return f
}

// example is a paddock of this farm, so that what is shown can be texted.
func (h *hearing) example() ladder.Place {
	if len(h.farm.Paddocks) == 0 {
		return ladder.Place{}
	}
	return ladder.PlaceOf(&h.farm.Paddocks[0])
}

// AskBack is a question to somebody of a farm.
func AskBack(farm *config.Farm, q *diary.Question) *ladder.QuestionFacts {
	of := []diary.Fact{{Paddock: q.Paddock}}
	for _, c := range q.Choices {
		of = append(of, c.Facts...)
	}
	f := &ladder.QuestionFacts{Question: q, Answered: ladder.Answered{Names: namesIn(farm, of)}}
	if len(farm.Paddocks) > 0 { // so that what is shown can be texted
		f.Say = farm.Paddocks[0].Word()
	}
	return f
}

// namesIn are the paddocks that facts speak of, by id as people say them. An
// answer is kept for years: it holds no name that it does not use.
func namesIn(farm *config.Farm, facts []diary.Fact) map[string]string {
	all := map[string]string{}
	for _, f := range facts {
		if p, ok := farm.Paddock(f.Paddock); ok {
			all[p.ID] = p.Name
		}
	}
	return all
}
