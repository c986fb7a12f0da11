package wording

import (
	"sort"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// status tells the whole farm or one paddock: what is late first.
func (v voice) status(fs []ladder.Facts) []part {
	f := fs[0]
	for _, other := range fs[1:] {
		f.Shuts = append(f.Shuts[:len(f.Shuts):len(f.Shuts)], other.Shuts...)
	}
	switch len(f.Shuts) {
	case 0:
		return append([]part{must(v.say("status.nothing"))}, v.health(f.Health)...)
	case 1:
		return append(v.statusOf(factsOf(f, f.Shuts[0])), v.health(f.Health)...)
	}
	shuts := append([]ladder.Shut(nil), f.Shuts...)
	sort.SliceStable(shuts, func(i, j int) bool { return urgency(shuts[i]) < urgency(shuts[j]) })
	each := make([][]part, len(shuts))
	for i, s := range shuts {
		each[i] = v.statusLine(factsOf(f, s), s)
	}
	parts := []part{{rankNames, v.lines(each, "lines-more")}}
	if h := v.health(f.Health); len(h) > 0 {
		h[0].forms = prefixed("\n", h[0].forms)
		parts = append(parts, h...)
	}
	return parts
}

func prefixed(with string, forms []string) []string {
	out := make([]string, len(forms))
	for i, f := range forms {
		if f != "" {
			out[i] = with + f
		}
	}
	return out
}

// urgency orders paddocks: late, held with animals in, to be done, the rest.
func urgency(s ladder.Shut) int {
	switch {
	case s.Late > 0:
		return 0
	case s.Hold != nil && s.Grazed:
		return 1
	case s.Verdict != nil && s.Verdict.Action == season.TakeOff:
		return 2
	case s.Grazed:
		return 3
	case s.Hold != nil:
		return 4
	}
	return 5
}

// factsOf is one paddock of a plan as facts of its own.
func factsOf(f ladder.Facts, s ladder.Shut) ladder.Facts {
	one := ladder.Facts{
		Farm: f.Farm, Paddock: s.Paddock, Name: s.Name, Say: firstOf(s.Say, s.Paddock), Day: f.Day,
		Cutoff: s.Cutoff, Frost: s.Frost, Days: s.Days, Leave: s.Leave, Target: s.Target,
		Grazed: s.Grazed, Unknown: s.Unknown, FallUse: s.FallUse, Cold: !s.Native,
		Height: s.Height, Verdict: s.Verdict, Expect: s.Expect, Hold: s.Hold, RestDay: max(s.RestDay, s.Late),
	}
	if f.Paddock == s.Paddock {
		one.Say = firstOf(f.Say, one.Say)
		one.RestDay, one.DaysToFrost = max(f.RestDay, one.RestDay), f.DaysToFrost
		one.MoveTo, one.Stale = f.MoveTo, f.Stale
	}
	return one
}

// statusOf is one paddock in full.
func (v voice) statusOf(f ladder.Facts) []part {
	if f.RestDay > 0 && f.Grazed && f.Hold == nil && (f.Verdict == nil || f.Verdict.Action == season.TakeOff) {
		return v.overdue([]ladder.Facts{f})
	}
	if f.Verdict != nil && f.Verdict.Say != "" {
		return v.verdict(f)
	}
	parts := []part{must(v.say("status.one", v.paddock(f), v.stands(f)))}
	if !f.Cutoff.IsZero() && f.Days > 0 {
		parts = append(parts, may(rankWhen, v.say("shuts-on", v.weekday(f.Cutoff))))
	}
	fs := []ladder.Facts{f}
	return append(append(parts, v.known(fs)), v.answer("answer", fs, v.heights(f, f.Leave+1)))
}

// stands says who is in.
func (v voice) stands(f ladder.Facts) string {
	switch {
	case f.Grazed:
		return v.say("stands.grazed")
	case f.Unknown:
		return v.say("stands.unknown")
	}
	return v.say("stands.empty")
}

// statusLine is one paddock of many.
func (v voice) statusLine(f ladder.Facts, s ladder.Shut) []part {
	name := v.paddock(f)
	height := part{}
	if f.Height != nil && f.Height.Mean > 0 {
		height = v.item(rankDetail, v.withUnit(v.against(f.Height.Mean, floorOf(s))))
	}
	switch {
	case s.Late > 0:
		return []part{must(v.say("line.late", name, s.Late))}
	case s.Hold != nil && s.Grazed:
		return []part{must(v.say("line.hold.off", name))}
	case s.Hold != nil:
		return []part{must(v.say("line.hold", name)), may(rankWhen, v.heldUntil(f))}
	case s.Verdict != nil && s.Verdict.Action == season.TakeOff:
		return []part{must(v.say("line.off", name)), height}
	case s.Phase == season.Dormant:
		return []part{must(v.say("line.dormant", name)), height}
	case s.Phase == season.Rest && s.FallUse:
		return []part{must(v.say("line.use", name)), height, v.item(rankWhen, v.say("line.keep", v.length(f.Target)))}
	case s.Phase == season.Rest:
		parts := []part{must(v.say("line.rest", name))}
		switch {
		case s.Wants == "brown": // the frost planned on has passed
			parts = append(parts, may(rankWhen, v.say("line.brown")))
		case !s.Frost.IsZero():
			parts = append(parts, may(rankWhen, v.say("line.to", v.date(s.Frost))))
		}
		return append(parts, height)
	}
	return v.openLine(f, s, height)
}

// item is one more thing of a line, behind a comma.
func (v voice) item(rank int, what string) part { return may(rank, v.say("line.item", what)) }

// floorOf is the height that a paddock's reading is told beside.
func floorOf(s ladder.Shut) float64 {
	if s.Verdict != nil && s.Verdict.Floor > 0 {
		return s.Verdict.Floor
	}
	return s.Leave
}

// openLine is a paddock that may be grazed by the calendar.
func (v voice) openLine(f ladder.Facts, s ladder.Shut, height part) []part {
	parts := []part{must(v.say("line.open", v.paddock(f), v.stands(f)))}
	if height.forms == nil && s.Wants == "read" {
		height = v.item(rankDetail, v.say("line.read"))
	}
	parts = append(parts, height)
	switch {
	case s.Grazed && s.Verdict != nil && !s.Verdict.OutBy.IsZero():
		parts = append(parts, v.item(rankWhen, v.say("line.out-by", v.date(s.Verdict.OutBy))))
	case !s.Cutoff.IsZero() && s.Days > 0:
		parts = append(parts, v.item(rankWhen, v.say("line.shuts", v.date(s.Cutoff))))
	}
	return parts
}

// health says what of the machine is not well; nothing where all is.
func (v voice) health(h *ladder.Health) []part {
	if h == nil || h.OK && len(h.Failing) == 0 {
		return nil
	}
	if names := v.people(h.Failing); len(names) > 0 {
		return []part{keep(rankNames, v.inEach("health.failing", v.shortening(v.services(names), ", "))...)}
	}
	return []part{may(rankWhen, v.say("health.check"))}
}

// services are carriers and sources as people call them.
func (v voice) services(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = n
		if key := "service." + n; has(key) {
			out[i] = v.say(key)
		}
	}
	return out
}
