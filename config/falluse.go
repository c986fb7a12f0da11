package config

import (
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// fallUse reads which paddocks are grazed through their rest on purpose, and in
// which years.
func (l *loader) fallUse(rows []season.FallUse) {
	type use struct {
		paddock string
		year    int
	}
	seen := map[use]*settings.Entry{}
	used := map[int][]usedEntry{}
	for i, e := range l.Root.Get("fall_use").List() {
		u := rows[i]
		if at := e.Get("paddock"); at != nil {
			switch p, ok := l.farm.Farm.Paddock(u.Paddock); {
			case !ok:
				l.Say(at, "no paddock has the id %q%s", values.Clip(u.Paddock), l.paddockMeant(u.Paddock))
			case p.Grass.Name != "" && !p.Native():
				l.Say(at, "%s is %s, no native: it has no rest to be grazed through; take this out", p.Name, p.Grass.Name)
			case u.Acres > p.Acres && p.Acres > 0:
				l.Say(e.Get("area"), "is %.4g acres, and %s has only %.4g", u.Acres, p.Name, p.Acres)
			}
		}
		if u.Year == 0 || u.Paddock == "" {
			continue
		}
		if was, dup := seen[use{u.Paddock, u.Year}]; dup {
			l.Say(e.Get("paddock"), "%s is listed for %d already (line %d)", u.Paddock, u.Year, was.Line)
			continue
		}
		seen[use{u.Paddock, u.Year}] = e
		for _, y := range []int{u.Year - 1, u.Year + 1} {
			if was, two := seen[use{u.Paddock, y}]; two {
				l.Say(e.Get("paddock"), "%s is in fall use in %d too (line %d): never the same paddock two falls running; choose another", u.Paddock, y, was.Line)
			}
		}
		l.farm.FallUse = append(l.farm.FallUse, u)
		used[u.Year] = append(used[u.Year], usedEntry{u, e})
	}
	l.allowance(used)
}

// usedEntry is one fall use with where it stands.
type usedEntry struct {
	season.FallUse
	*settings.Entry
}

// allowance warns where more native acres are used in a fall than are allowed.
// One small paddock may exceed it where natives are much of the ground.
func (l *loader) allowance(used map[int][]usedEntry) {
	var native, grazed float64
	for _, p := range l.farm.Paddocks {
		grazed += p.Acres
		if p.Native() {
			native += p.Acres
		}
	}
	allowed := herd.AllowedFallUse(native, grazed)
	for year, uses := range used {
		var acres float64
		for _, u := range uses {
			switch p, ok := l.farm.Farm.Paddock(u.Paddock); {
			case !ok:
			case u.Acres > 0:
				acres += u.Acres
			default:
				acres += p.Acres
			}
		}
		lone := len(uses) == 1 && herd.NativeShare(native, grazed) >= herd.LoneFallUse && acres <= native/2
		if acres > allowed && !lone {
			l.Warn(uses[0].Entry, "uses %.4g acres of natives in the fall of %d, and about %.4g are sensible on this farm (native share %.0f%%)",
				acres, year, allowed, 100*herd.NativeShare(native, grazed))
		}
	}
}
