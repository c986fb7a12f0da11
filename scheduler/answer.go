package scheduler

import (
	"slices"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// views is the farm as it stands with what was just written down.
func (h *hearing) views() []season.View {
	return season.Look(h.sight(h.book, civil.DateOf(h.tx.Now().In(h.farm.Zone))))
}

// said answers what was just written down: each reading with its verdict, and
// the rest confirmed in one part.
func (h *hearing) said(written []diary.Fact) []ladder.Also {
	views := h.views()
	var parts []ladder.Also
	var others []diary.Fact
	told := map[string]bool{}
	for _, f := range written {
		if f.Kind != diary.Reading {
			others = append(others, f)
			continue
		}
		if v := viewOf(views, f.Paddock); v != nil && !told[f.Paddock] {
			told[f.Paddock] = true
			parts = append(parts, ladder.Also{Kind: ladder.AnswerVerdict, Facts: verdictFacts(v, written, h.names())})
		}
	}
	if len(others) > 0 && !(len(others) == len(written) && onlyAcks(others)) {
		parts = append(parts, ladder.Also{Kind: ladder.AnswerRecorded, Facts: h.recorded(views, others)})
	}
	return parts
}

// onlyAcks reports whether nothing was said but ok: it needs no answer.
func onlyAcks(facts []diary.Fact) bool {
	return !slices.ContainsFunc(facts, func(f diary.Fact) bool { return f.Kind != diary.Ack })
}

func verdictFacts(v *season.View, written []diary.Fact, names map[string]string) ladder.Facts {
	f := ladder.Describe(v, v.Today)
	f.Verdict = ladder.DescribeVerdict(v)
	f.Names = names
	for _, w := range written {
		if w.Paddock == v.Paddock.ID {
			f.Recorded = append(f.Recorded, w)
		}
	}
	return f
}

// recorded confirms facts, with what follows for the paddock that animals went
// into, else for that of the first.
func (h *hearing) recorded(views []season.View, facts []diary.Fact) ladder.Facts {
	f := ladder.Facts{Day: h.day}
	about := facts[0]
	for _, fact := range facts {
		if fact.Kind == diary.On {
			about = fact // what follows is about where the animals are now
		}
	}
	if v := viewOf(views, about.Paddock); v != nil {
		f = ladder.Describe(v, v.Today)
		f.BackIn = about.Kind == diary.On && v.Phase == season.Rest && !v.FallUse
		if f.BackIn {
			f.RestDay = -f.Days
		}
	}
	if about.Kind == diary.Frost && ladder.EndsAllRest(views, about) {
		f.Cold36 = &ladder.Cold{Day: about.Day, ByWho: about.By, RestOver: true}
	}
	f.Recorded, f.Names = facts, h.names()
	return f
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
func (h *hearing) status(paddock string) ladder.Facts {
	views := h.views()
	health := h.wellbeing()
	f := ladder.Facts{Health: &health, Day: civil.DateOf(h.tx.Now().In(h.farm.Zone))}
	for i := range views {
		if paddock == "" || views[i].Paddock.ID == paddock {
			f.Shuts = append(f.Shuts, ladder.Line(&views[i], views[i].Today))
		}
	}
	if paddock != "" && len(f.Shuts) == 1 {
		one := viewOf(views, paddock)
		d := ladder.Describe(one, one.Today)
		d.Health, d.Shuts, d.Verdict = f.Health, f.Shuts, ladder.DescribeVerdict(one)
		return d
	}
	return f
}

// help names a paddock of this farm, so that the example can be texted.
func (h *hearing) help() ladder.Facts {
	if len(h.farm.Paddocks) == 0 {
		return ladder.Facts{}
	}
	p := h.farm.Paddocks[0]
	return ladder.Facts{Paddock: p.ID, Name: p.Name, Say: p.Say()}
}

// names are paddock ids as people say them.
func (h *hearing) names() map[string]string { return Names(h.farm) }

// Names are a farm's paddocks by id as people say them.
func Names(farm *config.Farm) map[string]string {
	names := make(map[string]string, len(farm.Paddocks))
	for _, p := range farm.Paddocks {
		names[p.ID] = p.Name
	}
	return names
}
