package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// resultAfter is how many days after the end of rest a season's result is told
// at the latest, read or not.
const resultAfter = 15

// ending tells that rest is over and, later, what the season came to.
func (p *plan) ending(v *season.View) {
	d := v.Dates
	if v.Phase != season.Dormant || d.Ended.IsZero() || v.FallUse {
		return
	}
	early := d.Ended.Before(d.Cutoff)
	kind := RestOver
	if early {
		kind = FrostFirst
	}
	for _, c := range p.withRole("manager") {
		if len(c.media) == 0 {
			continue
		}
		f := p.facts(v)
		f.Result = &Result{Year: v.Year, Cutoff: d.Cutoff, RestEnd: d.Ended, NoFrost: d.EndedBy == season.ByYear}
		if f.Result.NoFrost {
			f.Result.RestEnd = d.Ended.AddDays(-1)
		}
		if p.saidBrown(v, c.Name) {
			continue // the answer to it has said all this
		}
		p.want(Notice{
			Key:       key(v.Paddock.ID, d.Ended.String(), string(d.EndedBy), "over", "0", c.Name, string(c.media[0])),
			To:        c.Name,
			Medium:    c.media[0],
			Kind:      kind,
			Facts:     f,
			NotBefore: p.morning(c.Contact, p.knownOn(v)),
			GoodUntil: p.morning(c.Contact, d.Ended.AddDays(resultAfter)),
		})
	}
	if !early {
		for _, c := range p.withRole("manager") {
			if len(c.media) > 0 {
				p.result(v, c)
			}
		}
	}
}

// saidBrown reports whether a contact's own word ended the rest.
func (p *plan) saidBrown(v *season.View, name string) bool {
	if v.Dates.EndedBy != season.ByBrown {
		return false
	}
	f, ok := p.Book.Latest(diary.Brown, v.Paddock.ID, v.Dates.Ended, v.Dates.Ended)
	return ok && f.By == name
}

// knownOn is the day on whose morning an end of rest can be told: a day's
// minimum is known the next morning.
func (p *plan) knownOn(v *season.View) civil.Date {
	if v.Dates.EndedBy == season.ByFreeze {
		return v.Dates.Ended.AddDays(1)
	}
	return v.Dates.Ended
}

// result tells what a season came to, the morning after its end was read, or
// after it can no longer be.
func (p *plan) result(v *season.View, c person) {
	day := v.Dates.Ended.AddDays(resultAfter)
	if v.EndHeight > 0 && v.EndRead.AddDays(1).Before(day) {
		day = v.EndRead.AddDays(1)
	}
	f := p.facts(v)
	done := v.Finished
	if done == nil {
		return
	}
	f.Result = &Result{
		Year: done.Year, Cutoff: done.Cutoff, RestEnd: done.RestEnd, NoFrost: done.EndedBy == season.ByYear,
		RealRest: done.RealRest, Start: done.Start, End: done.End, Target: v.Paddock.Rule.AtFrost, Met: done.Met,
	}
	if p.Lesson != nil {
		f.Result.Lesson = p.Lesson(v.Paddock.ID)
	}
	p.want(Notice{
		Key:       key(v.Paddock.ID, v.Dates.Ended.String(), "-", "result", "0", c.Name, string(c.media[0])),
		To:        c.Name,
		Medium:    c.media[0],
		Kind:      SeasonResult,
		Facts:     f,
		NotBefore: p.morning(c.Contact, day),
		GoodUntil: p.morning(c.Contact, day.AddDays(resultAfter)),
	})
}
