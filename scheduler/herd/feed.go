package herd

import (
	"slices"

	"github.com/golang-sql/civil"
)

// Ground is one piece of ground that herds may eat from.
type Ground struct {
	ID       string
	Native   bool
	Cool     bool       // cool-season grass: what stands there in fall is winter's
	Standing float64    // lb animals may eat there on the first day, the height to be left alone
	Grows    []float64  // lb that each day adds, from the first on, stood on or not; nothing past its end
	Until    civil.Date // first day it may not be grazed: its cutoff, or the day it is given back; zero for none
	Need     int        // of ground that shuts on one day the lowest is left to rest first
	Last     bool       // it comes after all other ground, such as one whose rest failed
	Barred   []string   // herds that may never stand there
}

// Fall is the days that are planned: from today, or from the weeks before the
// first cutoff, to the end of rest.
type Fall struct {
	From, To civil.Date // first and last day, both counted
	Herds    []Herd
	Ground   []Ground
	// Spare are native paddocks that could be used on purpose, best first, with
	// what may be eaten of each so that it still makes its height at frost.
	Spare []Spare
	Hay   Hay
	// Kept is where each herd was told to go, in order. It is kept to where that
	// costs no more than KeptDays of feed.
	Kept []Stop
	// Unread says that ground that matters was not read lately: then nobody is told
	// to sell.
	Unread bool
}

// Spare is ground that any herd could eat so many lb from, on any day.
type Spare struct {
	ID       string
	Standing float64
}

// Bite is what a herd eats from one piece of ground on one day.
type Bite struct {
	Ground string
	Lb     float64
}

// Day is one herd's day.
type Day struct {
	Date   civil.Date
	Demand float64 // lb
	Eaten  float64
	Bites  []Bite
}

// Short is what the day lacks, lb; under a hundredth of the demand is nothing.
func (d Day) Short() float64 {
	if lack := d.Demand - d.Eaten; lack > d.Demand/100 {
		return lack
	}
	return 0
}

// HerdFeed is where one herd eats.
type HerdFeed struct {
	ID         string
	Days       []Day
	Demand     float64 // lb over all days
	Supply     float64 // lb found of it
	Short      float64 // lb lacking
	FirstShort civil.Date
	ShortDays  int
	Stockpile  float64 // lb of Supply off cool-season grass that would have stood for winter
}

// Feed is where all herds eat.
type Feed struct {
	Herds                 []HerdFeed
	Demand, Supply, Short float64    // of all herds, lb
	FirstShort            civil.Date // the first day on which some herd is short
	ShortDays             int        // days on which some herd is
	Left                  []Bite     // what is still to be eaten on open ground after the last day
	Stockpile             float64    // lb of winter stockpile given up
	StockpileDays         float64    // days' worth of what all herds want on the last day
	Saves                 float64    // days of feed that it saves by leaving the plan that was told; 0 where it keeps to it
	Closes                []Close    // what would close the gap of the farm, the smallest first
}

// MostDaysAhead bounds a plan of where the herd eats.
const MostDaysAhead = 366

// Plan says where each herd eats, day by day, the first day it is short, and
// what would close the gap.
//
// What the herds lack over all days is the least that any plan leaves, wherever they
// stand and whatever ground bars some of them. Within that a herd moves seldom. It
// stays on ground that shuts until that is down; goes on to ground that shuts, has
// three days of grass for it and three days to its cutoff, and where no other herd is;
// else to ground that does not shut. Only where grass would be lost that is lacking
// later, or more than SparedDays of winter feed, does it go where its rations are.
// Herds that stand together stay together; others share ground where nothing else is
// left.
// Days short are those of the herds that come later in the list.
//
// Growth counts whether animals stand there or not, so nothing is left for the sake
// of growth. A herd without head eats nothing; without days, herds or ground the
// plan is empty or all short, never wrong.
func (f Fall) Plan() Feed {
	out := f.Eaten()
	if out.ShortDays > 0 {
		out.Closes = f.closes(out)
	}
	return out
}

// Eaten is Plan without what closes the gap: what was told, as long as it costs little.
func (f Fall) Eaten() Feed {
	told := f.Kept
	f.Kept = nil
	free := f.follow()
	if f.Kept = told; len(told) == 0 || len(free.Herds) == 0 || len(free.Herds[0].Days) == 0 {
		return free
	}
	kept := f.follow()
	free.Saves = over(kept.Short-free.Short+free.left()-kept.left(), free.Demand/float64(len(free.Herds[0].Days)))
	if free.Saves > KeptDays {
		return free
	}
	return kept
}

// left is what may still be eaten after the last day, lb.
func (f Feed) left() (lb float64) {
	for _, b := range f.Left {
		lb += b.Lb
	}
	return lb
}

func (f Fall) follow() Feed {
	w := newWalk(f)
	out := Feed{Herds: make([]HerdFeed, len(f.Herds))}
	for i, h := range f.Herds {
		out.Herds[i] = HerdFeed{ID: h.ID, Days: make([]Day, 0, w.days)}
	}
	for w.day = 0; w.day < w.days; w.day++ {
		w.graze(out.Herds)
		if slices.ContainsFunc(out.Herds, func(h HerdFeed) bool { return h.Days[w.day].Short() > 0 }) {
			out.ShortDays++
		}
	}
	out.sum()
	for j, g := range f.Ground {
		if w.shuts[j] > w.days {
			out.Left = append(out.Left, Bite{g.ID, w.left[j]})
		}
	}
	return out
}

// Lasts is the first day on which, with so many lb of feed besides, not all herds
// have enough; zero where they have to the last day.
func (f Feed) Lasts(more float64) civil.Date {
	for t := 0; len(f.Herds) > 0 && t < len(f.Herds[0].Days); t++ {
		for _, h := range f.Herds {
			more -= h.Days[t].Short()
		}
		if more < 0 {
			return f.Herds[0].Days[t].Date
		}
	}
	return civil.Date{}
}

// DaysOf is how many whole days of what all herds want so many lb are, at most those of
// the plan.
func (f Feed) DaysOf(lb float64) (days int) {
	for ; len(f.Herds) > 0 && days < len(f.Herds[0].Days); days++ {
		for _, h := range f.Herds {
			lb -= h.Days[days].Demand
		}
		if lb < 0 {
			return days
		}
	}
	return days
}

func (f *Feed) sum() {
	last := 0.0
	for _, h := range f.Herds {
		f.Demand += h.Demand
		f.Supply += h.Supply
		f.Short += h.Short
		f.Stockpile += h.Stockpile
		if h.ShortDays > 0 && (f.FirstShort.IsZero() || h.FirstShort.Before(f.FirstShort)) {
			f.FirstShort = h.FirstShort
		}
		if n := len(h.Days); n > 0 {
			last += h.Days[n-1].Demand
		}
	}
	f.StockpileDays = over(f.Stockpile, last)
}

// take books a day to a herd.
func (h *HerdFeed) take(d Day) {
	h.Days = append(h.Days, d)
	h.Demand += d.Demand
	h.Supply += d.Eaten
	if lack := d.Short(); lack > 0 {
		if h.ShortDays == 0 {
			h.FirstShort = d.Date
		}
		h.ShortDays++
		h.Short += lack
	}
}
