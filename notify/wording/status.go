package wording

import (
	"slices"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

var statusSpeakers = map[ladder.Kind]speaker{
	ladder.AnswerStatus: saysLong(voice.status, inFull),
	ladder.MondayMail:   saysLong(voice.week, inFull),
}

// week is the Monday mail in short.
func (v voice) week(fs []*ladder.FarmFacts) []part {
	return v.status(each(fs, func(f *ladder.FarmFacts) *ladder.StatusFacts {
		return &ladder.StatusFacts{Head: f.Head, Listed: f.Listed, Health: f.Health}
	}))
}

// status tells the whole farm or one paddock: what is late first.
func (v voice) status(fs []*ladder.StatusFacts) []part {
	f := *fs[0]
	for _, other := range fs[1:] {
		f.Shuts = append(f.Shuts[:len(f.Shuts):len(f.Shuts)], other.Shuts...)
	}
	switch len(f.Shuts) {
	case 0:
		return append([]part{must(v.say("status.nothing"))}, v.health(f.Health)...)
	case 1:
		return append(v.statusOf(&f, f.Shuts[0]), v.health(f.Health)...)
	}
	lines := each(byUrgency(f.Shuts), func(s ladder.Shut) []part { return v.statusLine(s, f.Day) })
	parts := []part{{rankNames, v.lines(lines, "lines-more")}}
	for _, p := range v.health(f.Health) { // on a line of its own
		parts = append(parts, part{p.rank, each(p.forms, func(form string) string { return strings.TrimRight("\n"+form, "\n") })})
	}
	return parts
}

// byUrgency puts what is most pressing first.
func byUrgency(shuts []ladder.Shut) []ladder.Shut {
	return slices.SortedStableFunc(slices.Values(shuts), func(a, b ladder.Shut) int { return urgency(a) - urgency(b) })
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

// paddockOf is one paddock of a plan as facts of its own.
func paddockOf(h ladder.Head, s ladder.Shut) *ladder.PaddockFacts {
	h.Place = s.Place
	h.Say = firstOf(s.Say, s.Paddock)
	f := &ladder.PaddockFacts{Head: h, Standing: s.Standing, NoRest: !s.Native, Sends: s.Sends}
	if !s.Frost.IsZero() && !h.Day.IsZero() {
		f.DaysToFrost = s.Frost.DaysSince(h.Day)
	}
	return f
}

// statusOf is one paddock in full.
func (v voice) statusOf(f *ladder.StatusFacts, s ladder.Shut) []part {
	one := paddockOf(f.Head, s)
	var stale civil.Date
	if f.Paddock == s.Paddock {
		one.Say, one.DaysToFrost, stale = firstOf(f.Say, one.Say), f.DaysToFrost, f.Stale
	}
	switch late := max(s.RestDay, s.Late); {
	case late > 0 && s.Grazed && s.Hold == nil && (s.Verdict == nil || s.Verdict.Action == season.TakeOff):
		return v.overdueTo([]*ladder.OverdueFacts{{PaddockFacts: *one, RestDay: late}}, v.moveTo([]*ladder.PaddockFacts{one}, rankWhen))
	case s.Verdict != nil && s.Verdict.Say != "":
		return v.verdict(&ladder.VerdictFacts{PaddockFacts: *one, Judged: s.Judged, Answered: ladder.Answered{Stale: stale}})
	}
	return []part{
		must(v.say("status.one", "paddock", v.paddock(one.Place), "stands", v.stands(s))),
		when(!s.Cutoff.IsZero() && s.Days > 0, may(rankWhen, v.say("shuts-on", "day", v.weekday(s.Cutoff)))),
		v.known(one, s.Verdict),
		v.answer("answer", 1, v.heights(one.Place, s.Leave+1)),
	}
}

// stands says who is in.
func (v voice) stands(s ladder.Shut) string {
	switch {
	case s.Grazed:
		return v.say("stands.grazed")
	case s.Unknown:
		return v.say("stands.unknown")
	}
	return v.say("stands.empty")
}

// statusLine is one paddock of many.
func (v voice) statusLine(s ladder.Shut, today civil.Date) []part {
	name := v.paddock(s.Place)
	height := part{}
	if s.Height != nil && s.Height.Mean > 0 {
		height = v.item(rankDetail, v.readOn(s.Height, floorOf(s), today))
	}
	switch {
	case s.Late > 0:
		return []part{must(v.say("line.late", "paddock", name, "days", s.Late))}
	case s.Hold != nil && s.Grazed:
		return []part{must(v.say("line.hold.off", "paddock", name))}
	case s.Hold != nil:
		return []part{must(v.say("line.hold", "paddock", name)), may(rankWhen, v.heldUntil(s.Hold))}
	case s.Verdict != nil && s.Verdict.Action == season.TakeOff:
		return []part{must(v.say("line.off", "paddock", name)), height}
	case s.Phase == season.Dormant:
		return []part{must(v.say("line.dormant", "paddock", name)), height}
	case s.Phase == season.Rest && s.FallUse:
		return []part{must(v.say("line.use", "paddock", name)), height, v.item(rankWhen, v.say("line.keep", "height", v.length(s.Target)))}
	case s.Phase == season.Rest:
		passed := s.Wants == "brown" // the frost planned on
		return []part{must(v.say("line.rest", "paddock", name)),
			when(passed, may(rankWhen, v.say("line.brown"))),
			when(!passed && !s.Frost.IsZero(), may(rankWhen, v.say("line.to", "day", v.date(s.Frost)))), height}
	}
	return v.openLine(s, height)
}

// item is one more thing of a line, behind a comma.
func (v voice) item(rank int, what string) part { return may(rank, v.say("line.item", "item", what)) }

// floorOf is the height that a paddock's reading is told beside.
func floorOf(s ladder.Shut) float64 {
	if s.Verdict != nil && s.Verdict.Floor > 0 {
		return s.Verdict.Floor
	}
	return s.Leave
}

// openLine is a paddock that may be grazed by the calendar.
func (v voice) openLine(s ladder.Shut, height part) []part {
	parts := []part{must(v.say("line.open", "paddock", v.paddock(s.Place), "stands", v.stands(s)))}
	if height.forms == nil && s.Wants == "read" {
		height = v.item(rankDetail, v.say("line.read"))
	}
	parts = append(parts, height)
	switch {
	case s.Grazed && s.Verdict != nil && !s.Verdict.OutBy.IsZero():
		parts = append(parts, v.item(rankWhen, v.say("line.out-by", "day", v.date(s.Verdict.OutBy))))
	case !s.Cutoff.IsZero() && s.Days > 0:
		parts = append(parts, v.item(rankWhen, v.say("line.shuts", "day", v.date(s.Cutoff))))
	}
	return parts
}

// health says what of the machine is not well; nothing where all is.
func (v voice) health(h *ladder.Health) []part {
	if h == nil || h.OK && len(h.Failing) == 0 {
		return nil
	}
	if names := v.people(h.Failing); len(names) > 0 {
		return []part{keep(rankNames, v.inEach("health.failing", "list", v.shortening(v.services(names), ", "))...)}
	}
	return []part{may(rankWhen, v.say("health.check"))}
}

// services are carriers and sources as people call them.
func (v voice) services(names []string) []string {
	return each(names, func(n string) string {
		if key := "service." + n; has(key) {
			return v.say(key)
		}
		return n
	})
}
