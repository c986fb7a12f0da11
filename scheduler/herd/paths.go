package herd

import "math"

// nobody is in whose place the first of a path is moved.
var nobody = eater{-1, -1}

// relieve moves up to so many lb of those who eat off a class, on the days from one to
// before another, to ground of a tier or a better one, others in turn in their place;
// it tells how many. 0 where no path leads there.
func (r *rations) relieve(k, from, to, tier int, most float64) float64 {
	r.looks, r.queue = r.looks+1, r.queue[:0]
	for c := range r.reached {
		r.reached[c] = r.today
	}
	r.displace(k, from, to, tier, nobody)
	for n := 0; n < len(r.queue); n++ {
		e := r.queue[n]
		if on, ok := r.spares(e, tier); ok {
			return r.push(e, on, most)
		}
		for on := range r.classes[:r.last()] {
			if c := &r.classes[on]; c.tier <= tier && c.feeds(e) {
				to := min(c.dry[e.day]+1, c.shuts, r.days)
				r.displace(on, r.reached[on], to, tier, e)
				r.reached[on] = max(r.reached[on], to)
			}
		}
	}
	if !r.shared {
		for _, e := range r.queue {
			r.seen[e.group][e.day].dead |= 1 << tier
		}
	}
	return 0
}

// displace lines up who eats off a class on the days from one to before another.
func (r *rations) displace(k, from, to, tier int, by eater) {
	for t := from; t < to; t++ {
		for g := range r.demand {
			if s := &r.seen[g][t]; r.x[g][k][t] > crumb && s.look != r.looks && s.dead&(1<<tier) == 0 {
				s.from, s.class, s.look = by, k, r.looks
				r.queue = append(r.queue, eater{g, t})
			}
		}
	}
}

// feeds reports whether an eater may stand on a class, and it is open.
func (c *class) feeds(e eater) bool { return e.day < c.shuts && c.may[e.group] }

// spares is the class of a tier or a better one that has something left for an eater,
// the soonest lost first.
func (r *rations) spares(e eater, tier int) (k int, ok bool) {
	for k := range r.classes[:r.last()] {
		if c := &r.classes[k]; c.tier <= tier && c.feeds(e) && c.least[e.day] > crumb {
			return k, true
		}
	}
	return 0, false
}

// push moves along the path to an eater who goes to a class.
func (r *rations) push(e eater, k int, most float64) float64 {
	lb := min(most, r.classes[k].least[e.day])
	for at := e; at != nobody; {
		s := r.seen[at.group][at.day]
		lb = min(lb, r.x[at.group][s.class][at.day])
		if s.from != nobody {
			for t := s.from.day; t < at.day; t++ {
				lb = min(lb, r.classes[s.class].stock[t])
			}
		}
		at = s.from
	}
	for at := e; at != nobody; {
		s := r.seen[at.group][at.day]
		r.eat(at, k, lb)
		r.eat(at, s.class, -lb)
		at, k = s.from, s.class
	}
	return lb
}

// bite lets a group eat lb off a class today, whoever was to eat them moved to
// something else. It tells what that costs: lb of winter's feed, and of what lacks.
func (r *rations) bite(group, k int, lb float64) (winterLb, lacks float64) {
	e, had := eater{group, r.today}, r.use
	r.moved = r.moved[:0]
	r.change(e, k, lb)
	r.x[group][k][r.today] -= lb // it is eaten: nobody moves it
	for c := &r.classes[k]; ; {
		t := r.today
		for t < min(c.shuts, r.days) && c.stock[t] > -crumb {
			t++
		}
		if t == min(c.shuts, r.days) || !r.makeRoom(k, t, -c.stock[t]) {
			break
		}
	}
	r.mend(had)
	return r.use[winter] - had[winter], r.use[hay] - had[hay]
}

func (r *rations) unbite(group, k int, lb float64) {
	r.x[group][k][r.today] += lb
	for n := len(r.moved) - 1; n >= 0; n-- {
		m := r.moved[n]
		r.eat(m.eater, m.class, -m.lb)
	}
	r.moved = r.moved[:0]
}

// change makes an eater's ration lb of one class at least, in place of what is worth
// least to the herds, else of what shuts last.
func (r *rations) change(e eater, k int, lb float64) {
	more := lb - r.x[e.group][k][e.day]
	for from := r.last(); from >= 0 && more > 0; from-- {
		if take := min(more, r.x[e.group][from][e.day]); from != k && take > 0 {
			r.eat(e, from, -take)
			r.eat(e, k, take)
			more -= take
		}
	}
}

// makeRoom moves some who eat off a class up to a day to other ground, else to hay.
func (r *rations) makeRoom(k, day int, lb float64) (some bool) {
	for tier := range hay {
		if r.relieve(k, r.today, day+1, tier, lb) > 0 {
			return true
		}
	}
	for t := day; t >= r.today; t-- {
		for g := range r.demand {
			if take := min(lb, r.x[g][k][t]); take > 0 {
				r.eat(eater{g, t}, k, -take)
				r.eat(eater{g, t}, r.last(), take)
				lb, some = lb-take, true
			}
		}
	}
	return some
}

// mend uses what a bite set free: for who lacks more than before, then for who eats
// more of winter's feed.
func (r *rations) mend(had [tiers]float64) {
	for tier := hay; tier > lost; tier-- {
		for k := range r.classes {
			for r.use[tier] > had[tier]+crumb && r.classes[k].tier == tier && r.relieve(k, r.today, r.days, tier-1, math.Inf(1)) > 0 {
			}
		}
	}
}
