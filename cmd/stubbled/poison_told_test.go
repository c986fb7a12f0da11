package main

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// firstHold is the cause that begins a hold in a paddock where none stood before, nor a
// mild night came that a frost pocket may feel.
func (f *fall) firstHold(g ground) (first cold, ok bool) {
	end := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
	all := f.colds(end)
	if !g.hazard || len(all) == 0 {
		return first, false
	}
	first = all[0]
	for _, n := range f.nights() {
		if n.night.Before(first.night) {
			return first, false
		}
	}
	before := f.ever(first.known, g.id, "regrowth", "brown", "clear", "dead", "dead somewhere", "frost", "undo")
	return first, len(before) == 0 && first.known.Format(time.DateOnly) <= f.to
}

func (f *fall) managers() (all []string) {
	for _, p := range f.people {
		if p.role == "manager" {
			all = append(all, p.name)
		}
	}
	return all
}

// unnamed are held paddocks that a manager was not told of when their hold began: by
// ten in the morning after a cold night, within a quarter of an hour after a text.
func (f *fall) unnamed(count map[string]int) (faults []string) {
	for _, g := range grounds {
		c, ok := f.firstHold(g)
		by := c.known.Add(4*time.Hour + 30*time.Minute)
		if c.told {
			by = c.known.Add(15 * time.Minute)
		}
		for _, manager := range f.managers() {
			named := false
			for _, m := range f.said {
				at := wall(m)
				named = named || m.To == manager && !at.Before(c.known) && !at.After(by) && strings.Contains(m.Text, g.name)
			}
			if ok && !named {
				faults = append(faults, fmt.Sprintf("%s is not told by %s of the hold on %s since %s", manager, by, g.name, c.known))
			}
			if ok {
				count["named"]++
			}
		}
	}
	return faults
}

// A stay is a herd on held ground, from when the people can know it.
type stay struct {
	herd       string
	on         ground
	from, over time.Time // over is 13 days after the night or the report of the frost
}

// stays are the herds that stand where the first hold begins, and the cows that are
// turned into ground that a frost holds.
func (f *fall) stays() (all []stay) {
	for _, g := range grounds {
		c, ok := f.firstHold(g)
		for _, herd := range []string{"cows", "heifers"} {
			if ok && (f.herdOn[herd] == g.id || f.herdOn[herd] == "") && len(f.ever(c.known, "", "off", "on")) == 0 {
				all = append(all, stay{herd, g, c.known, c.night.Add(13 * dayLong)})
			}
		}
		turned := f.ever(c.night.Add(12*dayLong), g.id, "on")
		for i, h := range turned {
			empty := i == 0 && f.herdOn["cows"] != g.id && f.herdOn["heifers"] != g.id
			if ok && empty && h.at.After(c.known) && strings.HasPrefix(f.shut(g, h.at), "a frost") {
				all = append(all, stay{"cows", g, h.at, c.night.Add(13 * dayLong)})
			}
		}
	}
	return all
}

// until is when a stay may have ended: at a text that moves or lifts anything of it.
func (f *fall) until(s stay) time.Time {
	end, _ := time.Parse(time.DateOnly, f.to)
	end = minTime(end.Add(21*time.Hour), s.over)
	for _, h := range f.texts {
		here := h.paddock == s.on.id && slices.Contains([]string{"off", "clear", "brown", "dead"}, h.what) || h.what == "dead somewhere"
		if h.at.After(s.from) && (here || h.what == "undo" || h.what == "on" && s.herd == "cows") {
			end = minTime(end, h.at)
		}
	}
	return end
}

// silent are the times without a text to a manager, while a herd stands on a hold, that
// are too long: over 4.5 h by day in the first two days, 6.5 after.
func (f *fall) silent(count map[string]int) (faults []string) {
	for _, s := range f.stays() {
		end := f.until(s)
		for _, manager := range f.managers() {
			last := s.from
			count["spoken of"]++
			check := func(at time.Time) {
				most := 4.5
				if at.After(s.from.Add(2 * dayLong)) {
					most = 6.5
				}
				if gap := byDay(at) - byDay(last); gap > most {
					faults = append(faults, fmt.Sprintf("%s hears nothing of the %s on the held %s for %.1f h by day, from %s to %s", manager, s.herd, s.on.name, gap, last, at))
				}
				last = at
			}
			for _, m := range f.said {
				if at := wall(m); m.To == manager && !at.Before(s.from) && at.Before(end) && strings.Contains(m.Text, s.on.name) {
					check(at)
				}
			}
			check(end)
		}
	}
	return faults
}

func minTime(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// byDay counts the hours from 6 to 21 up to a moment.
func byDay(t time.Time) float64 {
	hours := t.Sub(t.Truncate(dayLong)).Hours()
	return float64(t.Unix()/86400)*15 + min(max(hours-6, 0), 15)
}
