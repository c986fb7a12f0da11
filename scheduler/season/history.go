package season

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A Finished season of a paddock, whether or not it may teach growth.
type Finished struct {
	Year     int
	Cutoff   civil.Date `json:",omitzero"`
	RestEnd  civil.Date `json:",omitzero"`
	EndedBy  Ending
	RealRest int        // days from the last off to the end of rest
	Empty    bool       // nobody was in since the year's turn: RealRest counts from it
	Grazed   bool       // animals stood on it when rest ended
	Failed   string     // why its rest came to too little, in plain words; empty where it did not
	Start    float64    // in, 0 where unread
	StartOn  civil.Date `json:",omitzero"` // the day that it was read
	End      float64
	Heat     float64 // degree-days from start to first frost; 0 where unknown
	Mid      float64 `json:",omitzero"` // in, read on the way; 0 where unread
	MidHeat  float64 `json:",omitzero"` // degree-days from start to then
	RainMM   float64 // -1 where unknown
	Met      bool
	Teaches  bool
	WhyNot   string // why it teaches nothing, in plain words
}

// What a season must have to teach growth, and where its start is looked for.
const (
	enoughRest  = 20 // days
	startWithin = 30 // days before the cutoff that a height still tells what rest began from (assumption)
)

// history is a paddock's finished seasons before an almanac's, oldest first,
// their heat in that almanac's unit, and what each was worked out from. One of the old
// that was worked out from the same is taken over.
func (l *look) history(p *Paddock, read *readings, a *almanac, old pastKept) (all []Finished, from []pastFrom) {
	facts := l.Book.Of(p.ID)
	if len(facts) == 0 {
		return nil, nil
	}
	now, own := YearOf(l.Today, p.Rule.Spring), l.Book.Version(p.ID, l.Today)
	air, stays := l.airBefore(a.Year), l.moves.ground[p.ID]
	settled := func(f pastFrom) bool { // nothing that is only added tells of a season before the last
		return f.year+1 < now && f.now == now && f.farm == l.Farm && f.air == air && f.stays == stays && f.own.Stays(own) && f.farmwide.Stays(l.farmwide)
	}
	for year := YearOf(facts[0].Day, p.Rule.Spring); year < a.Year; year++ {
		if i := slices.IndexFunc(old.from, func(f pastFrom) bool { return f.year == year }); i >= 0 && settled(old.from[i]) {
			all, from = append(all, old.history[i]), append(from, old.from[i])
			continue
		}
		f := l.seasonFrom(p, year, a)
		if i := slices.Index(old.from, f); i >= 0 {
			all, from = append(all, old.history[i]), append(from, f)
		} else if d := l.datesOf(p, year); !d.Ended.IsZero() {
			all, from = append(all, l.finished(p, year, d, read, a)), append(from, f)
		}
	}
	return all, from
}

// seasonFrom is what one finished season is worked out from: no fact of the next
// spring, or later, tells of it.
func (l *look) seasonFrom(p *Paddock, year int, a *almanac) pastFrom {
	over := diary.EarlierDay(l.Today, diary.LaterDay(p.Rule.Spring.In(year+1), civil.Date{Year: year + 1, Month: time.February, Day: 1}))
	return pastFrom{
		farm: l.Farm, air: l.airBefore(a.Year), own: l.Book.Version(p.ID, over), farmwide: l.Book.Version("", over), stays: l.moves.ground[p.ID],
		year: year, now: YearOf(l.Today, p.Rule.Spring), finished: true,
	}
}

// finished is what one season came to.
func (l *look) finished(p *Paddock, year int, d Dates, read *readings, a *almanac) Finished {
	f := Finished{Year: year, Cutoff: d.Cutoff, RestEnd: d.Ended, EndedBy: d.EndedBy, RainMM: -1}
	if d.EndedBy == ByYear {
		f.RestEnd = d.Ended.AddDays(-1)
	}
	off, known := l.moves.lastOff(p.ID, d.Turn, d.Ended)
	if known && off.Before(d.Ended) {
		f.RealRest, f.Empty = d.Ended.DaysSince(off), off == d.Turn
	}
	f.Grazed = l.moves.grazedOn(p.ID, d.Ended)
	start, end := read.start(off, d), read.end(d.Ended)
	f.Start, f.End = start.mean(), end.mean()
	f.Met = end != nil && f.End >= p.Rule.AtFrost
	if start != nil {
		f.StartOn = start.Day
		f.RainMM = l.rainMM(start.Day, d.Ended)
		if grown := l.grownUntil(p, year, d); grown.After(start.Day) {
			f.Heat = l.grewUnder(a, start.Day, grown, p.FrostOffset)
			f.Mid, f.MidHeat = l.midway(p, read, start, grown, f.Heat, a)
		}
	}
	_, used := l.Farm.UsedIn(p.ID, year)
	f.Failed = f.failed(p.Rule, known, used)
	f.WhyNot = l.whyNot(p, d, f, start, end, read)
	f.Teaches = f.WhyNot == ""
	return f
}

// start is the reading that tells the height a rest began from: of those after
// the animals left, at most a month before the cutoff and before the end of
// rest, the one nearest to the cutoff. What was read before the paddock was
// cut, if that was before the cutoff, says nothing.
func (r *readings) start(off civil.Date, d Dates) *Visit {
	from := diary.LaterDay(d.Cutoff.AddDays(-startWithin), off)
	cut := -1
	for _, c := range r.cuts {
		if c.day.Before(d.Cutoff) {
			cut = c.seq
		}
	}
	return nearest(r.between(from, d.Ended), d.Cutoff, func(v *Visit) bool { return v.seq >= cut })
}

// midway is the height that was read nearest to when half of a rest's heat was gone,
// and the heat up to then; 0 where none was.
func (l *look) midway(p *Paddock, read *readings, start *Visit, grown civil.Date, whole float64, a *almanac) (height, heat float64) {
	for _, v := range read.between(start.Day.AddDays(1), grown) {
		at := l.grewUnder(a, start.Day, v.Day, p.FrostOffset)
		if !v.mown && (height == 0 || math.Abs(at-whole/2) < math.Abs(heat-whole/2)) {
			height, heat = v.Sample.Mean, at
		}
	}
	return height, heat
}

// grownUntil is the day on which a finished season's growth ended: its first
// frost at the planning threshold, or the day that its tops were seen brown
// where that was earlier. Zero where neither is known.
func (l *look) grownUntil(p *Paddock, year int, d Dates) civil.Date {
	day := l.firstFrost(p, year)
	if d.EndedBy == ByBrown {
		day = diary.EarlierDay(day, d.Ended)
	}
	return day
}

// whyNot says in plain words why a season teaches no growth; empty where it
// does.
func (l *look) whyNot(p *Paddock, d Dates, f Finished, start, end *Visit, read *readings) string {
	switch _, used := l.Farm.UsedIn(p.ID, f.Year); {
	case used:
		return "grazed on purpose that fall"
	case start == nil:
		return "no height after the animals left"
	case end == nil:
		return fmt.Sprintf("no height within %d days after rest ended", endWithin)
	case d.EndedBy == ByYear:
		return "no killing freeze known of, and nobody saw brown tops"
	case f.Start > p.Rule.AtFrost:
		return "started above the height wanted"
	case f.RealRest < enoughRest:
		return fmt.Sprintf("rested %d days, under %d", f.RealRest, enoughRest)
	case !l.moves.emptyFrom(p.ID, start.Day, end.Day.AddDays(-1)):
		return "not known to have been empty until its end was read"
	case f.Heat <= 0:
		return "no frost date or heat known"
	}
	for _, c := range read.cuts {
		if c.day.After(end.Day) || c.seq > end.seq || c.seq <= start.seq && c.day.Before(d.Cutoff) {
			continue
		}
		if c.kind == diary.Burned {
			return "burned during rest"
		}
		return "cut for hay during rest"
	}
	return ""
}

// What a rest must come to so that the ground may be grazed again before spring
// (assumption; use in August and September costs more than use after October 1 by
// every source read, and 42 to 56 days refill the reserves: K-State Extension
// 2005, Crop Science 29:1282).
const (
	leastRest   = 30   // days
	leastGrown  = 0.25 // of the growth wanted between L and T
	failedLater = 4    // in above B before the next spring's turn-in
)

// failed says in plain words why a season's rest came to too little; empty where
// it did not. What nobody knows fails nothing. Ground where frost beat the cutoff,
// or that was grazed on purpose, had no rest to fail and is judged by its height
// alone.
func (f *Finished) failed(r Rule, known, used bool) string {
	switch least := r.Leave + leastGrown*(r.AtFrost-r.Leave); {
	case f.End > 0 && f.End < least:
		return fmt.Sprintf("%.1f in when rest ended, under %.1f", f.End, least)
	case used || !f.RestEnd.After(f.Cutoff):
		return ""
	case f.Grazed:
		return "grazed until its rest ended"
	case known && f.RealRest < leastRest:
		return fmt.Sprintf("rested %d days, under %d", f.RealRest, leastRest)
	}
	return ""
}

// failed reports whether a paddock's latest rest failed: this season's once it has
// ended, else the one before, until animals have been on it again.
func (l *look) failed(v *View, known learned) bool {
	if v.Finished != nil {
		return v.Finished.Failed != ""
	}
	n := len(known.history)
	return n > 0 && known.history[n-1].Year == v.Year-1 && known.history[n-1].Failed != "" &&
		l.moves.emptyFrom(v.Paddock.ID, v.Dates.Turn, l.Today)
}

// failedIn reports whether a paddock's rest failed in a fall.
func (l *look) failedIn(p *Paddock, year int) bool {
	return slices.ContainsFunc(l.learn(p, year+1).history, func(f Finished) bool { return f.Year == year && f.Failed != "" })
}

// A Spring is how a paddock's grass came back after a winter, as it was read before
// animals came.
type Spring struct {
	Year   int
	Turn   civil.Date
	Read   []Visit    // oldest first, none after the first grazing, hay or fire
	Grazed civil.Date // the first day on which animals stood there; zero while none did
	Burned bool       // in that spring: it comes about two weeks earlier (Univ. of Tennessee, Drovers)
	Before *Finished  // the fall before; nil where nothing is known of it
}

// Springs are those of a native paddock up to today's, oldest first.
func (land Land) Springs(p *Paddock) (all []Spring) {
	l := land.l
	facts, read, year := l.Book.Of(p.ID), l.readings(p), YearOf(l.Today, p.Rule.Spring)
	if len(facts) == 0 || !p.Native() {
		return nil
	}
	falls := l.learn(p, year).history
	for y := YearOf(facts[0].Day, p.Rule.Spring); y <= year; y++ {
		s := Spring{Year: y, Turn: p.Rule.Spring.In(y)}
		until := civil.Date{Year: y, Month: lastOfSpring + 1, Day: 1}
		for _, stay := range l.moves.Periods(p.ID) {
			if from := diary.LaterDay(stay.From, s.Turn); touches(stay.From, stay.To, s.Turn, until) && (s.Grazed.IsZero() || from.Before(s.Grazed)) {
				s.Grazed, until = from, from.AddDays(1)
			}
		}
		for _, c := range read.cuts {
			if !c.day.Before(s.Turn.AddDays(-burnedWithin)) && c.day.Before(until) {
				s.Burned = s.Burned || c.kind == diary.Burned
				if !c.day.Before(s.Turn) && c.kind != diary.Burned {
					until = c.day
				}
			}
		}
		s.Read = slices.DeleteFunc(slices.Clone(read.between(s.Turn, until)), func(v Visit) bool { return v.mown })
		for i := range falls {
			if falls[i].Year == y-1 {
				s.Before = &falls[i]
			}
		}
		all = append(all, s)
	}
	return all
}

// When spring ends for turning in, and how many days before the year's turn a fire
// still is that spring's (common practice: late winter to green-up).
const (
	lastOfSpring = time.July
	burnedWithin = 60
)
