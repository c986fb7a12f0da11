package season

import "fmt"

// What a rest must come to so that the ground may be grazed again before spring
// (assumption; use in August and September costs more than use after October 1 by
// every source read, and 42 to 56 days refill the reserves: K-State Extension
// 2005, Crop Science 29:1282).
const (
	leastRest   = 30   // days
	leastGrown  = 0.25 // of the growth wanted between L and T
	failedLater = 4    // in above B before the next spring's turn-in
)

// failed says in plain words why a season's rest came to too little; empty where
// it did not. What nobody knows fails nothing. Ground where frost beat the cutoff,
// or that was grazed on purpose, had no rest to fail and is judged by its height
// alone.
func (f *Finished) failed(r Rule, known, used bool) string {
	least := r.Leave + leastGrown*(r.AtFrost-r.Leave)
	switch {
	case f.End > 0 && f.End < least:
		return fmt.Sprintf("%.1f in when rest ended, under %.1f", f.End, least)
	case used || !f.RestEnd.After(f.Cutoff):
		return ""
	case f.Grazed:
		return "grazed until its rest ended"
	case known && f.RealRest < leastRest:
		return fmt.Sprintf("rested %d days, under %d", f.RealRest, leastRest)
	}
	return ""
}

// failed reports whether a paddock's latest rest failed: this season's once it has
// ended, else the one before, until animals have been on it again.
func (l *look) failed(v *View, known learned) bool {
	if v.Finished != nil {
		return v.Finished.Failed != ""
	}
	n := len(known.history)
	return n > 0 && known.history[n-1].Year == v.Year-1 && known.history[n-1].Failed != "" &&
		l.moves.emptyFrom(v.Paddock.ID, v.Dates.Turn, l.Today)
}

// failedIn reports whether a paddock's rest failed in a fall.
func (l *look) failedIn(p *Paddock, year int) bool {
	for _, f := range l.learn(p, year+1).history {
		if f.Year == year && f.Failed != "" {
			return true
		}
	}
	return false
}
