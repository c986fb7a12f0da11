package ladder

import (
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/quiet"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// When things of the whole farm are said. Ours.
const (
	fallAheadUntil = 11 // days before the first cutoff up to which the fall ahead is caught up
	feedAhead      = 15 // days before the plan of where the herds eat begins from which the Monday mail speaks of it
	lessonsMonth   = time.January
	lessonsDay     = 15
	lessonsFor     = 30 // days
	alarmFor       = 7 * 24 * time.Hour
	alarmAgain     = 24 * time.Hour
	signOfLifeGap  = 6  // days without a text after which the manager gets a sign of life
	soon           = 14 // days within which what is decided is asked about
)

// fallAhead tells the fall to come, once each before the first cutoff.
func (p *plan) fallAhead() {
	first := p.firstCutoff()
	if first.IsZero() || p.today.After(first.AddDays(-fallAheadUntil)) {
		return
	}
	// A cutoff that moves after the fall ahead was told is told by itself.
	year := strconv.Itoa(season.YearOf(p.today, p.Views[0].Paddock.Rule.Spring))
	for _, c := range p.people {
		var last step
		for _, r := range p.Rungs {
			if r.Before < farmLevel || !p.toldBy(r, c.Contact) {
				continue
			}
			at := p.morning(c.Contact, first.AddDays(-r.Before))
			p.seen(at)
			p.comes(c, FallAhead, at)
			if !at.After(p.Now) && !at.Before(last.at) {
				last = step{r, at}
			}
		}
		if last.at.IsZero() {
			continue
		}
		when := span{from: last.at, until: p.morning(c.Contact, first.AddDays(-fallAheadUntil+1))}
		for _, m := range c.rungMedia(last.rung) {
			k := p.dated(last.at, Key{Of: ofFarm, Day: year, Cause: Cause{Kind: "-"}, Rung: strconv.Itoa(last.rung.Before), Contact: c.Name, Medium: m})
			if by := (person{c.Contact, []Medium{m}}); p.open(by, FallAhead, k, when) {
				pass := p.LastPass()
				p.tell(by, FallAhead, k, &FarmFacts{
					Head: Head{Day: p.today}, Cutoff: first, Days: first.DaysSince(p.today), Listed: Listed{p.lines(func(v *season.View) bool { return v.Paddock.Native() })}, Feed: p.Feed(), Pass: pass, Changed: p.Changed(pass),
				}, when)
			}
		}
	}
}

// firstCutoff is the first cutoff of this season among paddocks that rest.
func (p *plan) firstCutoff() civil.Date {
	var first civil.Date
	for i := range p.Views {
		if v := &p.Views[i]; v.Paddock.Native() && !v.FallUse {
			first = diary.EarlierDay(first, v.Dates.Cutoff)
		}
	}
	return first
}

// lines are the paddocks of a plan, the first to shut first.
func (p *plan) lines(take func(*season.View) bool) []Shut {
	var out []Shut
	for i := range p.Views {
		if v := &p.Views[i]; take(v) {
			out = append(out, Line(v, p.today))
		}
	}
	slices.SortStableFunc(out, func(a, b Shut) int {
		if a.Cutoff.IsZero() != b.Cutoff.IsZero() {
			return b.Cutoff.DaysSince(a.Cutoff) // ground without a cutoff comes last
		}
		return a.Cutoff.DaysSince(b.Cutoff)
	})
	return out
}

// enrol tells each new contact who is writing, why and how to stop. It is true
// until it is said, and goes before anything else.
func (p *plan) enrol() {
	for _, c := range p.hearers(Enrolment) {
		p.tell(c, Enrolment, Key{Of: ofEnrolment, What: c.Phone}, &PersonFacts{}, span{from: longDue})
	}
}

// longDue is before anything else can have fallen due: the longest due goes
// first.
var longDue = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// mondays sends the mail of a week in which there is something to do, and of the
// first of each month in any case: the manager's list to those who manage, to the
// owner on that one alone what an owner decides. Where neither it nor any text
// proved that the line works the manager gets a sign of life, and so on the first
// of the month.
func (p *plan) mondays() {
	monday := quiet.Monday(p.today)
	first, mailed := quiet.First(monday), map[string]bool{}
	managers := p.withRole(manager...)
	week := sync.OnceValue(func() *FarmFacts { return p.week(monday) })
	for _, c := range p.hearers(MondayMail) {
		k := Key{Of: ofFarm, Day: monday.String(), Cause: Cause{Kind: "monday"}}
		when, manages := p.mornings(c, monday, monday.AddDays(2)), has(managers, c.Name)
		if !p.open(c, MondayMail, k, when) {
			k.Contact = c.Name
			mailed[c.Name] = p.Said.done(k)
			continue
		}
		// Within the week the fall ahead has all that a Monday's mail would say.
		fall := told(p.Said.byContact[c.Name], c.Name, FallAhead, func(r *SaidRow) bool { return r.Medium == Mail && p.Now.Sub(r.At) < 6*24*time.Hour })
		if mailed[c.Name] = first || manages && !fall && p.busy(week()); mailed[c.Name] {
			f := *week()
			f.Owner, f.Feed = !manages, p.feedNow()
			p.tell(c, MondayMail, k, &f, when)
		}
	}
	for _, c := range p.hearers(SignOfLife) {
		when := p.mornings(c, monday, monday.AddDays(1))
		if p.kept[c.Name] {
			when = p.mornings(c, monday, monday.AddDays(7))
		}
		if (first || !mailed[c.Name]) && !p.texted(c.Name, when.from.AddDate(0, 0, -signOfLifeGap)) {
			p.tell(c, SignOfLife, Key{Of: ofFarm, Day: monday.String(), Cause: Cause{Kind: "alive"}}, &FarmFacts{Head: Head{Day: monday}, Health: p.Health}, when)
		}
	}
}

// week is what a Monday's mail says, the feed apart, which costs the most and decides
// nothing of it.
func (p *plan) week(monday civil.Date) *FarmFacts {
	f := &FarmFacts{Head: Head{Day: monday}, Listed: Listed{p.lines(func(*season.View) bool { return true })}, Health: p.Health, Pass: p.lastPass()}
	f.Changed = p.Changed(f.Pass)
	p.ahead(f.Shuts)
	if p.Tell.Winter && quiet.First(monday) && (monday.Month >= time.November || monday.Month < time.April) {
		f.Winter = p.Feed()
	}
	for i := range f.Shuts {
		switch s := &f.Shuts[i]; {
		case s.Wants == "read" && !p.decides(s, f.Pass):
			s.Wants = "nothing"
		case (s.Grazed || s.Unknown) && (s.Late > 0 || s.Wants == "off" || s.Verdict != nil && s.Verdict.Action == season.TakeOff): // they must go
			s.Sends = p.MoveTo(s.Paddock, p.frosty())
		}
	}
	return f
}

// ahead adds to each paddock's line when it may be begun in spring, and from July on
// whether it will have at its cutoff what it must leave.
func (p *plan) ahead(lines []Shut) {
	for i := range p.Views {
		v := &p.Views[i]
		at := slices.IndexFunc(lines, func(s Shut) bool { return s.Paddock == v.Paddock.ID })
		if p.Tell.Spring {
			lines[at].Turn, lines[at].TooEarly = p.turnIn(v)
		}
		if p.Tell.Summer {
			lines[at].Steer = spring.SteerOf(v, p.Prospect(v))
		}
	}
}

// decides reports whether anything hangs on a paddock's height within two weeks:
// when its animals move on, what is left of its last days, whether it can take
// those that come.
func (p *plan) decides(s *Shut, pass []Stop) bool {
	shuts := !s.Cutoff.IsZero() && s.Days >= 0 && s.Days <= soon
	return s.Grazed || shuts || slices.ContainsFunc(pass, func(stop Stop) bool { return stop.Paddock == s.Paddock })
}

// busy reports whether a week has anything to do that no text of that morning says:
// what has to come off, what shuts or goes back, tops to look at, a hold that began, a
// herd to move. What is late is texted on Mondays, where it is; what grazes dormant
// ground costs no growth, and has the first of the month.
func (p *plan) busy(week *FarmFacts) bool {
	if slices.ContainsFunc(p.Views, func(v season.View) bool { return v.Hold != nil && p.Now.Sub(v.Hold.Latest()) < 7*24*time.Hour }) {
		return true
	}
	grazed := map[string]bool{}
	for i := range week.Shuts {
		s := &week.Shuts[i]
		shuts := s.Phase == season.Open && !s.Cutoff.IsZero() && s.Days >= 0 && s.Days <= 7
		off := s.Late == 0 && s.Verdict != nil && s.Verdict.Action == season.TakeOff && !(s.Ended && week.Day.DaysSince(s.End) >= soon)
		lacks := s.Grazed && s.Steer != nil && s.Steer.Short() || s.TooEarly != nil
		begins := s.Turn != nil && (s.Turn.Ready && week.Day.DaysSince(s.Turn.Read) < 7 || s.Turn.Near(week.Day.AddDays(-7)) && !s.Turn.Near(week.Day.AddDays(-14)))
		if off || shuts || lacks || begins || s.Wants == "brown" {
			return true
		}
		grazed[s.Paddock] = s.Grazed
	}
	return slices.ContainsFunc(week.Pass, func(stop Stop) bool {
		return stop.In.DaysSince(week.Day) < 7 && (stop.In.After(p.today) || !grazed[stop.Paddock])
	})
}

// texted reports whether a contact was told anything by text since an instant,
// or is about to be.
func (p *plan) texted(to string, since time.Time) bool {
	for _, r := range slices.Backward(p.Said.byContact[to]) { // the latest are mostly the last planned
		if r.Medium == Text && r.At.After(since) && r.Kind != SignOfLife {
			return true
		}
	}
	return slices.ContainsFunc(p.notices, func(n Notice) bool {
		_, said := p.Said.at(n.Key)
		return n.To == to && n.Medium == Text && !said
	})
}

// lessons go out once a winter, when there is time to read them.
func (p *plan) lessons() {
	day := civil.Date{Year: p.today.Year, Month: lessonsMonth, Day: lessonsDay}
	for _, c := range p.hearers(LessonsMail) {
		from := p.morning(c.Contact, day)
		when := span{from: from, until: from.AddDate(0, 0, lessonsFor)}
		if !p.current(when) {
			continue
		}
		for i := range p.Views {
			v := &p.Views[i]
			k := Key{Of: v.Paddock.ID, Day: day.String(), Cause: Cause{Kind: "lessons"}}
			if !p.open(c, LessonsMail, k, when) {
				continue
			}
			l, wishes := p.Lesson(v.Paddock.ID), season.Wishes(v.Paddock, p.Book)
			if l == nil || len(l.Seasons)+len(wishes) == 0 {
				continue
			}
			f := EndFacts{PaddockFacts: p.facts(v), Wishes: wishes, Result: &Result{Year: day.Year - 1, Target: v.Paddock.Rule.AtFrost, Lesson: l}}
			p.tell(c, LessonsMail, k, &f, when)
		}
	}
}

// feedNow is where the herd eats, from the time on that something can still be
// sold, weaned or bought for it, until that fall is over.
func (p *plan) feedNow() *Feed {
	f := p.Feed()
	if f == nil || f.From.DaysSince(p.today) > feedAhead || p.today.After(f.To) {
		return nil
	}
	return f
}

// lastPass is what the next two weeks have of the last pass, in the weeks before the
// first paddock shuts and until the last has.
func (p *plan) lastPass() []Stop {
	if first := p.firstCutoff(); first.IsZero() || first.DaysSince(p.today) > farmLevel {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(p.LastPass()), func(s Stop) bool {
		return s.In.DaysSince(p.today) > soon || s.Out.Before(p.today)
	})
}
