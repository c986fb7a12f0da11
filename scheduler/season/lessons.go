package season

import (
	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// What lessons rest on.
const (
	enoughToLearn = 2   // own seasons that teach, before a rule is judged
	mostRest      = 100 // days; earlier than mid-July no sensible rest begins (assumption)
	easyFalls     = 3   // falls running that met the height easily
	easyBy        = 2   // height errors above the height wanted that count as easily (assumption)
)

// Lessons is what the finished seasons of each native paddock say of its rule,
// in file order. The farm file stays the only place a rule is changed.
func Lessons(s Sight) []Lesson {
	l := s.look()
	var all []Lesson
	for i := range s.Farm.Paddocks {
		if p := &s.Farm.Paddocks[i]; p.Native() {
			all = append(all, l.lesson(p))
		}
	}
	return all
}

// nextFall is the fall that a changed rule would be for: this one until its
// rest begins.
func (l *look) nextFall(p *Paddock) int {
	year := YearOf(l.today, p.Rule.Spring)
	if d := l.datesOf(p, year); !d.Cutoff.IsZero() && !l.today.Before(d.Cutoff) {
		return year + 1
	}
	return year
}

func (l *look) lesson(p *Paddock) Lesson {
	year := l.nextFall(p)
	out := Lesson{Paddock: p.ID, Year: year, Seasons: l.history(p, year), Confidence: p.Rule.Confidence}
	taught := 0
	for _, f := range out.Seasons {
		if f.Teaches {
			taught++
		}
	}
	out.Taught = taught
	out.Easy = easily(p, out.Seasons)
	a := l.almanac(year)
	planned, err := a.Frost()
	if taught < enoughToLearn || err != nil {
		return out
	}
	planned = planned.AddDays(p.FrostOffset)
	g := l.growth(p, year)
	ahead := func(days int) []float64 { return a.ahead(planned.AddDays(-days), p.FrostOffset) }
	ask := grass.Ask{Start: p.Rule.Leave, Target: p.Rule.AtFrost, Ahead: ahead(p.Rule.RestDays)}
	chance := g.Chance(ask)
	out.Chance = &chance
	out.Effect = g.Effect
	if chance >= p.Rule.Confidence {
		return out
	}
	if cure := g.LeaveFor(ask, p.Rule.Confidence, p.begin()); cure.Found {
		out.LeaveIn, out.LeaveChance = &cure.Value, cure.Chance
	}
	if cure := g.RestFor(ask, p.Rule.Confidence, p.Rule.RestDays, mostRest, ahead); cure.Found {
		days := int(cure.Value)
		out.RestDays, out.RestChance = &days, cure.Chance
	}
	out.NoCure = out.LeaveIn == nil && out.RestDays == nil
	return out
}

// easily reports whether the last three falls running ended well above the
// height wanted.
func easily(p *Paddock, seasons []Finished) bool {
	n := 0
	for i := len(seasons) - 1; i >= 0 && n < easyFalls; i-- {
		if seasons[i].End < p.Rule.AtFrost+easyBy*grass.HeightError(p.Rule.AtFrost) {
			return false
		}
		n++
	}
	return n == easyFalls
}

// A Thumb is what the rule of thumb means on a farm's station, for a paddock
// nobody has measured.
type Thumb struct {
	Species    string
	Leave      float64 // in
	Rest       int     // days
	Target     float64 // in
	Chance     float64 // of the target by that rule
	Falls      int     // past falls it rests on
	LeaveFor   grass.Cure
	RestFor    grass.Cure
	Confidence float64
}

// RuleOfThumb is what the common-practice pair of the farm's first native grass
// gives on this station; false where nothing can be said.
func RuleOfThumb(s Sight) (Thumb, bool) {
	l := s.look()
	for i := range s.Farm.Paddocks {
		p := s.Farm.Paddocks[i]
		if !p.Native() {
			continue
		}
		year := l.nextFall(&p)
		a := l.almanac(year)
		planned, err := a.Frost()
		if err != nil {
			return Thumb{}, false
		}
		t := Thumb{
			Species: p.Grass.Name, Leave: p.Grass.Leave.Value, Rest: commonRest, Target: p.Grass.Target.Value,
			Confidence: s.Farm.Rule.Confidence, Falls: a.Spread.Counted(),
		}
		g := grass.Prior(p.Grass, a.restHeat(0), grass.Average)
		ahead := func(days int) []float64 { return a.ahead(planned.AddDays(-days), 0) }
		ask := grass.Ask{Start: t.Leave, Target: t.Target, Ahead: ahead(commonRest)}
		t.Chance = g.Chance(ask)
		t.LeaveFor = g.LeaveFor(ask, t.Confidence, p.begin())
		t.RestFor = g.RestFor(ask, t.Confidence, commonRest, mostRest, ahead)
		return t, g.Known()
	}
	return Thumb{}, false
}

// Uses ranks the native paddocks for fall use in the coming fall, best first.
func Uses(s Sight) []herd.Offer { return s.look().uses() }

func (l *look) uses() []herd.Offer {
	var native, grazed float64
	var candidates []herd.Candidate
	for i := range l.farm.Paddocks {
		p := &l.farm.Paddocks[i]
		grazed += p.Acres
		if !p.Native() {
			continue
		}
		native += p.Acres
		candidates = append(candidates, herd.Candidate{ID: p.ID, Acres: p.Acres, Since: l.sinceUsed(p), Chance: l.ruleChance(p)})
	}
	return herd.RankFallUse(native, grazed, candidates)
}

// sinceUsed is how many falls ago a paddock was last used on purpose, counted
// from the coming fall; 0 is never.
func (l *look) sinceUsed(p *Paddock) int {
	year, since := l.nextFall(p), 0
	for _, u := range l.farm.FallUse {
		if ago := year - u.Year; u.Paddock == p.ID && ago > 0 && (since == 0 || ago < since) {
			since = ago
		}
	}
	return since
}

// ruleChance is the chance that a paddock makes its height under its own rule.
func (l *look) ruleChance(p *Paddock) float64 {
	year := l.nextFall(p)
	a := l.almanac(year)
	planned, err := a.Frost()
	g := l.growth(p, year)
	if err != nil || !g.Known() {
		return 0
	}
	from := planned.AddDays(p.FrostOffset - p.Rule.RestDays)
	return g.Chance(grass.Ask{Start: p.Rule.Leave, Target: p.Rule.AtFrost, Ahead: a.ahead(from, p.FrostOffset)})
}

// droughtSince reports whether the manager called a drought this season.
func (l *look) droughtSince(p *Paddock, d Dates) bool {
	_, dry := l.book.Latest(diary.Dry, p.ID, d.Turn, l.today)
	return dry
}
