package herd

import (
	"sort"

	"github.com/golang-sql/civil"
)

// Ground is one piece of ground a herd may eat from while natives rest.
type Ground struct {
	ID       string
	Acres    float64
	Native   bool
	Cool     bool    // cool-season grass: it grows through the fall and can be stockpiled
	Standing float64 // lb animals may still eat there on the first day, the floor left alone
	// Share of what it grows that animals get; see Utilization. Natives are
	// credited no growth here: what they grow in rest is the rest.
	Share float64
	Until civil.Date // first day it may not be grazed: its cutoff, or the day it is given back; zero for none
	From  civil.Date // first day it may be grazed; zero for at once
}

// Fall is the weeks from the first cutoff to the end of rest.
type Fall struct {
	From, To civil.Date // first and last day, both counted
	Herds    []Herd
	Ground   []Ground
	// Spare are native paddocks that could be used on purpose, best first, with
	// what may be eaten of each so that it still makes its height at frost.
	Spare []Ground
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
	Closes     []Close
}

// Feed is where all herds eat.
type Feed struct {
	Herds     []HerdFeed
	Left      float64 // lb still to be eaten on open ground after the last day
	Stockpile float64 // lb of winter stockpile given up
	OnlyRest  bool    // there was no ground to eat from at all on the first day
}

// MostDaysAhead bounds a plan of where the herd eats.
const MostDaysAhead = 366

// Plan follows the herds day by day from the first cutoff to the end of rest and
// says where each eats, the first day it is short, and what would close the gap.
//
// Each day the herds eat in turn, in the order given. A herd stays where it
// stands while that ground is open and carries the day; else it goes to open
// ground that shuts soonest, natives before others (they are shut anyway), then
// in the order given. Herds that did not start together do not share ground
// unless nothing else is left. Ground that is not native grows each day at
// CoolSeasonGrowth where it is cool-season grass, half of it on days animals
// stand there, and animals get Share of that. A herd without head eats nothing;
// without days, herds or ground the plan is empty or all short, never wrong.
func (f Fall) Plan() Feed {
	out := f.follow()
	for i := range out.Herds {
		if out.Herds[i].ShortDays > 0 {
			out.Herds[i].Closes = f.closes(i, out)
		}
	}
	return out
}

// follow is Plan without the closes.
func (f Fall) follow() Feed {
	w := walk{fall: f, left: make([]float64, len(f.Ground)), at: make([]int, len(f.Herds))}
	for i, g := range f.Ground {
		w.left[i] = atLeast0(g.Standing)
	}
	out := Feed{Herds: make([]HerdFeed, len(f.Herds)), OnlyRest: true}
	for i, h := range f.Herds {
		out.Herds[i].ID = h.ID
		w.at[i] = -1
		for j, g := range f.Ground {
			if g.ID == h.Paddock && g.ID != "" {
				w.at[i] = j
			}
		}
	}
	for n, day := 0, f.From; !day.After(f.To) && n < MostDaysAhead; n, day = n+1, day.AddDays(1) {
		w.day(day, out.Herds)
		if n == 0 {
			out.OnlyRest = len(w.order(-1, day)) == 0
		}
	}
	for i := range out.Herds {
		out.Stockpile += out.Herds[i].Stockpile
	}
	for i, g := range f.Ground {
		if g.open(f.To) {
			out.Left += w.left[i]
		}
	}
	return out
}

// open reports whether ground may be grazed on a day.
func (g Ground) open(on civil.Date) bool {
	return (g.From.IsZero() || !on.Before(g.From)) && (g.Until.IsZero() || on.Before(g.Until))
}

// grows is the lb animals may get from a day's growth.
func (g Ground) grows(on civil.Date, grazed bool) float64 {
	if g.Native || !g.Cool {
		return 0
	}
	lb := CoolSeasonGrowth(on) * atLeast0(g.Acres) * share(g.Share)
	if grazed {
		lb *= Regrown
	}
	return finite(lb)
}

// walk is the ground as the days go by.
type walk struct {
	fall Fall
	left []float64 // lb on each ground
	at   []int     // ground each herd stands on, -1 for none
}

// day feeds every herd once and lets the ground grow.
func (w *walk) day(on civil.Date, herds []HerdFeed) {
	grazed := make([]int, len(w.left)) // herd+1 that stands there today
	for i, h := range w.fall.Herds {
		d := Day{Date: on, Demand: h.Demand(on)}
		w.feed(i, &d, grazed)
		herds[i].take(d, w.fall.Ground)
	}
	for j, g := range w.fall.Ground {
		w.left[j] += g.grows(on, grazed[j] != 0)
	}
}

// feed lets one herd eat its day's demand.
func (w *walk) feed(herd int, d *Day, grazed []int) {
	order := w.order(herd, d.Date)
	for pass := range 2 {
		for _, j := range order {
			need := d.Demand - d.Eaten
			if need <= 1e-9 || w.left[j] <= 1e-9 {
				continue
			}
			if taken := grazed[j]; pass == 0 && taken != 0 && !w.together(taken-1, herd) {
				continue
			}
			lb := min(need, w.left[j])
			w.left[j] -= lb
			d.Eaten += lb
			d.Bites = append(d.Bites, Bite{w.fall.Ground[j].ID, lb})
			grazed[j], w.at[herd] = herd+1, j
		}
	}
}

// together reports whether two herds started on the same ground.
func (w *walk) together(a, b int) bool {
	p := w.fall.Herds[a].Paddock
	return a == b || p != "" && p == w.fall.Herds[b].Paddock
}

// order is the open ground in the order a herd would go to it.
func (w *walk) order(herd int, on civil.Date) []int {
	stands := -1
	need := 0.0
	if herd >= 0 {
		stands, need = w.at[herd], w.fall.Herds[herd].Demand(on)
	}
	var out []int
	for j, g := range w.fall.Ground {
		if g.open(on) && (w.left[j] > 0 || g.grows(on, false) > 0) {
			out = append(out, j)
		}
	}
	sort.SliceStable(out, func(a, b int) bool {
		x, y := w.fall.Ground[out[a]], w.fall.Ground[out[b]]
		if sx, sy := out[a] == stands && w.left[out[a]] >= need, out[b] == stands && w.left[out[b]] >= need; sx != sy {
			return sx
		}
		if x.Until.IsZero() != y.Until.IsZero() {
			return y.Until.IsZero()
		}
		if x.Until != y.Until {
			return x.Until.Before(y.Until)
		}
		return x.Native && !y.Native
	})
	return out
}

// take books a day to a herd.
func (h *HerdFeed) take(d Day, ground []Ground) {
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
	if !spendsStockpile(d.Date) {
		return
	}
	for _, b := range d.Bites {
		for _, g := range ground {
			if g.ID == b.Ground && g.Cool {
				h.Stockpile += b.Lb
				break
			}
		}
	}
}
