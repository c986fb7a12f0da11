package herd

import (
	"slices"

	"github.com/golang-sql/civil"
)

// SparedDays is the winter feed, in days of all herds, that a plan may lose to
// ground that shuts if it spares moves (assumption).
const SparedDays = 1.0

// KeptDays is the feed, in days of all herds, that a plan may cost that was told and
// is kept: a plan that changes every Monday is none (assumption).
const KeptDays = 3.0

// leastVisit is how many days of grass ground must have, and how many days it must
// be open, for a herd to be sent there: as many as the answer to a height wants.
const leastVisit = 3

// walk is the herds and the ground as the days go by.
type walk struct {
	fall    Fall
	days    int
	demand  [][]float64 // lb of each herd on each day
	shuts   []int       // days on which each ground is open, counted from the first
	rations *rations
	class   []int    // of each ground in the rations
	group   []int    // and of each herd
	spare   float64  // lb of winter feed that may still be lost
	told    [][]Stop // to each herd that still stands where it was told to

	day   int
	date  civil.Date
	left  []float64 // lb on each ground
	order []int     // of the herds: those that may not stand everywhere eat first
	at    []int     // the ground each herd stands on, -1 for none
}

func newWalk(f Fall) *walk {
	w := &walk{fall: f, order: make([]int, len(f.Herds))}
	w.ration()
	bars := make([]int, len(f.Herds))
	for i, h := range f.Herds {
		w.order[i] = i
		w.at = append(w.at, slices.IndexFunc(f.Ground, func(g Ground) bool { return g.ID == h.Paddock && g.ID != "" }))
		for _, g := range f.Ground {
			if slices.Contains(g.Barred, h.ID) {
				bars[i]++
			}
		}
	}
	for j, g := range f.Ground {
		if w.left = append(w.left, atLeast0(g.Standing)); w.shuts[j] == 0 {
			w.left[j] = 0
		}
	}
	slices.SortStableFunc(w.order, func(a, b int) int { return bars[b] - bars[a] })
	if w.days > 0 {
		for _, lb := range w.demand[0] {
			w.spare += SparedDays * lb
		}
		w.told = w.promises()
	}
	return w
}

// ration works out what the herds want and shares the ground out.
func (w *walk) ration() {
	f := w.fall
	w.days = min(max(f.To.DaysSince(f.From)+1, 0), MostDaysAhead)
	for t := range w.days {
		each := make([]float64, len(f.Herds))
		for i, h := range f.Herds {
			each[i] = h.Demand(f.From.AddDays(t))
		}
		w.demand = append(w.demand, each)
	}
	for _, g := range f.Ground {
		w.shuts = append(w.shuts, g.openDays(f, w.days))
	}
	w.rations, w.class, w.group = newRations(f, w.demand, w.shuts)
}

// promises are the stops of the plan that hold for each herd: none where somebody
// took it to ground with a day's grass that the plan does not name.
func (w *walk) promises() [][]Stop {
	out := make([][]Stop, len(w.fall.Herds))
	for i, h := range w.fall.Herds {
		at := w.at[i]
		there := at < 0 || w.left[at] < w.demand[0][i]
		for _, s := range w.fall.Kept {
			if s.Ground != "" && slices.Contains(s.Herds, h.ID) {
				out[i], there = append(out[i], s), there || s.Ground == h.Paddock
			}
		}
		if !there {
			out[i] = nil
		}
	}
	return out
}

// openDays is on how many days from the first it may be grazed; where it is open
// after the last too, one more than all.
func (g Ground) openDays(f Fall, days int) int {
	if n := g.Until.DaysSince(f.From); !g.Until.IsZero() && n <= days {
		return max(n, 0)
	}
	return days + 1
}

// graze feeds every herd once and lets the ground grow.
func (w *walk) graze(herds []HerdFeed) {
	w.rations.today, w.date = w.day, w.fall.From.AddDays(w.day)
	for _, i := range w.order {
		d := Day{Date: w.date, Demand: w.demand[w.day][i]}
		w.feed(i, &d, &herds[i])
		herds[i].take(d)
	}
	for j, g := range w.fall.Ground {
		if w.day < len(g.Grows) && w.day < w.shuts[j] {
			w.left[j] += atLeast0(g.Grows[w.day])
		}
		if w.day+1 >= w.shuts[j] {
			w.left[j] = 0
		}
	}
}

// feed lets one herd eat its day's demand.
func (w *walk) feed(herd int, d *Day, h *HerdFeed) {
	wish, soonest := &choice{rank: w.wish}, &choice{rank: w.soonest}
	for need := d.Demand; need > crumb; need = d.Demand - d.Eaten {
		j, lb := w.bite(herd, need, wish, soonest)
		if j < 0 {
			return
		}
		w.left[j] -= lb
		w.at[herd] = j
		d.Eaten += lb
		d.Bites = append(d.Bites, Bite{w.fall.Ground[j].ID, lb})
		if w.fall.Ground[j].Cool && monthDay(d.Date) >= stockpileFrom {
			h.Stockpile += lb
		}
	}
}

// bite is the ground that a herd eats from, and how much: where it would rather be, if
// it was told to be there or that costs next to nothing, else where its ration is. -1
// where none is left.
func (w *walk) bite(herd int, need float64, wished, soonest *choice) (j int, lb float64) {
	group, ration := w.group[herd], w.rations.x[w.group[herd]]
	wish := w.first(herd, wished, nil)
	if wish < 0 {
		return wish, 0
	}
	if lb = min(need, w.left[wish]); w.promised(herd, wish) < len(w.told[herd]) || ration[w.class[wish]][w.day] >= lb {
		w.rations.bite(group, w.class[wish], lb)
		return wish, lb
	}
	to := w.first(herd, soonest, func(j int) bool { return ration[w.class[j]][w.day] > crumb })
	winterLb, lacks := w.rations.bite(group, w.class[wish], lb)
	if to < 0 || lacks <= crumb && (winterLb <= max(w.spare, crumb) || w.fall.Ground[to].Last) {
		w.spare -= max(0, winterLb)
		return wish, lb
	}
	w.rations.unbite(group, w.class[wish], lb)
	lb = min(need, w.left[to], ration[w.class[to]][w.day])
	w.rations.bite(group, w.class[to], lb)
	return to, lb
}

// promised is the place of a ground among those that a herd was told to be on from
// today on; past the last of them where it was not.
func (w *walk) promised(herd, j int) int {
	for n, s := range w.told[herd] {
		if s.Ground == w.fall.Ground[j].ID && w.date.Before(s.Out) {
			return n
		}
	}
	return len(w.told[herd])
}
