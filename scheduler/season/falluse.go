package season

import (
	"stubbled/scheduler/herd"
)

// Uses ranks the native paddocks for fall use in the coming fall, best first.
func Uses(s Sight) []herd.Offer {
	l := s.look()
	year := 0
	for _, p := range l.Farm.natives() {
		if next := l.nextFall(p); year == 0 || next < year {
			year = next
		}
	}
	return l.uses(year)
}

// uses ranks them for one fall.
func (l *look) uses(year int) []herd.Offer {
	native, grazed := l.Farm.acres()
	var candidates []herd.Candidate
	for _, p := range l.Farm.natives() {
		if l.failedIn(p, year-1) {
			continue // it needs this fall's rest
		}
		candidates = append(candidates, herd.Candidate{
			ID: p.ID, Acres: p.Acres, Since: l.sinceUsed(p, year), Chance: l.ruleChance(p, year),
		})
	}
	return herd.RankFallUse(native, grazed, candidates)
}

// sinceUsed is how many falls before a fall a paddock was last used on purpose;
// 0 is never. One that is already chosen for the fall after is never used the
// fall before, so it counts as used last fall.
func (l *look) sinceUsed(p *Paddock, year int) int {
	since := 0
	for _, u := range l.Farm.FallUse {
		if u.Paddock != p.ID {
			continue
		}
		if u.Year == year+1 {
			return 1
		}
		if ago := year - u.Year; ago > 0 && (since == 0 || ago < since) {
			since = ago
		}
	}
	return since
}

// ruleChance is the chance that a paddock makes its height under its own rule;
// 0 where nothing is known.
func (l *look) ruleChance(p *Paddock, year int) float64 {
	g := l.learn(p, year).growth
	rule, ok := l.ruleOf(p, year, g)
	if !ok {
		return 0
	}
	return g.Chance(rule.ask)
}
