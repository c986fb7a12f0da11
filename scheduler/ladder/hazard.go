package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
)

// warnAhead is how long before the end of a night its frost is warned of: the
// afternoon before, in time to move.
const warnAhead = 36 * time.Hour

// hazardAhead is how many days before the early side of 36 F cattle on ground that
// a frost will poison are spoken of: time to plan where they go (assumption).
const hazardAhead = 14

// beforeFrost tells the manager once a fall of cattle on ground that the first frost
// will poison. Ground in rest is not spoken of: they are to be off it already.
func (p *plan) beforeFrost(v *season.View) {
	cold := v.Dates.Cold
	if cold.IsZero() || len(v.AtRisk) == 0 || len(v.Shut) > 0 || v.Herds.Occupancy != season.Grazed {
		return
	}
	if v.Paddock.Native() && v.Phase == season.Rest && !v.FallUse {
		return
	}
	day := cold.AddDays(-hazardAhead)
	if in := v.Herds.Entered; in != nil && in.Day.After(day) {
		day = in.Day.AddDays(1) // they came in since
	}
	f := FrostFacts{PaddockFacts: p.facts(v), Frosted: Frosted{&Frost{Day: cold}}}
	f.Hold = risked(v)
	k := Key{Of: v.Paddock.ID, Day: cold.String(), Cause: Cause{Kind: "hazard"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(HazardAhead) {
		p.tell(c, HazardAhead, k, &f, p.mornings(c, day, cold))
	}
}

// risked is what a frost to come would make of the plants of ground with animals in.
func risked(v *season.View) *Hold {
	h := &Hold{Plants: v.AtRisk, Animals: v.Herds.Occupancy == season.Grazed}
	for _, name := range v.AtRisk {
		plant, _ := grass.LookupHazard(name)
		h.Bloat = h.Bloat || plant.Danger == grass.Bloat
	}
	return h
}

// warnings tell of a forecast of 36 F or below while animals stand, or may
// stand, on hazard plants, at once, quiet hours or not.
func (p *plan) warnings() {
	for _, night := range p.coldNights() {
		p.seen(night.At.Add(-warnAhead))
		if night.At.Before(p.Now) || night.At.After(p.Now.Add(warnAhead)) {
			continue
		}
		for i := range p.Views {
			v := &p.Views[i]
			if len(v.AtRisk) > 0 && v.Herds.Occupancy != season.Empty {
				p.warn(v, night)
			}
		}
	}
}

// coldNights are the nights ahead with frost by the newest forecast of each, the
// coldest where several are as new.
func (p *plan) coldNights() []diary.Observation {
	best := map[civil.Date]diary.Observation{}
	for _, o := range p.Nights {
		old, ok := best[o.Day]
		if !ok || o.Issued.After(old.Issued) || o.Issued.Equal(old.Issued) && o.MinC < old.MinC {
			best[o.Day] = o
		}
	}
	var cold []diary.Observation
	for _, o := range best {
		if frost.Frost36F.Reached(frost.FromC(o.MinC)) {
			cold = append(cold, o)
		}
	}
	slices.SortFunc(cold, func(a, b diary.Observation) int { return a.At.Compare(b.At) })
	return cold
}

func (p *plan) warn(v *season.View, night diary.Observation) {
	minC := night.MinC
	grazed := v.Herds.Occupancy == season.Grazed
	f := FrostFacts{PaddockFacts: p.facts(v), Missing: p.missing(p.cutoffRoles()...)}
	f.FrostSeen = &Frost{Day: night.Day, MinC: &minC, Place: night.Place}
	f.Hold = risked(v)
	f.Sends = p.MoveTo(v.Paddock.ID, true)
	k := Key{Of: v.Paddock.ID, Day: night.Day.String(), Cause: Cause{Kind: "forecast"}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(FrostWarning) {
		p.tell(c, FrostWarning, k, &f, span{from: night.Issued, until: night.At, urgent: grazed})
	}
}
