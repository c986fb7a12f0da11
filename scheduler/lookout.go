package scheduler

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// A lookout keeps the farm as it was last looked at and planned, so that a fact
// costs the paddocks that it touches and no others. Another farm file, another
// day, other weather, and what is told of the whole farm are looked at anew. It
// never changes what is said.
type lookout struct {
	farm    *config.Farm
	book    *diary.Book
	air     *frost.Record
	day     civil.Date
	land    season.Land
	views   []season.View
	place   map[string]int  // of a paddock among them
	told    map[string]bool // of which paddocks something was written down since; "" is the whole farm
	touched []int           // by place, since the last plan
	memo    *ladder.Memo
	said    *ladder.Said                  // that it was planned with
	sums    *daySums                      // nil: summed anew
	rain    func(day civil.Date) dry.Rain // summed for a day, as long as none is told
}

// emergencyLasts is how many days after an emergency where the animals went can
// still tell which ground it was.
const emergencyLasts = 366

// wrote notes that a fact is about to be added to the book.
func (o *lookout) wrote(book *diary.Book, f diary.Fact) {
	if of, stands := book.Standing(f.Voids); stands {
		f = of
	}
	late := func(e *diary.Fact) bool { return f.Day.DaysSince(e.Day) < emergencyLasts }
	// A night of frost and a rain count for the whole farm, and an emergency that names
	// no ground is where the animals were.
	if f.Kind == diary.Frost || f.Kind == diary.Rain || f.Kind == diary.Emergency || f.Kind.Row().Moves && slices.ContainsFunc(book.Every(diary.Emergency), late) {
		f.Paddock = ""
	}
	if o.told == nil {
		o.told = map[string]bool{}
	}
	o.told[f.Paddock] = true
}

// look is the farm as it stands with all that is written down.
func (s *Scheduler) look(book *diary.Book, today civil.Date) *lookout {
	o, sight := &s.lookout, s.sight(book, today)
	if o.farm != s.farm || o.book != book || o.day != today || o.air != sight.Air || o.told[""] {
		land := sight.Land()
		*o = lookout{
			farm: s.farm, book: book, air: sight.Air, day: today, land: land, views: land.Look(), place: map[string]int{},
			memo: &ladder.Memo{},
		}
		for i := range s.farm.Paddocks {
			o.place[s.farm.Paddocks[i].ID] = i
		}
		return o
	}
	if len(o.told) == 0 {
		return o
	}
	before := o.land.Moves()
	if o.sums != nil {
		o.rain = o.sums.rain
	}
	o.land, o.sums = sight.Land(), nil
	for _, paddock := range slices.AppendSeq(o.land.Moves().Since(before), maps.Keys(o.told)) {
		if i, ours := o.place[paddock]; ours {
			o.views[i], o.touched = o.land.View(i), append(o.touched, i)
		}
	}
	o.told = nil
	return o
}

// hears is what was said since the season's turn; the paddocks of which something was
// since the last are planned anew.
func (o *lookout) hears(tx *store.Tx, zone *time.Location) (*ladder.Said, error) {
	said, touched, err := tx.Told(o.day.AddDays(-366).In(zone))
	if err != nil {
		return nil, fmt.Errorf("read what was said: %w", err)
	}
	for _, paddock := range touched {
		if i, ours := o.place[paddock]; ours {
			o.touched = append(o.touched, i)
		}
	}
	return said, nil
}

// plan is what should be said now and was not, and until when that stays so.
func (o *lookout) plan(in ladder.Input) (wanted []ladder.Notice, next time.Time) {
	if o.said != in.Said {
		o.memo, o.said = &ladder.Memo{}, in.Said
	}
	wanted, next = o.memo.Plan(in, o.touched)
	o.touched = nil
	return wanted, next
}
