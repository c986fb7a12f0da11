package herd

import (
	"cmp"
	"slices"
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

// crumb is an amount of feed that is nothing, lb.
const crumb = 1e-6

// walk is the herds and the ground as the days go by.
type walk struct {
	fall   Fall
	days   int
	demand [][]float64 // lb of each herd on each day
	shuts  []int       // days on which each ground is open, counted from the first
	class  []int       // of each ground in reach
	reach  reach
	spare  float64  // lb of winter feed that may still be lost
	told   [][]Stop // to each herd that still stands where it was told to

	day   int
	want  float64   // lb that the herds still want today
	left  []float64 // lb on each ground
	sums  []float64 // and on each class
	order []int     // of the herds: those that may not stand everywhere eat first
	at    []int     // the ground each herd stands on, -1 for none
}

func newWalk(f Fall) *walk {
	w := &walk{fall: f, days: min(max(f.To.DaysSince(f.From)+1, 0), MostDaysAhead)}
	all := make([]float64, w.days)
	for t := range w.days {
		each, on := make([]float64, len(f.Herds)), f.From.AddDays(t)
		for i, h := range f.Herds {
			each[i] = h.Demand(on)
			all[t] += each[i]
		}
		w.demand = append(w.demand, each)
	}
	for _, g := range f.Ground {
		w.shuts, w.left = append(w.shuts, g.openDays(f, w.days)), append(w.left, atLeast0(g.Standing))
	}
	w.reach, w.class = newReach(f.Ground, w.shuts, all)
	w.sums = make([]float64, len(w.reach.shuts))
	for j, lb := range w.left {
		if w.shuts[j] == 0 {
			w.left[j], lb = 0, 0
		}
		w.sums[w.class[j]] += lb
	}
	for _, h := range f.Herds {
		w.at = append(w.at, slices.IndexFunc(f.Ground, func(g Ground) bool { return g.ID == h.Paddock && g.ID != "" }))
	}
	w.order = make([]int, len(f.Herds))
	bars := make([]int, len(f.Herds))
	for i, h := range f.Herds {
		w.order[i] = i
		for _, g := range f.Ground {
			if slices.Contains(g.Barred, h.ID) {
				bars[i]++
			}
		}
	}
	slices.SortStableFunc(w.order, func(a, b int) int { return bars[b] - bars[a] })
	if w.days > 0 {
		w.spare, w.told = SparedDays*all[0], w.promises()
	}
	return w
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
	w.want = w.reach.demand[w.day]
	for _, i := range w.order {
		d := Day{Date: w.fall.From.AddDays(w.day), Demand: w.demand[w.day][i]}
		w.feed(i, &d, &herds[i])
		herds[i].take(d)
	}
	for j, g := range w.fall.Ground {
		if w.day < len(g.Grows) && w.day < w.shuts[j] {
			lb := atLeast0(g.Grows[w.day])
			w.left[j] += lb
			w.sums[w.class[j]] += lb
		}
		if w.day+1 >= w.shuts[j] {
			w.sums[w.class[j]] -= w.left[j]
			w.left[j] = 0
		}
	}
}

// feed lets one herd eat its day's demand: on the ground where it would rather be,
// as long as nothing is lost by that, else where grass is lost soonest.
func (w *walk) feed(herd int, d *Day, h *HerdFeed) {
	wish, soonest := w.sorted(herd, w.wish), []int(nil)
	for need := d.Demand; need > crumb && len(wish) > 0; need = d.Demand - d.Eaten {
		j := wish[0]
		if w.left[j] <= crumb {
			wish = wish[1:]
			continue
		}
		if w.sooner(w.class[j]) {
			if soonest == nil {
				soonest = w.sorted(herd, w.soonest)
			}
			for w.left[soonest[0]] <= crumb {
				soonest = soonest[1:]
			}
			j = w.choose(herd, j, soonest[0], need)
		}
		w.bite(herd, j, min(need, w.left[j]), d)
		if w.fall.Ground[j].Cool && spendsStockpile(d.Date) {
			h.Stockpile += d.Bites[len(d.Bites)-1].Lb
		}
	}
	w.want -= d.Demand - d.Eaten
}

// bite lets a herd eat so much of a ground.
func (w *walk) bite(herd, j int, lb float64, d *Day) {
	w.left[j] -= lb
	w.sums[w.class[j]] -= lb
	w.want -= lb
	w.at[herd] = j
	d.Eaten += lb
	d.Bites = append(d.Bites, Bite{w.fall.Ground[j].ID, lb})
}

// choose is where a herd goes that would rather be on one ground, while the grass of
// another is lost sooner.
func (w *walk) choose(herd, wish, soonest int, need float64) int {
	if w.promised(herd, wish) < len(w.told[herd]) {
		return wish
	}
	winter, before := w.lost(wish, need)
	if before > crumb || winter > w.spare && !w.fall.Ground[soonest].Last {
		return soonest
	}
	w.spare -= winter
	return wish
}

// promised is the place of a ground among those that a herd was told to be on from
// today on; past the last of them where it was not.
func (w *walk) promised(herd, j int) int {
	today := w.fall.From.AddDays(w.day)
	for n, s := range w.told[herd] {
		if s.Ground == w.fall.Ground[j].ID && today.Before(s.Out) {
			return n
		}
	}
	return len(w.told[herd])
}

// sooner reports whether there is grass that is lost sooner than that of a class,
// and more grass in all than is eaten today.
func (w *walk) sooner(class int) bool {
	all := 0.0
	for _, lb := range w.sums {
		all += lb
	}
	return all > w.want && slices.ContainsFunc(w.sums[:class], func(lb float64) bool { return lb > crumb })
}

// lost is what eating from a ground now costs, lb: of winter's feed, and of what
// lacks before.
func (w *walk) lost(j int, need float64) (winter, before float64) {
	now := w.reach.from(w.day, w.want, w.sums)
	bite := min(need, w.left[j])
	w.sums[w.class[j]] -= bite
	then := w.reach.from(w.day, w.want-bite, w.sums)
	w.sums[w.class[j]] += bite
	return max(0, now.kept-then.kept), max(0, now.eaten-then.eaten-bite)
}

// sorted is the ground that has something left for a herd, the lowest rank first,
// in whatever order it is listed.
func (w *walk) sorted(herd int, rank func(herd, j int) [3]int) []int {
	ranks := make([][3]int, len(w.left))
	var open []int
	for j, g := range w.fall.Ground {
		if w.left[j] > crumb && !slices.Contains(g.Barred, w.fall.Herds[herd].ID) {
			ranks[j] = rank(herd, j)
			open = append(open, j)
		}
	}
	slices.SortFunc(open, func(a, b int) int {
		x, y := &w.fall.Ground[a], &w.fall.Ground[b]
		return cmp.Or(slices.Compare(ranks[a][:], ranks[b][:]), len(y.Barred)-len(x.Barred), cmp.Compare(w.left[b], w.left[a]), cmp.Compare(x.ID, y.ID))
	})
	return open
}

// wish ranks ground by where a herd would rather be: where it was told to, on ground
// that shuts, then on
// what stands dormant, whose worth falls fastest in winter, then on stockpile
// (Kentucky Forage News, 2017); never alone for less than a visit is worth.
func (w *walk) wish(herd, j int) [3]int {
	g := &w.fall.Ground[j]
	if n := w.promised(herd, j); n < len(w.told[herd]) {
		return [3]int{-1, n, 0}
	}
	closes, stands := w.shuts[j] <= w.days, w.stands(herd, j)
	worth := w.shuts[j]-w.day >= leastVisit && w.left[j] >= leastVisit*w.demand[w.day][herd]
	place := 5
	switch {
	case closes && stands:
		place = 0
	case closes && worth:
		place = 1
	case !g.Cool && !closes && (stands || worth):
		place = 2
	case g.Cool && stands:
		place = 3
	case g.Cool:
		place = 4
	}
	if w.apart(herd, j) {
		place += 6
	}
	if g.Last {
		place += 12
	}
	return [3]int{place, w.shuts[j], g.Need}
}

// soonest ranks ground by the day on which its grass is lost.
func (w *walk) soonest(herd, j int) [3]int {
	place := 2
	switch {
	case w.stands(herd, j):
		place = 0
	case !w.apart(herd, j):
		place = 1
	}
	return [3]int{w.shuts[j], place, w.fall.Ground[j].Need}
}

// stands reports whether a herd, or one that it stands with, is on a ground.
func (w *walk) stands(herd, j int) bool {
	for i, at := range w.at {
		if at == j && (i == herd || w.together(i, herd)) {
			return true
		}
	}
	return false
}

// apart reports whether a herd that this one does not stand with is on a ground.
func (w *walk) apart(herd, j int) bool {
	for i, at := range w.at {
		if at == j && i != herd && !w.together(i, herd) {
			return true
		}
	}
	return false
}

// together reports whether two herds started on the same ground.
func (w *walk) together(a, b int) bool {
	p := w.fall.Herds[a].Paddock
	return p != "" && p == w.fall.Herds[b].Paddock
}
