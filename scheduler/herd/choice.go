package herd

import (
	"cmp"
	"slices"
)

// A choice is the ground that may feed a herd, in the order of a rank; it is put in
// that order only once the first of it is not enough for a day.
type choice struct {
	rank func(herd, j int) [3]int
	rest []int
	many bool
}

// first is the ground of the lowest rank that has something left for a herd, in
// whatever order it is listed; -1 where none has. of leaves some out.
func (w *walk) first(herd int, c *choice, of func(j int) bool) int {
	if c.many {
		if c.rest == nil {
			c.rest = w.sorted(herd, c.rank)
		}
		for len(c.rest) > 0 && w.left[c.rest[0]] <= crumb {
			c.rest = c.rest[1:]
		}
		if n := slices.IndexFunc(c.rest, func(j int) bool { return w.left[j] > crumb && (of == nil || of(j)) }); n >= 0 {
			return c.rest[n]
		}
		return -1
	}
	c.many = true
	best, least := -1, [3]int{}
	for j := range w.fall.Ground {
		if !w.feeds(herd, j) || of != nil && !of(j) {
			continue
		}
		if r := c.rank(herd, j); best < 0 || w.before(r, least, j, best) < 0 {
			best, least = j, r
		}
	}
	return best
}

func (w *walk) feeds(herd, j int) bool {
	return w.left[j] > crumb && w.rations.classes[w.class[j]].may[w.group[herd]]
}

// sorted is the ground that has something left for a herd, the lowest rank first.
func (w *walk) sorted(herd int, rank func(herd, j int) [3]int) []int {
	ranks, open := make([][3]int, len(w.left)), []int{}
	for j := range w.left {
		if w.feeds(herd, j) {
			ranks[j] = rank(herd, j)
			open = append(open, j)
		}
	}
	slices.SortFunc(open, func(a, b int) int { return w.before(ranks[a], ranks[b], a, b) })
	return open
}

// before compares two grounds: the rank, then what bars more herds, has more left.
func (w *walk) before(x, y [3]int, a, b int) int {
	if by := slices.Compare(x[:], y[:]); by != 0 {
		return by
	}
	g, h := &w.fall.Ground[a], &w.fall.Ground[b]
	return cmp.Or(len(h.Barred)-len(g.Barred), cmp.Compare(w.left[b], w.left[a]), cmp.Compare(g.ID, h.ID))
}

// wish ranks ground by where a herd would rather be: where it was told to, on ground
// that shuts, then on what stands dormant, whose worth falls fastest in winter, then on stockpile
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
