package wording

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/spring"
)

// steering says of each paddock whether it will have at its cutoff what it must leave.
func (v voice) steering(shuts []ladder.Shut, today civil.Date) (lines []string) {
	var unread []string
	for _, s := range shuts {
		switch {
		case s.Steer == nil:
		case s.Steer.Fresh:
			lines = append(lines, v.steer(s, today))
		default:
			unread = append(unread, v.paddock(s.Place))
		}
	}
	if len(unread) > 0 {
		lines = append(lines, v.say("steer.unread", "paddock", strings.Join(unread, ", ")))
	}
	return lines
}

func (v voice) steer(l ladder.Shut, today civil.Date) string {
	s := l.Steer
	height := v.say("steer.now", "height", v.withUnit(v.against(s.Height, s.Leave)))
	if s.Read != today {
		height = v.say("height.on", "height", v.withUnit(v.against(s.Height, s.Leave)), "day", v.date(s.Read))
	}
	key := "steer.passes"
	switch off := ""; {
	case s.Short(), s.Height < s.Leave:
		if s.Grazed {
			off = ".off"
		}
		if key = "steer.rest" + off; s.Short() {
			key = "steer.short" + off
		}
	case !s.Counted:
		key = "steer.enough"
	case s.Passes == 0:
		key = "steer.last"
	}
	return v.say(key, "paddock", v.paddock(l.Place), "height", height, "days", s.Days, "n", s.Passes, "leave", v.bare(s.Leave), "at", v.whole(s.AtCutoff))
}

var springSpeakers = map[ladder.Kind]speaker{
	ladder.GreenUp:   says(voice.greenUp),
	ladder.TooEarly:  says(voice.tooEarly),
	ladder.Scorecard: says(voice.scores),
}

// greenUp asks how tall ground is that may soon be begun.
func (v voice) greenUp(fs []*ladder.SpringFacts) []part {
	f := fs[0]
	key := "green-up"
	switch {
	case every(fs, func(f *ladder.SpringFacts) bool { return turnIn(f).Rested }):
		key = "green-up.rested"
	case every(fs, func(f *ladder.SpringFacts) bool { return turnIn(f).Failed }):
		key = "green-up.failed"
	}
	a := v.aboutEach(places(fs), each(fs, func(f *ladder.SpringFacts) string { return v.length(turnIn(f).Begin) }))
	first := v.sentence(about{forms: v.names(places(fs)), many: a.many}, key)
	begin := may(rankDetail, v.say("green-up.begin", "height", a.tag))
	switch {
	case a.tag == "":
		begin = may(rankDetail, v.say("green-up.each", "list", a.forms[0]))
	case len(fs) == 1:
		begin = may(rankDetail, v.say("green-up.begin.about", "height", a.tag, "day", v.date(turnIn(f).About)), v.say("green-up.begin", "height", a.tag))
	}
	return []part{first, begin, v.answer("answer", len(fs), v.heights(f.Place, turnIn(f).Begin-1))}
}

func turnIn(f *ladder.SpringFacts) *spring.TurnIn {
	return cmp.Or(f.Turn, &spring.TurnIn{Begin: f.Leave})
}

// tooEarly says that ground was begun before its grass was ready.
func (v voice) tooEarly(fs []*ladder.SpringFacts) []part {
	items := each(fs, func(f *ladder.SpringFacts) string {
		return v.begunEarly(f.Place, cmp.Or(f.Early, &spring.Early{Begin: f.Leave, Since: f.Day}))
	})
	if len(fs) == 1 {
		return []part{must(v.say("too-early", "what", items[0])), may(rankWhen, v.say("too-early.do")), v.moveTo(paddocks(fs), rankDetail),
			v.answer("answer.off", 1, v.command(diary.Off, fs[0].Place))}
	}
	return []part{keep(rankNames, v.inEach("too-early", "what", v.shortening(items, "; "))...), may(rankWhen, v.say("too-early.do.many")),
		v.answer("answer.off", len(fs), v.command(diary.Off, fs[0].Place))}
}

// begunEarly is a paddock with the height at which it was begun, and the one to wait for.
func (v voice) begunEarly(at ladder.Place, e *spring.Early) string {
	if e.Height == 0 {
		return v.say("too-early.unread", "paddock", v.paddock(at), "day", v.date(e.Since), "leave", v.bare(e.Begin), "about", v.date(e.About))
	}
	return v.say("too-early.read", "paddock", v.paddock(at), "height", v.withUnit(v.against(e.Height, e.Begin)), "day", v.date(e.Read), "leave", v.bare(e.Begin))
}

// turning says of each paddock when it may be begun, what failed its rest last.
func (v voice) turning(shuts []ladder.Shut) []string {
	of := only(shuts, func(s ladder.Shut) bool { return s.Turn != nil })
	sort.SliceStable(of, func(i, j int) bool {
		a, b := of[i].Turn, of[j].Turn
		return a.Failed == b.Failed && a.About.Before(b.About) || !a.Failed && b.Failed
	})
	return each(of, v.turn)
}

func (v voice) turn(s ladder.Shut) string {
	t, key := s.Turn, "turn-in.published"
	switch {
	case t.Ready && t.Stale:
		key = "turn-in.was"
	case t.Ready:
		key = "turn-in.ready"
	case t.ByReading:
		key = "turn-in.read"
	case t.Springs > 0:
		key = "turn-in.own"
	}
	height := ""
	if t.Height > 0 {
		height = v.say("height.on", "height", v.withUnit(v.against(t.Height, t.Begin)), "day", v.brief().date(t.Read))
	}
	b := v.brief()
	line := v.say(key, "paddock", v.paddock(s.Place), "height", height, "begin", v.length(t.Begin), "day", b.date(t.About), "from", b.date(t.Early), "to", b.date(t.Late), "n", t.Springs)
	if t.Failed {
		line = v.say("turn-in.failed", "line", line)
	}
	return line
}

// scores are what last fall's rest was worth, in words.
func (v voice) scores(fs []*ladder.ScorecardFacts) []part {
	lines := v.scoreLines(fs[0])
	more := each(lines[1:], func(line string) part { return may(rankDetail, line) })
	return append([]part{must(lines[0])}, more...)
}

// scoreLines say of each paddock whose rest was broken how its springs were; of others
// there is nothing to say.
func (v voice) scoreLines(f *ladder.ScorecardFacts) (lines []string) {
	for _, s := range f.Card {
		if s.Days == nil {
			continue
		}
		key := "score.unsure"
		if s.Called {
			key = "score.called"
		}
		lines = append(lines, v.say(key, "paddock", v.name(firstOf(f.Names[s.Paddock], s.Paddock)), "height", v.length(s.Begin), "days", int(math.Round(*s.Days)), "times", s.Later, "of", s.Springs))
	}
	if len(lines) == 0 {
		return []string{v.say("score.all-rested")}
	}
	return append(lines, v.say("score.no-proof"))
}

// scorecardLetter is the card with its table and its picture.
func (v voice) scorecardLetter(f *ladder.ScorecardFacts) letter {
	title := v.say("score.title", "year", v.year(f.Day.Year))
	l := letter{Subject: v.subject(f, title), Title: title}
	l.add(section{Lines: v.scoreLines(f)})
	t := &table{Heads: []string{v.say("col.paddock"), v.say("col.rest"), v.say("col.end"), v.say("score.col.reached"), v.say("score.col.against")}}
	for _, s := range f.Card {
		y := s.In(f.Day.Year)
		name := v.name(firstOf(f.Names[s.Paddock], s.Paddock))
		if y == nil {
			t.Rows = append(t.Rows, []string{name, v.say("none"), v.say("none"), v.say("none"), v.say("none")})
			continue
		}
		reached := v.say("score.reached", "height", v.length(s.Begin), "day", v.brief().date(y.Reached))
		t.Rows = append(t.Rows, []string{name, v.cell(y.Rest > 0, v.say("days", "days", y.Rest)), v.cell(y.Height > 0, v.length(y.Height)), reached, v.say("score.days", "against", v.lang.Number(math.Round(y.Against), 0))})
	}
	l.add(section{Lines: []string{v.say("score.how")}})
	l.Sections = append(l.Sections, section{Table: t})
	if slices.Contains(v.o.Pictures, Rests) {
		l.Sections = append(l.Sections, section{CID: Rests, Alt: v.say("score.picture")})
	}
	return l
}

// stand is what a frame count comes to, and against the one before.
func (v voice) stand(s *spring.Stand) []part {
	parts := []part{must(v.say("grid", "share", v.lang.Number(s.Percent, 0), "plants", v.lang.Number(s.PerM2, 0), "low", v.lang.Number(s.Low, 0), "high", v.lang.Number(s.High, 0)))}
	if key := "grid." + s.Trend; s.Trend != "" && has(key) {
		parts = append(parts, may(rankWhen, v.say(key, "day", v.date(s.Since), "year", v.year(s.Since.Year), "was", v.lang.Number(s.Was, 0))))
	}
	return parts
}
