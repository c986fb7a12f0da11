package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// askEvery is how many days apart a paddock in fall use is asked about.
const askEvery = 10

// fallUse speaks of a paddock grazed on purpose through its rest: at the
// cutoff, every ten days while it is grazed, and when its days have run out.
func (p *plan) fallUse(v *season.View) {
	days := p.today.DaysSince(v.Dates.Cutoff)
	for _, c := range p.hearers(FallUseAsk) {
		p.seen(p.morning(c.Contact, v.Dates.Cutoff))
		switch {
		case days < 0 || v.Hold != nil: // the hold comes first
		case days < askEvery:
			p.use(v, c, FallUseStarts, v.Dates.Cutoff, "0")
		case v.Herds.Occupancy != season.Empty && !p.hasRunOut(v, c):
			day := v.Dates.Cutoff.AddDays(days / askEvery * askEvery)
			if readSince(v, day) {
				break // it was walked that day
			}
			p.use(v, c, FallUseAsk, day, "ask"+num(int64(days/askEvery)))
		}
		if p.hasRunOut(v, c) {
			p.out(v, c)
		}
	}
}

// hasRunOut reports whether a contact is to hear that a fall use has run out.
func (p *plan) hasRunOut(v *season.View, c person) bool {
	out := p.runsOut(v, c)
	return !out.IsZero() && !p.today.Before(out)
}

// out says that they have to come off: when the days have run out, and while they
// stay every Monday and Thursday, as of a rest that is grazed by mistake.
func (p *plan) out(v *season.View, c person) {
	first, rung := p.runsOut(v, c), "out"+num(v.Reading.Fact)
	day, _ := rhythm{0, twiceAWeek}.last(first, p.today)
	if day != first {
		rung += "on" + day.String()
	}
	p.use(v, c, FallUseOut, day, rung)
}

// runsOut is the day on which a contact hears that a fall use has run out, by what the
// verdict goes by; zero where that is not known. Who read it hears it from the answer
// that day.
func (p *plan) runsOut(v *season.View, c person) civil.Date {
	switch {
	case v.Herds.Occupancy != season.Grazed || v.RunsOut.IsZero() || v.Hold != nil:
		return civil.Date{}
	case v.RunsOut == v.Reading.Day && v.Reading.By == c.Name:
		return v.RunsOut.AddDays(1)
	}
	return v.RunsOut
}

func (p *plan) use(v *season.View, c person, kind Kind, day civil.Date, rung string) {
	f := FallUseFacts{PaddockFacts: p.facts(v), Judged: Judged{&v.Verdict}}
	if !p.today.Before(f.Frost) {
		f.Frost = civil.Date{} // a date that is past is no date to keep
	}
	p.tell(c, kind, cutoffKey(v, Cause{Kind: "use"}, rung, "0"), &f, p.mornings(c, day, day.AddDays(askEvery)))
}
