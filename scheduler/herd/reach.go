package herd

import "slices"

// reach is how far ground feeds all herds together. Ground that shuts on the same
// day is one class: who eats which of it makes no difference to the pounds.
type reach struct {
	shuts  []int       // days on which each class is open, counted from the first; ascending
	grows  [][]float64 // lb that each class gains on each day
	demand []float64   // lb that all herds want on each day
	left   []float64   // room for the sums
}

// newReach sums up classes; class is that of each ground.
func newReach(ground []Ground, shuts []int, demand []float64) (r reach, class []int) {
	r.demand, r.shuts = demand, slices.Clone(shuts)
	slices.Sort(r.shuts)
	r.shuts = slices.Compact(r.shuts)
	r.left, r.grows = make([]float64, len(r.shuts)), make([][]float64, len(r.shuts))
	for k := range r.grows {
		r.grows[k] = make([]float64, len(demand))
	}
	class = make([]int, len(ground))
	for j, g := range ground {
		class[j], _ = slices.BinarySearch(r.shuts, shuts[j])
		for t, lb := range g.Grows[:min(len(g.Grows), len(demand))] {
			r.grows[class[j]][t] += atLeast0(lb)
		}
	}
	return r, class
}

// A fate is how far ground feeds all herds from a day on.
type fate struct {
	eaten, kept, lacks float64 // lb; kept is left on open ground in the end
	days               int     // that lack more than a hundredth
}

// from is the most that the herds can still eat from a day on, and the most that
// then is left: what shuts soonest is eaten first. today is what they still want on
// that day.
//
// No other order feeds more. Wherever one eats ground that shuts later while some
// that shuts sooner is there, eating the sooner instead leaves at least as much on
// every later day (earliest deadline first, a textbook exchange).
func (r *reach) from(day int, today float64, left []float64) (f fate) {
	copy(r.left, left)
	first := 0
	for t := day; t < len(r.demand); t++ {
		for first < len(r.shuts) && r.shuts[first] <= t {
			first++
		}
		want := today
		if t > day {
			want = r.demand[t]
		}
		for k := first; k < len(r.shuts); k++ {
			lb := min(want, r.left[k])
			want -= lb
			f.eaten += lb
			r.left[k] += r.grows[k][t] - lb
		}
		if want > r.demand[t]/100 {
			f.lacks += want
			f.days++
		}
	}
	for k, lb := range r.left {
		if r.shuts[k] > len(r.demand) {
			f.kept += lb
		}
	}
	return f
}
