package reply

// animals gives the herds that a clause speaks of, or that were spoken of
// before it; all says that every herd is meant.
func (p *parser) animals(c *piece, stock []int) (herds []int, all bool) {
	for _, i := range stock {
		t := &p.toks[i]
		if t.is(sHerd) {
			for _, h := range t.herds {
				herds = include(herds, h)
			}
			if len(t.herds) > 1 && !t.is(sAll) {
				all = false
			}
		}
		all = all || t.is(sAll) && !t.is(sHerd)
	}
	if len(herds) > 0 {
		all = false
	}
	if len(herds) == 0 && len(p.reader.herds) == 1 {
		herds = []int{0}
	}
	return herds, all
}

// whichOf reports whether it is not clear which herd is meant.
func (p *parser) whichOf(c *piece, herds []int, all bool) bool {
	if len(p.reader.herds) < 2 || all && c.form != fMove {
		return false
	}
	if len(herds) == 0 {
		return true
	}
	for _, i := range c.get(inStock) {
		if t := &p.toks[i]; t.is(sHerd) && len(t.herds) > 1 {
			return true // cows, where two herds are of cows
		}
	}
	return false
}

func every(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}
