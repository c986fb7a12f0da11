package ladder

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// coldFor is how many days a frost, or the end of a hold, stays news.
const coldFor = 7

// cold tells the season's first frost, freeze and killing freeze, each once,
// and only as the coldest that it was; and warns of a cold night where animals
// stand on hazard plants.
func (p *plan) cold() {
	if len(p.Views) == 0 {
		return
	}
	firsts := p.firstOfEach()
	for i, f := range firsts {
		// The same frost, or an earlier one, may be told as a colder one.
		colder := slices.ContainsFunc(firsts[i+1:], func(c diary.Fact) bool { return c.ID != 0 && !c.Day.After(f.Day) })
		if f.ID != 0 && !colder {
			p.coldNotice([]Kind{FrostSeen, FreezeSeen, KillingFreeze}[i], f)
		}
	}
	p.warnings()
}

// firstOfEach is the season's first frost at 36, 32 and 28 F; a zero fact
// where it has not come. What a person saw is a frost and no more. Of several
// sources that tell of one night the one that told first counts, so that a
// record which comes later does not make it another event.
func (p *plan) firstOfEach() [3]diary.Fact {
	var firsts [3]diary.Fact
	for _, f := range p.frosts() {
		for i, th := range [3]frost.Threshold{frost.Frost36F, frost.Freeze32F, frost.KillingFreeze28F} {
			reached := i == 0
			if f.TempC != nil {
				reached = th.Reached(frost.FromC(*f.TempC))
			}
			if first := &firsts[i]; reached && (first.ID == 0 || f.Day == first.Day && f.ID < first.ID) {
				*first = f
			}
		}
	}
	return firsts
}

// frosts are those of this fall that stand, up to today.
func (p *plan) frosts() []diary.Fact {
	if p.fall == nil {
		p.fall = []diary.Fact{} // never nil: once is enough
		all := p.Book.Every(diary.Frost)
		for _, f := range all[diary.From(all, civil.Date{Year: p.today.Year - 1, Month: time.August, Day: 1}):] {
			pocket := f.Measured() && f.Paddock != "" // a night that only one paddock felt is no frost of the farm
			if !pocket && p.ofThisFall(*f) && !f.Day.After(p.today) {
				p.fall = append(p.fall, *f)
			}
		}
	}
	return p.fall
}

// ofThisFall reports whether a frost counts for the season at hand.
func (p *plan) ofThisFall(f diary.Fact) bool {
	return f.Day.Year == season.YearOf(p.today, p.Views[0].Paddock.Rule.Spring) && f.Day.Month >= time.August
}

func (p *plan) coldNotice(kind Kind, f diary.Fact) {
	if !p.current(span{from: f.At, until: f.At.AddDate(0, 0, coldFor)}) {
		return
	}
	facts, managers := p.coldFacts(f), p.withRole(manager...)
	k := Key{Of: ofFarm, Day: string(kind), Cause: Cause{Fact: f.ID}, Rung: "0", Repeat: "0"}
	for _, c := range p.hearers(kind) {
		if c.Name == f.By || p.toldOther(kind, c.Name, f) || len(facts.Shuts) == 0 && p.hearsRestOver(c, f) {
			continue
		}
		said := *facts
		said.Owner = !has(managers, c.Name)
		p.tell(c, kind, k, &said, span{from: p.decent(c.Contact, f.At), until: f.At.AddDate(0, 0, coldFor)})
	}
}

// coldFacts are what a frost means for the farm: which paddocks it finds in
// rest, and whether it ended any.
func (p *plan) coldFacts(f diary.Fact) *FrostFacts {
	cold := frostOf(f)
	facts := &FrostFacts{Frosted: Frosted{cold}}
	facts.Day = f.Day
	for i := range p.Views {
		v := &p.Views[i]
		if !v.Paddock.Native() || v.FallUse {
			continue
		}
		switch {
		case v.Dates.Ended == f.Day && f.Day.Before(v.Dates.Cutoff):
			cold.BeforeCutoff = true
		case v.Dates.Ended == f.Day:
			cold.RestOver = true
		case v.Phase == season.Rest:
			facts.Shuts = append(facts.Shuts, Line(v, p.today))
		}
		if facts.Say == "" && v.Phase != season.Open {
			facts.Place = PlaceOf(v.Paddock)
		}
	}
	return facts
}

func frostOf(f diary.Fact) *Frost {
	cold := &Frost{Day: f.Day, MinC: f.TempC}
	if f.Measured() {
		cold.Place = f.By
	} else {
		cold.ByWho = f.By
	}
	return cold
}

// toldOther reports whether a contact heard of this kind of frost this fall
// already, by another fact that still stands: one that a record brings later
// is no news.
func (p *plan) toldOther(kind Kind, to string, f diary.Fact) bool {
	return told(p.Said.byContact[to], to, kind, func(r *SaidRow) bool {
		old, stands := p.Book.Standing(r.Key.Cause.Fact)
		return r.Key.Of == ofFarm && r.Key.Day == string(kind) && stands && old.ID != f.ID && p.ofThisFall(old)
	})
}

// hearsRestOver reports whether a contact hears of a frost with the end of rest
// that it brought.
func (p *plan) hearsRestOver(c person, f diary.Fact) bool {
	return has(p.hearers(RestOver), c.Name) && slices.ContainsFunc(p.Views, func(v season.View) bool {
		return v.Paddock.Native() && !v.FallUse && v.Phase == season.Dormant && v.Dates.EndedBy == season.ByFreeze && v.Dates.Ended == f.Day
	})
}

// moveTo is where a herd can go.
func (p *plan) moveTo(v *season.View) Sends {
	if v.Herds.Occupancy == season.Empty {
		return Sends{}
	}
	return p.MoveTo(v.Paddock.ID, p.frosty())
}

// frosty reports whether frost has come this fall and the killing freeze has
// not: the next one would turn whatever stands.
func (p *plan) frosty() bool {
	firsts := p.firstOfEach()
	return firsts[0].ID > 0 && firsts[2].ID == 0
}
