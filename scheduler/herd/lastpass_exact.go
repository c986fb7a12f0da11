package herd

// cost ranks orders; the first field that differs decides.
type cost struct{ wanting, away, early int }

func (c cost) less(d cost) bool {
	if c.wanting != d.wanting {
		return c.wanting < d.wanting
	}
	if c.away != d.away {
		return c.away < d.away
	}
	return c.early < d.early
}

func (c cost) plus(d cost) cost {
	return cost{c.wanting + d.wanting, c.away + d.away, c.early + d.early}
}

// route is the best order found for a set of paddocks.
type route struct {
	cost  cost
	order []int
	found bool
}

// exact tries, for each bunch, every order of every set of paddocks once, keeps
// the best order of each set, and then shares the sets out between the bunches.
func (p *plan) exact() Pass {
	sets := 1 << len(p.ground)
	together := make([]route, sets) // best so far for the bunches taken, by set used
	together[0].found = true
	lists := make([][][]int, sets)
	for _, b := range p.eaters {
		alone := p.routes(b)
		next := make([]route, sets)
		nextLists := make([][][]int, sets)
		for used, t := range together {
			if !t.found {
				continue
			}
			rest := (sets - 1) &^ used
			for mine := rest; ; mine = (mine - 1) & rest {
				if a := alone[mine]; a.found {
					c := t.cost.plus(a.cost)
					if n := &next[used|mine]; !n.found || c.less(n.cost) {
						*n = route{cost: c, found: true}
						nextLists[used|mine] = append(append([][]int(nil), lists[used]...), a.order)
					}
				}
				if mine == 0 {
					break
				}
			}
		}
		together, lists = next, nextLists
	}
	best := -1
	for used := range together {
		if !together[used].found {
			continue
		}
		together[used].cost.early += p.skipped(used)
		if best < 0 || together[used].cost.less(together[best].cost) {
			best = used
		}
	}
	return p.pass(lists[best], true)
}

// routes gives the best order of each set of paddocks for one bunch; an order
// counts only if every visit has at least a day.
func (p *plan) routes(bunch int) []route {
	out := make([]route, 1<<len(p.ground))
	home := p.home(bunch)
	var walk func(used, day int, c cost, order []int)
	walk = func(used, day int, c cost, order []int) {
		done := c
		done.wanting = p.horizon - day
		if r := &out[used]; !r.found || done.less(r.cost) {
			*r = route{done, append([]int(nil), order...), true}
		}
		for g := range p.ground {
			if used&(1<<g) != 0 {
				continue
			}
			days, _ := p.stay(bunch, g, day)
			if days == 0 {
				continue
			}
			n := c
			if len(order) == 0 && g != home && home >= 0 {
				n.away = 1
			}
			n.early += p.moreUrgent(g, used)
			walk(used|1<<g, day+days, n, append(order, g))
		}
	}
	walk(0, 0, cost{}, make([]int, 0, len(p.ground)))
	return out
}

// moreUrgent counts the paddocks of a set that were visited although g is more
// urgent than they are.
func (p *plan) moreUrgent(g, set int) int {
	n := 0
	for i := range p.ground {
		if set&(1<<i) != 0 && p.ground[g].Urgency < p.ground[i].Urgency {
			n++
		}
	}
	return n
}

// skipped counts, over the paddocks no bunch visits, the visited ones that are
// less urgent.
func (p *plan) skipped(used int) int {
	n := 0
	for g := range p.ground {
		if used&(1<<g) == 0 {
			n += p.moreUrgent(g, used)
		}
	}
	return n
}
