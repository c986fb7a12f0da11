package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// disputedFor is how many days back two words of one night are held together.
const disputedFor = 7

// disputed tells two people who do not say the same of a night, and the managers, that
// the stricter counts: what the frost holds stays held.
func (p *plan) disputed() {
	since := p.today.AddDays(-disputedFor)
	words := p.words(since, diary.Frost, diary.NoFrost)
	told := map[civil.Date]bool{}
	for _, f := range words {
		for _, none := range words {
			night := season.NightOf(f, p.Zone)
			apart := f.Kind != diary.Frost || none.Kind != diary.NoFrost || f.By == none.By || !none.Concerns(f.Paddock)
			if apart || told[night] || season.NightOf(none, p.Zone) != night {
				continue
			}
			told[night] = true
			p.dispute(night, f, none)
		}
	}
}

func (p *plan) dispute(night civil.Date, frost, none diary.Fact) {
	later := frost
	if none.At.After(later.At) {
		later = none
	}
	k := Key{Of: ofFarm, Day: night.String(), Cause: Cause{"disputed", later.ID}}
	said := &DisputeFacts{Head: Head{Day: night}, Who: frost.By, None: none.By}
	for _, c := range p.hearers(FrostDisputed) {
		if c.Manager() || c.Name == frost.By || c.Name == none.By {
			p.tell(c, FrostDisputed, k, said, p.news(c, later.At))
		}
	}
}

// words are what people told of some kinds, of the farm or of a paddock, on the days
// from one to today.
func (p *plan) words(since civil.Date, kinds ...diary.Kind) (all []diary.Fact) {
	of := []string{""}
	for i := range p.Views {
		of = append(of, p.Views[i].Paddock.ID)
	}
	for _, kind := range kinds {
		for _, paddock := range of {
			for f := range p.Book.About(paddock, kind, since) {
				if f.Paddock == paddock && !f.Measured() && !f.Day.After(p.today) {
					all = append(all, *f)
				}
			}
		}
	}
	return all
}
