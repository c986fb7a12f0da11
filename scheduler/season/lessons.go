package season

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// A Lesson is what the finished seasons of a paddock say of its rule.
type Lesson struct {
	Paddock     string
	Year        int // the fall that a changed rule would be for
	Confidence  float64
	Taught      int          // seasons that teach growth
	Effect      grass.Effect // what they taught
	Seasons     []Finished
	Chance      *float64 // of T under the present rule; nil under two seasons that teach
	LeaveIn     *float64 // leave this at the same cutoff; nil where not needed or none reaches it
	LeaveChance float64
	RestDays    *int // rest this long from the same height; nil likewise
	RestChance  float64
	RestMore    int     `json:",omitzero"`  // days that this is longer than the present rest
	RestHayLb   float64 `json:",omitzero"`  // hay as fed for the herd in those days, lb: the most that they cost
	Thumb       *Cures  `json:",omitempty"` // what the rule of thumb would want, after a fall that fell short; nil from two seasons on
	NoCure      bool    // no sensible rest reaches it
	Easy        bool    // met easily three falls running
}

// Cures are the heights to leave and the days of rest that would reach a confidence,
// each alone.
type Cures struct{ LeaveFor, RestFor grass.Cure }

// What lessons rest on.
const (
	// enoughToLearn is how many own seasons must teach before a rule is judged and a
	// chance is told: the rule of thumb alone makes every paddock a coin flip, and that
	// is not news.
	enoughToLearn = 2
	mostRest      = 100 // days; earlier than mid-July no sensible rest begins (assumption)
	easyFalls     = 3   // falls running that met the height easily
	easyBy        = 2   // height errors above the height wanted that count as easily (assumption)
)

// Lessons is what the finished seasons of each native paddock say of its rule,
// in file order. The farm file stays the only place a rule is changed.
func Lessons(s Sight) []Lesson {
	l := s.look()
	var all []Lesson
	for _, p := range l.Farm.natives() {
		all = append(all, l.lesson(p))
	}
	return all
}

// Lesson is what they say of one native paddock; nil of any other.
func (l Land) Lesson(paddock string) *Lesson {
	for _, p := range l.l.Farm.natives() {
		if p.ID == paddock {
			lesson := l.l.lesson(p)
			return &lesson
		}
	}
	return nil
}

// A Wish is what a manager would have the farm file say of a paddock: a height to leave,
// or a rest.
type Wish struct {
	Leave float64    `json:"leave,omitempty"` // in
	Days  int        `json:"days,omitempty"`
	Told  civil.Date `json:"told"`
	By    string     `json:"by"`
}

// Line is what to write in the farm file, in its own unit.
func (w Wish) Line(centimetres bool) string {
	switch {
	case w.Leave > 0 && centimetres:
		return fmt.Sprintf("rest: {leave: %.0fcm}", w.Leave*2.54)
	case w.Leave > 0:
		return fmt.Sprintf("rest: {leave: %gin}", math.Round(w.Leave*10)/10)
	}
	return fmt.Sprintf("rest: {days: %d days}", w.Days)
}

// Wishes are the newest of a native paddock that its rule does not say yet: the farm
// file stays the only place where it does.
func Wishes(p *Paddock, book *diary.Book) (all []Wish) {
	var leave, rest Wish
	for _, f := range book.Every(diary.Wish) {
		switch {
		case f.Paddock != p.ID || !p.Native():
		case len(f.Heights) > 0:
			leave = Wish{Leave: f.Heights[0], Told: f.Day, By: f.By}
		default:
			rest = Wish{Days: int(f.Wait / (24 * time.Hour)), Told: f.Day, By: f.By}
		}
	}
	if leave.Leave > 0 && math.Abs(leave.Leave-p.Rule.Leave) > readFinest {
		all = append(all, leave)
	}
	if rest.Days > 0 && rest.Days != p.Rule.RestDays {
		all = append(all, rest)
	}
	return all
}

// readFinest is finer than anybody reads a stick, in.
const readFinest = 0.1

// nextFall is the fall that a changed rule would be for: this one until its
// rest begins, or a freeze came before it.
func (l *look) nextFall(p *Paddock) int {
	year := YearOf(l.Today, p.Rule.Spring)
	if phaseOf(l.datesOf(p, year), l.Today, p.Native()) != Open {
		return year + 1
	}
	return year
}

func (l *look) lesson(p *Paddock) Lesson {
	year := l.nextFall(p)
	known := l.learn(p, year)
	g := known.growth
	out := Lesson{
		Paddock: p.ID, Year: year, Confidence: p.Rule.Confidence,
		Seasons: slices.Clone(known.history), Taught: g.Effect.Seasons, Effect: g.Effect, Easy: easily(p, known.history),
	}
	rule, ok := l.ruleOf(p, year, g)
	switch {
	case !ok:
		return out
	case out.Taught < enoughToLearn:
		out.Thumb = l.thumb(p, year, known.history)
		return out
	}
	chance := g.Chance(rule.ask)
	out.Chance = &chance
	if chance >= p.Rule.Confidence {
		return out
	}
	cures := rule.cures(g, p.Rule.Confidence, p.begin())
	if leave := cures.LeaveFor; leave.Found {
		out.LeaveIn, out.LeaveChance = &leave.Value, leave.Chance
	}
	if rest := cures.RestFor; rest.Found {
		days := int(rest.Value)
		out.RestDays, out.RestChance, out.RestMore = &days, rest.Chance, days-rule.rest
		next, _ := l.goesIn(nil)
		hay := herd.Hay{Fed: l.Farm.Hay.Fed}
		out.RestHayLb = hay.ToGet(float64(out.RestMore) * next.Demand(l.Today))
	}
	out.NoCure = out.LeaveIn == nil && out.RestDays == nil
	return out
}

// thumb is what a paddock's rule would have to be by the rule of thumb and the
// station's falls alone, once its latest fall was rested and fell short; nil otherwise.
func (l *look) thumb(p *Paddock, year int, seasons []Finished) *Cures {
	if len(seasons) == 0 {
		return nil
	}
	if last := seasons[len(seasons)-1]; last.Met || last.End == 0 || last.RealRest < enoughRest || last.Grazed {
		return nil
	}
	g := l.past(p, year).Growth
	rule, ok := l.ruleOf(p, year, g)
	if !ok || g.Chance(rule.ask) >= p.Rule.Confidence {
		return nil
	}
	cures := rule.cures(g, p.Rule.Confidence, p.begin())
	return &cures
}

// A ruled is a paddock's rule put as a question: from the height to leave, at
// the cutoff, over every fall on record.
type ruled struct {
	ask   grass.Ask
	rest  int // days from the cutoff to the planning frost
	ahead func(days int) []float64
}

// ruleOf asks for a paddock's chance under its present rule; false where there
// is no frost date or no growth to reckon with. Ground that must be given back
// before its cutoff rests from then on.
func (l *look) ruleOf(p *Paddock, year int, g grass.Growth) (ruled, bool) {
	d, a := l.datesOf(p, year), l.almanac(year)
	if d.Frost.IsZero() || !g.Known() {
		return ruled{}, false
	}
	r := ruled{
		rest:  d.Frost.DaysSince(d.Cutoff),
		ahead: func(days int) []float64 { return a.every(d.Frost.AddDays(-days), p.FrostOffset) },
	}
	r.ask = grass.Ask{Start: p.Rule.Leave, Target: p.Rule.AtFrost, Ahead: r.ahead(r.rest)}
	return r, true
}

// cures are what would reach a confidence.
func (r ruled) cures(g grass.Growth, confidence, begin float64) Cures {
	return Cures{g.LeaveFor(r.ask, confidence, begin), g.RestFor(r.ask, confidence, r.rest, mostRest, r.ahead)}
}

// easily reports whether in the last three falls running the paddock made its
// height, and grew so much that from the height to leave it would have ended
// well above it. What was left above the rule is no credit to it.
func easily(p *Paddock, seasons []Finished) bool {
	if len(seasons) < easyFalls {
		return false
	}
	enough := p.Rule.AtFrost + easyBy*grass.HeightError(p.Rule.AtFrost)
	last := seasons[len(seasons)-easyFalls:]
	return last[easyFalls-1].Year-last[0].Year == easyFalls-1 && !slices.ContainsFunc(last, func(f Finished) bool {
		return f.Start == 0 || !f.Met || p.Rule.Leave+f.End-f.Start < enough
	})
}

// A Thumb is what the rule of thumb means on a farm's station, for a paddock
// nobody has measured.
type Thumb struct {
	Leave      float64 // in
	Rest       int     // days
	Target     float64 // in
	Chance     float64 // of the target by that rule
	Confidence float64
	Cures
}

// RuleOfThumb is what the common-practice pair of the farm's first native grass
// gives on this station; false where nothing can be said.
func RuleOfThumb(s Sight) (Thumb, bool) {
	l := s.look()
	i := slices.IndexFunc(s.Farm.Paddocks, Paddock.Native)
	if i < 0 {
		return Thumb{}, false
	}
	p := s.Farm.Paddocks[i]
	p.FrostOffset, p.OutBy, p.Soil = 0, MonthDay{}, grass.Average
	p.Rule.RestDays, p.Rule.Leave, p.Rule.AtFrost = commonRest, p.Grass.Leave.Value, p.Grass.Target.Value
	year := l.nextFall(&p)
	a := l.almanac(year)
	if a.err != nil {
		return Thumb{}, false
	}
	g := l.prior(&p, a)
	rule, ok := l.ruleOf(&p, year, g)
	if !ok {
		return Thumb{}, false
	}
	t := Thumb{
		Leave: p.Rule.Leave, Rest: commonRest, Target: p.Rule.AtFrost,
		Confidence: s.Farm.Rule.Confidence,
	}
	t.Chance = g.Chance(rule.ask)
	t.Cures = rule.cures(g, t.Confidence, p.begin())
	return t, true
}
