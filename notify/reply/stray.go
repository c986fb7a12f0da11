package reply

import "strings"

// sideBySide reports whether two paddocks stand behind a verb of motion with
// nothing between them: moved from creek hill may lack a 'to'.
func (p *parser) sideBySide(c *piece) bool {
	verb := false
	for _, st := range c.caught {
		verb = verb || p.toks[st.tok].is(sMoved|sWent|sPut)
	}
	places := c.get(inFrom)
	for k := 1; k < len(places); k++ {
		if places[k] == places[k-1]+1 && verb {
			return true
		}
	}
	return false
}

// strayVerb gives a verb that may not be about the animals: one that speaks of
// them only where they stand beside it, or behind it.
func (p *parser) strayVerb(c *piece) string {
	stock := c.get(inStock)
	for _, st := range c.caught {
		t := &p.toks[st.tok]
		if !t.is(sMoved|sPut|sWent) || t.is(sUs) {
			continue
		}
		if p.reader.hinted(t.s, hNeedsAnimals) && len(stock) == 0 && c.form != fOn {
			return t.s
		}
		if p.reader.hinted(t.s, hAnimalsBehind) && (len(stock) == 0 || stock[len(stock)-1] < st.tok) {
			return t.s
		}
	}
	return ""
}

// openWater tells 'creek froze', which may be said of the water, from 'froze on
// creek'.
func (p *parser) openWater(c *piece) bool {
	frost, place := c.get(inFrost), c.get(inPlace)
	return len(frost) > 0 && len(place) > 0 && place[0] < frost[0] && p.reader.hinted(p.toks[frost[0]].s, hWaterFroze)
}

// dryWater reports whether a clause says that something is empty which may be
// water.
func (p *parser) dryWater(c *piece) bool {
	empty := false
	for _, st := range c.caught {
		empty = empty || p.toks[st.tok].is(sEmpty)
	}
	if !empty || len(c.get(inStock)) > 0 {
		return false
	}
	for _, i := range c.get(inFrom) {
		for w := range strings.FieldsSeq(p.toks[i].s) {
			if p.reader.hinted(fold(w), hWater) {
				return true
			}
		}
	}
	return false
}
