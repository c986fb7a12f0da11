package wording

import (
	"slices"
	"sort"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// mondayLetter is the week: what is late, what each paddock needs, what could
// not be said, and how the machine is. In winter, with nothing to do, it is
// only a few lines.
func (v voice) mondayLetter(f *ladder.FarmFacts) letter {
	shuts := append([]ladder.Shut(nil), f.Shuts...)
	sort.SliceStable(shuts, func(i, j int) bool { return urgency(shuts[i]) < urgency(shuts[j]) })
	var late, todo []string
	quiet := true
	for _, s := range shuts {
		quiet = quiet && s.Phase == season.Dormant && s.Late == 0
		switch line := v.need(paddockOf(f.Head, s), s); {
		case s.Late > 0:
			late = append(late, line)
		case line != "":
			todo = append(todo, line)
		}
	}
	title := v.say("monday.title", "late", len(late), "n", len(late)+len(todo))
	if len(late) == 0 {
		title = v.say("monday.title.none-late", "n", len(todo))
	}
	if len(late)+len(todo) == 0 {
		title = v.say("monday.title.quiet")
	}
	if !f.Day.IsZero() {
		title = v.say("monday.week-of", "day", v.brief().date(f.Day), "title", title)
	}
	l := letter{Subject: v.subject(f, title), Title: title}
	if quiet && len(shuts) > 0 {
		l.add(section{Lines: []string{v.say("monday.dormant")}})
	}
	l.add(section{Head: v.say("monday.late"), Lines: late})
	l.add(section{Head: v.say("monday.week"), Lines: todo})
	if f.Feed != nil && max(f.Feed.ShortDays, f.Feed.ShortHigh) > 0 && !quiet {
		l.add(section{Head: v.say("monday.feed"), Lines: []string{full(v.feed(f.Feed))}})
	}
	if !quiet {
		l.add(section{Head: v.say("monday.pass"), Lines: v.passLines(f.Pass)})
	}
	if slices.Contains(v.o.Pictures, Season) {
		l.Sections = append(l.Sections, section{CID: Season, Alt: v.say("picture.season")})
	}
	if !quiet && len(shuts) > 0 {
		l.Sections = append(l.Sections, section{Head: v.say("monday.all"), Table: v.paddockTable(shuts)})
	}
	l.add(section{Head: v.say("monday.not-said"), Lines: v.notSaid(f.Health)})
	l.add(section{Head: v.say("monday.machine"), Lines: v.machine(f.Health)})
	return l
}

// add leaves out a section that says nothing.
func (l *letter) add(s section) {
	if len(s.Lines)+len(s.Answer)+len(s.Rows) > 0 {
		l.Sections = append(l.Sections, s)
	}
}

// need is what one paddock needs this week; empty where nothing.
func (v voice) need(f *ladder.PaddockFacts, s ladder.Shut) string {
	switch {
	case s.Late > 0:
		return full(v.overdue([]*ladder.OverdueFacts{{PaddockFacts: *f, RestDay: max(s.RestDay, s.Late)}}))
	case s.Hold != nil:
		return full(v.holdBegins([]*ladder.PaddockFacts{f}))
	case s.Verdict != nil && s.Verdict.Action == season.TakeOff:
		return full(v.verdict(&ladder.VerdictFacts{PaddockFacts: *f, Judged: s.Judged}))
	}
	rung := []*ladder.RungFacts{{PaddockFacts: *f}}
	switch s.Wants {
	case "read":
		return full(v.askHeight([]*ladder.HeightFacts{{PaddockFacts: *f}}))
	case "off":
		return full(v.movePlan(rung))
	case "keep-shut":
		return full(v.keepShut(rung))
	case "brown":
		return full([]part{must(v.say("monday.brown", "paddock", v.paddock(f.Place))), v.answer("answer", 1, v.command("brown", f.Place))})
	}
	if s.Phase == season.Open && !s.Cutoff.IsZero() && s.Days > 0 && s.Days <= 7 {
		return full(v.headsUp(rung))
	}
	return ""
}

// paddockTable has a row for every paddock.
func (v voice) paddockTable(shuts []ladder.Shut) *table {
	t := &table{Heads: []string{v.say("col.paddock"), v.say("col.state"), v.say("col.height"), v.say("col.shuts")}}
	for _, s := range shuts {
		height := v.say("none")
		if s.Height != nil && s.Height.Mean > 0 {
			height = v.say("entry.dated", "entry", v.withUnit(v.against(s.Height.Mean, floorOf(s))), "day", v.brief().date(s.Height.Day))
		}
		t.Rows = append(t.Rows, []string{v.paddock(s.Place), v.state(s), height, v.cell(!s.Cutoff.IsZero(), v.brief().date(s.Cutoff))})
	}
	return t
}

// state is a paddock's phase and who stands there.
func (v voice) state(s ladder.Shut) string {
	switch {
	case s.Hold != nil:
		return v.say("state.hold", "stands", v.stands(s))
	case s.Late > 0:
		return v.say("state.late", "days", s.Late)
	case s.FallUse && s.Phase == season.Rest:
		return v.say("state.use", "stands", v.stands(s))
	case s.Phase == season.Rest:
		return v.say("state.rest", "stands", v.stands(s))
	case s.Phase == season.Dormant:
		return v.say("state.dormant", "stands", v.stands(s))
	}
	return v.stands(s)
}

// notSaid lists what never went out, and why.
func (v voice) notSaid(h *ladder.Health) []string {
	if h == nil {
		return nil
	}
	var out []string
	for _, n := range h.NotSaid {
		about := v.kindName(n.Kind)
		if n.Paddock != "" {
			about = v.say("not-said.about", "what", about, "paddock", n.Paddock)
		}
		line := v.say("not-said", "day", v.date(n.Day), "who", n.To, "what", about)
		if n.Why != "" {
			line = v.say("not-said.why", "line", line, "why", n.Why)
		}
		out = append(out, line)
	}
	return out
}

// kindName is what a notice is called in a list.
func (v voice) kindName(kind ladder.Kind) string {
	if key := "kind." + string(kind); has(key) {
		return v.say(key)
	}
	return v.say("kind.other")
}

// machine says how carriers, sources and backup are.
func (v voice) machine(h *ladder.Health) []string {
	if h == nil {
		return nil
	}
	var out []string
	switch {
	case len(h.Failing) > 0:
		out = append(out, full(v.health(h)), v.say("health.check"))
	case h.OK:
		out = append(out, v.say("machine.well"))
	default:
		out = append(out, v.say("health.check"))
	}
	if h.Unsent > len(h.NotSaid) {
		out = append(out, v.say("machine.unsent", "n", h.Unsent))
	}
	if !h.LastBackup.IsZero() {
		out = append(out, v.say("machine.backup", "day", v.weekday(h.LastBackup)))
	}
	return out
}
