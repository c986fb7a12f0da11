package season

import (
	"fmt"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// What a season must have to teach growth.
const (
	enoughRest = 20 // days
)

// history is a paddock's finished seasons before a year, oldest first.
func (l *look) history(p *Paddock, before int) []Finished {
	facts := l.book.Of(p.ID)
	if len(facts) == 0 {
		return nil
	}
	var all []Finished
	for year := YearOf(facts[0].Day, p.Rule.Spring); year < before; year++ {
		d := l.datesOf(p, year)
		if d.Cutoff.IsZero() || d.Ended.IsZero() {
			continue
		}
		all = append(all, l.finished(p, year, d))
	}
	return all
}

// finished is what one season came to.
func (l *look) finished(p *Paddock, year int, d Dates) Finished {
	visits := between(l.visits(p.ID, d.Turn), d.Next)
	f := Finished{Year: year, Cutoff: d.Cutoff, RestEnd: d.Ended, EndedBy: d.EndedBy, RainMM: -1}
	if d.EndedBy == ByYear {
		f.RestEnd = d.Ended.AddDays(-1)
	}
	off, offKnown := l.lastOff(p.ID, d)
	if offKnown && off.Before(d.Ended) {
		f.RealRest = d.Ended.DaysSince(off)
	}
	start := startVisit(visits, off, d)
	if start != nil {
		f.Start = start.Sample.Mean
	}
	if end := endVisit(visits, d.Ended); end != nil {
		f.End = end.Sample.Mean
		f.Met = f.End >= p.Rule.AtFrost
	}
	if start != nil {
		f.Heat, f.RainMM = l.weather(p, year, start.Day, d.Ended)
	}
	f.WhyNot = l.whyNot(p, year, d, f, start)
	f.Teaches = f.WhyNot == ""
	return f
}

func between(visits []Visit, before civil.Date) []Visit {
	for i, v := range visits {
		if !v.Day.Before(before) {
			return visits[:i]
		}
	}
	return visits
}

// lastOff is the last day on which animals left before the end of rest. Where
// the paddock stood empty all season by the diary it is the year's turn.
func (l *look) lastOff(paddock string, d Dates) (civil.Date, bool) {
	last := d.Turn
	for _, s := range l.moves.Periods(paddock) {
		if !s.From.IsZero() && !s.From.Before(d.Ended) {
			continue
		}
		if s.To.IsZero() || s.To.After(d.Ended) {
			return civil.Date{}, false // still in when rest ended
		}
		if s.To.After(last) {
			last = s.To
		}
	}
	return last, true
}

// startVisit is the reading that tells the height the rest began from: the
// first one after the animals left, not more than a month before the cutoff.
func startVisit(visits []Visit, off civil.Date, d Dates) *Visit {
	from := d.Cutoff.AddDays(-30)
	if off.After(from) {
		from = off
	}
	for i, v := range visits {
		if !v.Day.Before(from) && v.Day.Before(d.Ended) {
			return &visits[i]
		}
	}
	return nil
}

// weather is the heat from a day to the season's first frost at the planning
// threshold, and the rain from that day to the end of rest; 0 and -1 where they
// were not measured.
func (l *look) weather(p *Paddock, year int, from, ended civil.Date) (heat, rainMM float64) {
	a := l.almanac(year)
	first := l.firstFrost(year).AddDays(p.FrostOffset)
	if first.IsZero() || a.err != nil {
		return 0, -1
	}
	if l.air == nil || a.warmth == nil {
		return a.mean(from, first, p.FrostOffset), -1
	}
	heat = l.observed(a, first).Between(from, first).Total
	var mm float64
	missing := 0
	for d := from; d.Before(ended); d = d.AddDays(1) {
		if r := l.air.Day(d).Rain; r.Known() {
			mm += r.MM()
		} else {
			missing++
		}
	}
	if missing*10 >= max(1, ended.DaysSince(from)) {
		mm = -1
	}
	return heat, mm
}

// firstFrost is the season's first frost at the planning threshold, by the
// record, else by the diary; zero where none came.
func (l *look) firstFrost(year int) civil.Date {
	if l.air != nil {
		if s, ok := l.air.Season(year, l.farm.Plan.Threshold); ok && s.Came() {
			return s.First
		}
	}
	for _, f := range l.book.Frosts() {
		if inFrostSeason(f.Day, year) && (f.TempC == nil || reaches(f, l.farm.Plan)) {
			return f.Day
		}
	}
	return civil.Date{}
}

// whyNot says in plain words why a season teaches no growth; empty where it
// does.
func (l *look) whyNot(p *Paddock, year int, d Dates, f Finished, start *Visit) string {
	_, used := l.farm.UsedIn(p.ID, year)
	switch {
	case used:
		return "grazed on purpose that fall"
	case start == nil:
		return "no height after the animals left"
	case f.End == 0:
		return fmt.Sprintf("no height within %d days after rest ended", endWithin)
	case f.Start > p.Rule.AtFrost:
		return "started above the height wanted"
	case f.RealRest < enoughRest:
		return fmt.Sprintf("rested %d days, under %d", f.RealRest, enoughRest)
	case !l.moves.EmptyFrom(p.ID, start.Day, d.Ended.AddDays(-1)):
		return "not empty the whole rest"
	case l.happened(diary.Hayed, p.ID, start.Day, d.Ended):
		return "cut for hay during rest"
	case l.happened(diary.Burned, p.ID, start.Day, d.Ended):
		return "burned during rest"
	case f.Heat <= 0:
		return "no frost date or heat known"
	}
	return ""
}

func (l *look) happened(kind diary.Kind, paddock string, from, to civil.Date) bool {
	_, ok := l.book.Latest(kind, paddock, from, to)
	return ok
}
