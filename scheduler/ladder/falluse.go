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
		case v.Herds.Occupancy != season.Empty:
			day := v.Dates.Cutoff.AddDays(days / askEvery * askEvery)
			p.use(v, c, FallUseAsk, day, "ask"+num(int64(days/askEvery)))
		}
		if out := p.runsOut(v); !out.IsZero() && !p.today.Before(out) {
			p.use(v, c, FallUseOut, out, "out"+num(v.Reading.Fact))
		}
	}
}

// runsOut is the day on which a fall use that is grazed has run out; zero where
// that is not known. Animals that came in after the reading began to eat only
// then.
func (p *plan) runsOut(v *season.View) civil.Date {
	if v.Herds.Occupancy != season.Grazed || v.RunsOut.IsZero() || v.Reading == nil || v.Hold != nil {
		return civil.Date{}
	}
	return v.RunsOut.AddDays(max(0, p.opened(v).Day.DaysSince(v.Reading.Day)))
}

func (p *plan) use(v *season.View, c person, kind Kind, day civil.Date, rung string) {
	f := FallUseFacts{PaddockFacts: p.facts(v), Judged: Judged{&v.Verdict}}
	if !p.today.Before(f.Frost) {
		f.Frost = civil.Date{} // a date that is past is no date to keep
	}
	p.tell(c, kind, cutoffKey(v, Cause{Kind: "use"}, rung, "0"), &f, p.mornings(c, day, day.AddDays(askEvery)))
}
