package wording

import (
	"slices"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// mondayLetter is the week: what is late, what there is to do, what could not be
// said, and how the machine is. In winter, with nothing to do, it is only a few
// lines, and to the owner always.
func (v voice) mondayLetter(f *ladder.FarmFacts) letter {
	shuts := byUrgency(f.Shuts)
	late, todo, rest := v.needs(f, shuts)
	quiet := dormant(shuts)
	title := v.say("monday.title", "late", len(late), "n", len(todo))
	switch {
	case f.Owner:
		title = v.say("monday.title.owner")
	case len(late)+len(todo) == 0:
		title = v.say("monday.title.quiet")
	case len(late) == 0:
		title = v.say("monday.title.none-late", "n", len(todo))
	case len(todo) == 0:
		title = v.say("monday.title.all-late", "late", len(late))
	}
	if !f.Day.IsZero() {
		title = v.say("monday.week-of", "day", v.brief().date(f.Day), "title", title)
	}
	l := letter{Subject: v.subject(f, title), Title: title}
	if quiet && len(shuts) > 0 {
		l.add(section{Lines: []string{v.say("monday.dormant")}})
	}
	var feed []string
	if f.Feed != nil && max(f.Feed.ShortDays, f.Feed.ShortHigh) > 0 && !quiet {
		feed = []string{full(v.feed(f.Feed))}
	}
	var winter section
	if f.Winter != nil && f.Winter.Winter != nil {
		winter = section{Head: v.say("monday.winter"), Lines: []string{full(v.ledger(f.Winter))}}
	}
	if f.Owner {
		l = v.ownerLetter(l, f.Shuts, feed)
		l.add(winter)
		machine := v.machine(f.Health)
		l.add(section{Lines: machine[:min(1, len(machine))]})
		return l
	}
	l.add(section{Head: v.say("monday.late"), Lines: late})
	l.add(section{Head: v.say("monday.week"), Lines: append(todo, rest...)})
	l.add(section{Head: v.say("monday.turn-in"), Lines: v.turning(shuts)})
	l.add(section{Head: v.say("monday.steer"), Lines: v.steering(shuts, f.Day)})
	l.add(section{Head: v.say("monday.feed"), Lines: feed})
	l.add(winter)
	if !quiet {
		l.add(section{Head: v.say("monday.pass"), Lines: slices.Concat(v.passLines(f.Pass), v.changes(f.Changed))})
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

// dormant reports whether the farm's native ground is, and nothing is late.
func dormant(shuts []ladder.Shut) bool {
	native := func(s ladder.Shut) bool { return s.Native }
	return slices.ContainsFunc(shuts, native) &&
		every(shuts, func(s ladder.Shut) bool { return s.Late == 0 && (!s.Native || s.Phase == season.Dormant) })
}

// ownerLetter is what an owner decides or answers for: what is late, what is held,
// what shuts next, feed.
func (v voice) ownerLetter(l letter, shuts []ladder.Shut, feed []string) letter {
	var next, held, late []string
	for _, s := range shuts {
		switch named := v.say("named-day", "name", v.paddock(s.Place), "with", v.brief().date(s.Cutoff)); {
		case s.Hold != nil:
			held = append(held, v.paddock(s.Place))
		case s.Late > 0:
			late = append(late, v.say("tagged", "paddock", v.paddock(s.Place), "tag", v.say("late", "n", s.Late)))
		case s.Native && s.Days > 0 && !s.FallUse:
			next = append(next, named)
		}
	}
	line := func(names []string, text string) {
		if len(names) > 0 {
			l.add(section{Lines: []string{text}})
		}
	}
	line(late, v.say("monday.owner.late", "list", strings.Join(late, ", ")))
	line(held, v.say("monday.owner.held", "list", strings.Join(held, ", ")))
	line(next, v.say("fall-ahead.shuts", "list", strings.Join(next, ", ")))
	l.add(section{Lines: feed})
	return l
}

// needs are a line for each thing that a week needs, the same of several paddocks at
// once: what is late, what there is to do, and what is only to stay shut.
func (v voice) needs(f *ladder.FarmFacts, shuts []ladder.Shut) (late, todo, rest []string) {
	var quiet []ladder.Shut
	for _, s := range shuts {
		switch line := v.need(paddockOf(f.Head, s), s); {
		case line != "" && s.Late > 0:
			late = append(late, line)
		case line != "":
			todo = append(todo, line)
		default:
			quiet = append(quiet, s)
		}
	}
	for _, same := range groups(quiet, wishOf) {
		in := each(same, func(s ladder.Shut) *ladder.PaddockFacts { return paddockOf(f.Head, s) })
		switch same[0].Wants {
		case "read":
			todo = append(todo, full(v.askHeight(each(in, func(f *ladder.PaddockFacts) *ladder.HeightFacts { return &ladder.HeightFacts{PaddockFacts: *f} }))))
		case "keep-shut":
			rest = append(rest, full(v.keepShut(rungs(in))))
		case "brown":
			todo = append(todo, full([]part{v.sentence(v.about(in, nil), "monday.brown"), v.answer("answer", len(in), v.command("brown", in[0].Place))}))
		}
	}
	return late, todo, rest
}

// A wish is what paddocks need; what stays shut does so until one frost.
type wish struct {
	wants string
	until civil.Date
}

func wishOf(s ladder.Shut) wish {
	if s.Wants == "keep-shut" {
		return wish{s.Wants, s.Frost}
	}
	return wish{wants: s.Wants}
}

func rungs(in []*ladder.PaddockFacts) []*ladder.RungFacts {
	return each(in, func(f *ladder.PaddockFacts) *ladder.RungFacts { return &ladder.RungFacts{PaddockFacts: *f} })
}

// need is what one paddock alone needs this week; empty where nothing, or where it is
// said of several at once.
func (v voice) need(f *ladder.PaddockFacts, s ladder.Shut) string {
	in := []*ladder.PaddockFacts{f}
	switch {
	case s.Unknown && s.Hold == nil && s.Phase == season.Rest && s.RestDay == 0 && s.Wants == "off":
		return full(v.shutToday(rungs(in)))
	case s.Hold != nil && s.Grazed: // late or not, and as loud as the texts of the same morning
		return full(v.holdAnimals(in))
	case s.Late > 0 && s.Verdict != nil && s.Verdict.Action == season.TakeOff && s.Verdict.Reason != season.InRest: // what poisons
		return full(v.verdict(&ladder.VerdictFacts{PaddockFacts: *f, Judged: s.Judged}))
	case s.Late > 0, s.Unknown && s.Hold == nil && s.RestDay > 0 && s.Wants == "off":
		return full(v.overdue([]*ladder.OverdueFacts{{PaddockFacts: *f, RestDay: max(s.RestDay, s.Late)}}))
	case s.Hold != nil:
		return full(v.holdBegins(in))
	case s.TooEarly != nil:
		return full(v.tooEarly([]*ladder.SpringFacts{{PaddockFacts: *f, Early: s.TooEarly}}))
	case s.Verdict != nil && s.Verdict.Action == season.TakeOff:
		return full(v.verdict(&ladder.VerdictFacts{PaddockFacts: *f, Judged: s.Judged}))
	case s.Wants == "off":
		return full(v.movePlan(rungs(in)))
	case s.Wants != "read" && s.Phase == season.Open && !s.Cutoff.IsZero() && s.Days > 0 && s.Days <= 7:
		return full(v.headsUp(rungs(in)))
	}
	return ""
}

// state is a paddock's phase and who stands there.
func (v voice) state(s ladder.Shut) string {
	switch {
	case s.Hold != nil:
		return v.say("state.hold", "stands", v.stands(s))
	case s.Late > 0:
		return v.say("state.late", "days", s.Late)
	case s.Phase == season.Rest && !s.Native:
		return v.say("state.back", "stands", v.stands(s))
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
