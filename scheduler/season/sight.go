package season

import (
	"cmp"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season/shut"
)

// Sight is what a farm is looked at with.
type Sight struct {
	Farm  *Farm
	Book  *diary.Book
	Today civil.Date
	Cache *Cache
	// Air is the observed temperatures and rain, none of today or later; nil
	// where nothing is measured.
	Air *frost.Record
	// Kept are the stops of the plan that was told: they are kept to where that costs
	// little.
	Kept []herd.Stop
	// Changed is why that plan sends herds elsewhere than the one before it.
	Changed []Change
}

// A Change is why herds are sent to other ground than was said before: a fact that has
// come since, or what is so of that ground.
type Change struct {
	Herds []string          `json:"herds"`           // ids
	Was   string            `json:"was"`             // the ground, as people say it
	Now   string            `json:"now,omitempty"`   // empty where it is hay
	Why   Cause             `json:"why,omitempty"`   // empty where a fact says it
	Fact  *diary.Fact       `json:"fact,omitempty"`  //
	At    time.Time         `json:"at,omitzero"`     // when the plan that is kept was made so
	Names map[string]string `json:"names,omitempty"` // those of the fact, by id
	Day   civil.Date        `json:"day,omitzero"`    // on which it shuts
	Days  int               `json:"days,omitempty"`  // of feed that the other order saves
}

// A Cause is what is so of ground that herds are not sent to any more.
type Cause string

const (
	Held    Cause = "held"
	Poison  Cause = "plants" // that may poison
	Back    Cause = "back"   // it is given back
	Resting Cause = "rests"
	Shuts   Cause = "shuts"  // within days
	TakenBy Cause = "undone" // a fact was taken back
	Saves   Cause = "saves"  // another order saves days of feed
	Waits   Cause = "waits"  // its answer is WAIT
	Anew    Cause = "anew"   // the plan was made anew, and nothing else is known
)

// A look is one day's view over a farm.
type look struct {
	Sight
	moves *Moves
	herds []herd.Herd // as the diary has them

	nights    []shut.Night // of frost, taken back or not
	lastMin   civil.Date   // the latest day with a minimum on record
	takenBack map[civil.Date]bool
	dates     map[datesOf]Dates
	shut      map[*Paddock]*caused
	station   map[int]stationFall
	stands    map[string][]grass.Hazard // what a stand is by itself, by species
	farmwide  diary.Version
	common    map[int]grass.Farmwide // what all paddocks teach together, by season
}

func (s Sight) look() *look {
	s.Cache = cmp.Or(s.Cache, &Cache{})
	l := &look{
		Sight:  s,
		herds:  herdsOn(s.Farm.Herds, s.Book, s.Today),
		nights: s.frosts(), takenBack: takenBack(s.Book), dates: map[datesOf]Dates{}, shut: map[*Paddock]*caused{},
		station: map[int]stationFall{}, common: map[int]grass.Farmwide{}, stands: map[string][]grass.Hazard{},
		farmwide: s.Book.Version("", s.Today),
	}
	l.moves, l.lastMin = l.follow(), l.lastMinimum()
	return l
}

// PlannedFrost is the frost that a farm counts back from this season; the error
// says why there is none.
func (s Sight) PlannedFrost() (civil.Date, error) { return s.look().almanac(s.Today.Year).frost() }

// almanac is the one that a season is planned with.
func (l *look) almanac(year int) *almanac {
	k := almanacOf{l.Farm.Plan, year}
	return keep(l.Cache, k, func() *almanac { return newAlmanac(k.plan, k.year) })
}

// movedFrom is all that the moves can change with.
type movedFrom struct {
	farm  *Farm
	moved diary.Version
}

// follow replays the moves that came since, or all of them where it was not only
// that more came.
func (l *look) follow() *Moves {
	from := movedFrom{l.Farm, l.Book.VersionOf(diary.On, l.Today)}
	return renew(l.Cache, struct{}{}, from, func(old kept[movedFrom, *Moves]) *Moves {
		moves := l.Book.Moves()[:from.moved.Facts]
		if old.from.farm == from.farm && from.moved.Grew(old.from.moved) {
			return old.value.with(moves[old.from.moved.Facts:])
		}
		return begun(l.Farm).with(moves).keeping(old.value)
	})
}

// readings are the heights of a paddock that were read up to today.
func (l *look) readings(p *Paddock) *readings {
	own := l.Book.Version(p.ID, l.Today)
	return renew(l.Cache, p.ID, own, func(old kept[diary.Version, *readings]) *readings {
		facts := l.Book.Of(p.ID)[:own.Facts]
		if own.Grew(old.from) {
			return old.value.with(facts)
		}
		return readFacts(facts)
	})
}

// herdsOn is the farm's herds as the diary has them on a day: head sold, bought and
// counted, and calves weaned. A weaning that the farm file plans stands until the
// diary has this year's.
func herdsOn(herds []herd.Herd, book *diary.Book, day civil.Date) []herd.Herd {
	out := append([]herd.Herd(nil), herds...)
	for _, f := range book.Every(diary.Head) {
		if f.Day.After(day) {
			break
		}
		for i := range out {
			if h := &out[i]; f.Herd == "" || f.Herd == h.ID {
				tell(h, f)
			}
		}
	}
	return out
}

// tell changes a herd by what was told of it.
func tell(h *herd.Herd, f *diary.Fact) {
	switch f.Kind {
	case diary.Wean:
		if h.Weaned.DaysSince(f.Day) < sameCrop {
			h.Weaned = f.Day
		}
	case diary.Sold:
		h.Head = max(0, h.Head-int(f.Amount))
	case diary.Bought:
		h.Head += int(f.Amount)
	case diary.Head:
		h.Head = int(f.Amount)
	}
}

// hay is the farm's hay as the diary has it today: what the farm file says, until
// somebody tells how much there is.
func (l *look) hay() herd.Hay {
	h := l.Farm.Hay
	bale := cmp.Or(h.BaleLb, herd.BaleLb(5, 5)) // where nobody said, as in the farm file
	for _, f := range l.Book.Every(diary.Hay) {
		switch lb := f.Amount * bale; {
		case f.Day.After(l.Today):
			return h
		case f.Kind == diary.Fed:
			h.OnHand = max(0, h.OnHand-lb)
		case f.Kind == diary.Hay && f.Adds:
			h.OnHand, h.BaleLb = h.OnHand+lb, bale
		case f.Kind == diary.Hay:
			h.OnHand, h.BaleLb = lb, bale
		}
	}
	return h
}

// sameCrop is how many days apart two weanings are at most that mean the same
// calves (assumption).
const sameCrop = 180
