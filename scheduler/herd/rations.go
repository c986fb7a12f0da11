package herd

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// rations say who eats what on which day, so that the herds lack as little as any
// plan leaves them, and within that as much as any is left for the winter. Ground that
// shuts on one day and bars the same herds is one class, herds that may stand on the
// same ground one group: who of them eats which of it makes no difference to the
// pounds.
//
// They are a largest flow from the ground to the herds' days, found by augmenting
// paths, the first days first, from ground that shuts before ground that does not
// (Ahuja, Magnanti & Orlin, Network Flows, 1993). A path that is not found once is
// never found later, so no day found short is short for nothing.
type rations struct {
	days    int
	today   int // what was eaten before is eaten
	demand  [][]float64
	classes []class
	x       [][][]float64 // lb that each group is to eat off each class on each day from today on
	use     [tiers]float64
	moved   []move // by the bite at hand

	shared  bool
	looks   int
	seen    [][]step
	reached []int
	queue   []eater
}

// A tier is what grass is worth: what would be lost is eaten first, and hay last.
const (
	lost = iota
	winter
	hay
	tiers
)

// class is ground that is one to the herds; the last of all is hay, without end.
type class struct {
	tier  int
	shuts int       // days on which it is open, counted from the first
	may   []bool    // of each group
	stock []float64 // lb left on each day when all have eaten
	least []float64 // the least of stock from each day on, to its end
	dry   []int     // the first day from each on that leaves nothing; its end where none does
}

// eater is a group on a day.
type eater struct{ group, day int }

// move is lb more off a class for an eater, or less.
type move struct {
	eater
	class int
	lb    float64
}

// step is how an eater was come to: in the place of whom, on which class.
type step struct {
	from  eater
	class int
	look  int   // in which search
	dead  uint8 // the tiers that no path leads to, a bit each
}

// newRations shares a fall's ground out. of is the class of each ground, in that of
// each herd.
func newRations(f Fall, demand [][]float64, shuts []int) (r *rations, of, in []int) {
	r = &rations{days: len(demand)}
	keys := make([]string, len(f.Ground)) // the herds that each ground bars
	byKey := map[string][]bool{}
	for j, g := range f.Ground {
		bars := make([]bool, len(f.Herds))
		for i, h := range f.Herds {
			bars[i] = slices.Contains(g.Barred, h.ID)
		}
		if keys[j] = ""; slices.Contains(bars, true) {
			keys[j] = fmt.Sprint(bars)
		}
		byKey[keys[j]] = bars
	}
	sorted := make([]int, len(f.Ground))
	for j := range sorted {
		sorted[j] = j
	}
	slices.SortFunc(sorted, func(a, b int) int { return cmp.Or(shuts[a]-shuts[b], cmp.Compare(keys[a], keys[b])) })
	in = r.group(len(f.Herds), demand, byKey)
	of = make([]int, len(f.Ground))
	for n, j := range sorted {
		if n == 0 || shuts[j] != shuts[sorted[n-1]] || keys[j] != keys[sorted[n-1]] {
			c := class{shuts: shuts[j], may: make([]bool, len(r.demand)), stock: make([]float64, r.days)}
			if c.shuts > r.days {
				c.tier = winter
			}
			for i := range f.Herds {
				c.may[in[i]] = !byKey[keys[j]][i]
			}
			r.classes = append(r.classes, c)
		}
		of[j] = len(r.classes) - 1
		r.classes[of[j]].stand(&f.Ground[j])
	}
	r.share()
	return r, of, in
}

// group puts herds that may stand on the same ground together.
func (r *rations) group(herds int, demand [][]float64, bars map[string][]bool) (in []int) {
	groups, all := map[string]int{}, slices.Sorted(maps.Keys(bars))
	for i := range herds {
		sig := make([]bool, len(all))
		for n, key := range all {
			sig[n] = bars[key][i]
		}
		key := fmt.Sprint(sig)
		if _, ok := groups[key]; !ok {
			groups[key] = len(r.demand)
			r.demand = append(r.demand, make([]float64, r.days))
		}
		in = append(in, groups[key])
		for t := range r.days {
			r.demand[in[i]][t] += demand[t][i]
		}
	}
	return in
}

// stand adds a ground's grass to its class: what stands, and what each day adds for
// the next.
func (c *class) stand(g *Ground) {
	sum := atLeast0(g.Standing)
	for t := range min(c.shuts, len(c.stock)) {
		c.stock[t] += sum
		if t < len(g.Grows) {
			sum += atLeast0(g.Grows[t])
		}
	}
}

// share finds the rations: all are on hay first.
func (r *rations) share() {
	r.classes = append(r.classes, class{tier: hay, shuts: r.days + 1})
	r.reached = make([]int, len(r.classes))
	for k := range r.classes[:r.last()] {
		r.classes[k].look(0)
	}
	for range r.demand {
		x := make([][]float64, len(r.classes))
		for k := range x {
			x[k] = make([]float64, r.days)
		}
		r.x, r.seen = append(r.x, x), append(r.seen, make([]step, r.days))
	}
	for t := range r.days {
		for g := range r.demand {
			e := eater{g, t}
			r.eat(e, r.last(), r.demand[g][t])
			for tier := range hay {
				for r.x[g][r.last()][t] > crumb && r.seen[g][t].dead&(1<<tier) == 0 && r.relieve(r.last(), t, t+1, tier, r.x[g][r.last()][t]) > 0 {
				}
			}
		}
	}
	for g := range r.seen {
		clear(r.seen[g])
	}
	r.shared = true
}

// last is the class of hay.
func (r *rations) last() int { return len(r.classes) - 1 }

// look works out what a class can spare, where nothing changed of its days before one.
func (c *class) look(from int) {
	if c.least == nil {
		c.least, c.dry = make([]float64, len(c.stock)), make([]int, len(c.stock))
	}
	end := min(c.shuts, len(c.stock))
	for t := end - 1; t >= 0; t-- {
		least, dry := c.stock[t], end
		if t+1 < end {
			least, dry = min(least, c.least[t+1]), c.dry[t+1]
		}
		if c.stock[t] <= crumb {
			dry = t
		}
		if t < from && least == c.least[t] && dry == c.dry[t] {
			return // nor does it for any before
		}
		c.least[t], c.dry[t] = least, dry
	}
}

// eat lets an eater have lb more off a class.
func (r *rations) eat(e eater, k int, lb float64) {
	c := &r.classes[k]
	r.x[e.group][k][e.day] += lb
	r.use[c.tier] += lb
	if r.shared {
		r.moved = append(r.moved, move{e, k, lb})
	}
	if c.tier == hay {
		return
	}
	for t := e.day; t < min(c.shuts, r.days); t++ {
		c.stock[t] -= lb
	}
	c.look(e.day)
}

// lack is what all lack, lb, and the days on which more than a hundredth of the demand
// does, with so many lb more that any herd may eat on any day: they close the first
// gaps, and no plan makes more of them.
func (r *rations) lack(more float64) (lb float64, days int) {
	for t := range r.days {
		want, lacks := 0.0, 0.0
		for g := range r.demand {
			want += r.demand[g][t]
			lacks += r.x[g][r.last()][t]
		}
		got := min(lacks, more)
		if more -= got; lacks-got > want/100 {
			lb += lacks - got
			days++
		}
	}
	return lb, days
}
