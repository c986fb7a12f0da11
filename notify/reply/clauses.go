package reply

import "slices"

// A clause is a run of tokens that says one thing, or, with form 0, one that
// could not be read.
type clause struct {
	form     form
	from, to int
	caught   []step
}

// get gives the tokens in a slot.
func (c *clause) get(s slot) []int {
	var list []int
	for _, st := range c.caught {
		if st.slot == s {
			list = append(list, st.tok)
		}
	}
	return list
}

const separators = sComma | sStop | sAnd | sDash | sSlash | sColon

// clauses finds the cheapest way to part the tokens in clauses. What fits no
// form becomes a clause of form 0, which reaches from one separator to the
// next.
func (p *parser) clauses(grammar []rule, from, to int) []clause {
	toks := p.toks[:to]
	type way struct {
		cost int
		c    clause
		sep  bool
	}
	best := make([]way, to+1)
	for i := range best {
		best[i].cost = 1 << 30
	}
	best[from].cost = 0
	m := &p.matcher
	m.toks = toks
	for i := from; i < to; i++ {
		base := best[i].cost
		if base == 1<<30 {
			continue
		}
		if toks[i].is(separators) && base < best[i+1].cost {
			best[i+1] = way{cost: base, sep: true}
		}
		for r := range grammar {
			m.match(&grammar[r], i, func(end int, path []step) {
				if cost := base + grammar[r].cost; end > i && cost < best[end].cost {
					best[end] = way{cost: cost, c: clause{grammar[r].form, i, end, append([]step(nil), path...)}}
				}
			})
		}
		if (i == from || toks[i-1].is(separators)) && !toks[i].is(separators) {
			end := i + 1
			for end < to && !toks[end].is(separators) {
				end++
			}
			if cost := base + errorCost + errorToken*(end-i); cost < best[end].cost {
				best[end] = way{cost: cost, c: clause{from: i, to: end}}
			}
		}
	}
	var list []clause
	for j := to; j > from; {
		w := best[j]
		if w.sep {
			j--
			continue
		}
		list = append(list, w.c)
		j = w.c.from
	}
	slices.Reverse(list)
	return list
}
