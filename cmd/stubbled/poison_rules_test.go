package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

const dayLong = 24 * time.Hour

// A cold is a cause that holds all ground with hazard plants: a night that was
// measured, or a frost that was told.
type cold struct {
	night, known time.Time
	told         bool
}

// colds are those known before a moment that begin or restart a hold for certain: up
// to the first freeze that kills, and told ones where nothing else names that night
// and whoever told them took nothing back.
func (f *fall) colds(until time.Time) (all []cold) {
	kill := f.kill(until)
	for _, c := range f.nights() {
		if c.known.Before(until) && !c.night.After(kill) && f.cold[c.night.Format(time.DateOnly)] <= 36 {
			all = append(all, c)
		}
	}
	var named []time.Time
	for _, c := range f.nights() {
		named = append(named, c.night)
	}
	for _, h := range f.ever(until, "", "frost") {
		day := h.at.Truncate(dayLong)
		again := slices.ContainsFunc(named, func(n time.Time) bool { return day.Sub(n).Abs() <= dayLong })
		named = append(named, day)
		if !again && h.at.Before(kill) && !f.tookBack(h, until) {
			all = append(all, cold{day, h.at, true})
		}
	}
	slices.SortFunc(all, func(a, b cold) int { return a.known.Compare(b.known) })
	return all
}

// kill is the first night before a moment of 28 F or below; the moment itself where
// there was none.
func (f *fall) kill(until time.Time) time.Time {
	for _, h := range f.nights() {
		if h.night.Before(until) && f.cold[h.night.Format(time.DateOnly)] <= 28 {
			until = h.night
		}
	}
	return until
}

func (f *fall) nights() (all []cold) {
	for day := range f.cold {
		night, _ := time.Parse(time.DateOnly, day)
		all = append(all, cold{night: night, known: night.Add(dayLong + 5*time.Hour + 30*time.Minute)})
	}
	return all
}

func (f *fall) tookBack(h heard, until time.Time) bool {
	return slices.ContainsFunc(f.ever(until, "", "undo"), func(u heard) bool { return u.by == h.by && u.at.After(h.at) })
}

// lifted is when a manager last cleared a paddock and gave the letter.
func (f *fall) lifted(paddock string, until time.Time) (last time.Time) {
	for i, h := range f.texts {
		if h.what == "clear" && h.paddock == paddock && h.by.role == "manager" && f.texts[i+1].at.Before(until) {
			last = f.texts[i+1].at
		}
	}
	return last
}

// shut is why a paddock is surely shut at a moment; empty where that is not sure.
func (f *fall) shut(g ground, at time.Time) string {
	lifted, today := f.lifted(g.id, at), at.Truncate(dayLong)
	since := func(h heard) int { return int(today.Sub(h.at.Truncate(dayLong)) / dayLong) }
	stands := func(h heard) bool { return h.at.After(lifted) && !f.tookBack(h, at) }
	for _, h := range f.ever(at, g.id, "dead") {
		if stands(h) {
			return "an emergency that nobody cleared"
		}
	}
	for _, h := range f.ever(at, "", "dead somewhere") {
		if stands(h) && f.stoodStill(g) && len(f.ever(at, "", "dead")) == 0 {
			return "an emergency of which nobody said where"
		}
	}
	if !g.hazard && !slices.ContainsFunc(f.ever(at, g.id, "plant"), func(h heard) bool { return !f.tookBack(h, at) }) {
		return ""
	}
	brown := f.ever(at, g.id, "brown")
	for _, h := range f.ever(at, "", "frost") {
		if !lifted.IsZero() && stands(h) && h.at.Before(f.kill(at)) && len(brown) == 0 && since(h) <= 13 {
			return "a frost told after a clear"
		}
	}
	for _, h := range brown {
		sure := h.at.Format("01-02") >= "10-22" && len(f.nights()) == 0 && len(f.ever(at, "", "frost")) == 0
		if sure && stands(h) && since(h) <= 13 {
			return "brown tops of a frost that nobody saw"
		}
	}
	for _, c := range f.colds(at) {
		days := 14
		if c.told {
			days = 13
		}
		browned := slices.ContainsFunc(brown, func(b heard) bool { return b.at.Before(c.known) })
		if !browned && c.known.After(lifted) && today.Sub(c.night) <= time.Duration(days)*dayLong {
			return "a frost known " + c.known.String()
		}
	}
	for _, h := range f.ever(at.Add(time.Minute), g.id, "read for mares") {
		if g.kin() && h.at.Equal(at) {
			return "horses on sorghum kin"
		}
	}
	for _, h := range f.ever(at, g.id, "dry") {
		if h.by.role == "manager" && stands(h) && since(h) <= 6 {
			return "a drought"
		}
	}
	for _, h := range f.ever(at, g.id, "regrowth") {
		if stands(h) && since(h) <= 13 && len(brown) == 0 && !f.tall(g, h.at, at) {
			return "regrowth reported"
		}
	}
	words := slices.Concat(f.ever(at, "", "frost", "no frost"), f.ever(at, g.id, "clear"))
	fresh := slices.ContainsFunc(words, func(h heard) bool { return since(h) <= 8 })
	from, _ := time.Parse(time.DateOnly, f.from) // the record may have the nights before
	if !f.measured && len(brown) == 0 && !fresh && today.Format("01-02") >= "10-20" && today.Sub(from) > 2*dayLong {
		return "nobody knows whether it froze"
	}
	return ""
}

// stoodStill reports whether a herd stood on a paddock from the first and nobody ever
// texted that any moved.
func (f *fall) stoodStill(g ground) bool {
	moved := slices.ContainsFunc(f.texts, func(h heard) bool { return h.what == "on" || h.what == "off" })
	return !moved && (f.herdOn["cows"] == g.id || f.herdOn["heifers"] == g.id)
}

// tall reports whether a paddock was read above every safe height between two moments.
func (f *fall) tall(g ground, from, until time.Time) bool {
	return slices.ContainsFunc(f.ever(until.Add(time.Minute), g.id, "read"), func(h heard) bool { return h.at.After(from) && h.inches >= 18 })
}

var putThem = regexp.MustCompile(`(?:Put them in|Métalo en|Metalo en) ([^.:\n]+)`)

// sentToPoison looks at every verdict and at every place named to go to.
func (f *fall) sentToPoison(count map[string]int) (faults []string) {
	for _, m := range f.said {
		at := wall(m)
		for _, to := range putThem.FindAllStringSubmatch(m.Text, -1) {
			count["sent somewhere"]++
			for _, g := range grounds {
				if why := f.shut(g, at); why != "" && strings.Contains(to[1], g.name) {
					faults = append(faults, fmt.Sprintf("%s %s is sent to %s (%s): %s", m.At, m.To, g.name, why, m.Text))
				}
			}
		}
		i := slices.IndexFunc(grounds, func(g ground) bool { return g.id == m.Paddock })
		if i < 0 || m.Height == nil {
			continue
		}
		g, say := grounds[i], "none"
		if m.Verdict != nil {
			say = *m.Verdict
		}
		why := f.shut(g, at)
		if g.safe > 0 && *m.Height < float64(g.safe) && (*m.Height < 8 || !f.turnedIn(g, at)) {
			why = "sorghum kin under its safe height"
		}
		if why != "" {
			count["shut"]++
			count[why]++
		}
		if why != "" && (say == "GO" || strings.Contains(m.Text, "GO ")) {
			faults = append(faults, fmt.Sprintf("%s GO on %s (%s): %s", m.At, g.name, why, m.Text))
		}
		if open := f.open(g, m.To, at, why); open != "" {
			count["GO "+open]++
			if say != "GO" {
				faults = append(faults, fmt.Sprintf("%s %s on %s, which is open (%s): %s", m.At, say, g.name, open, m.Text))
			}
		}
	}
	return faults
}

// open is why a paddock that was just read may surely be grazed; empty where that is
// not sure.
func (f *fall) open(g ground, by string, at time.Time, why string) string {
	i := slices.IndexFunc(f.texts, func(h heard) bool { return h.at.Equal(at) && h.by.name == by && h.what == "read" && h.paddock == g.id })
	spoiled := slices.Concat(f.ever(at, "", "undo", "dead somewhere"), f.ever(at, g.id, "off", "on", "brown", "dead", "regrowth", "plant"))
	for _, h := range f.ever(at, g.id, "read", "read for mares") {
		if at.Sub(h.at) < 3*time.Hour {
			spoiled = append(spoiled, h)
		}
	}
	if i < 0 || why != "" || len(spoiled) > 0 {
		return ""
	}
	inches, empty := f.texts[i].inches, f.herdOn["cows"] != g.id && f.herdOn["heifers"] != g.id
	stress := f.ever(at, g.id, "frost", "dry")
	summer := at.Month() == time.July
	switch {
	case !g.hazard && g.id != "mill" && summer && empty && inches >= 30:
		return "on ordinary ground"
	case g.safe > 0 && summer && empty && inches >= 30 && len(stress) == 0:
		return "on tall sorghum kin"
	case g.id == "lane" && empty && inches >= 14 && len(stress) == 0 && len(f.colds(at)) == 0 && (summer || f.measured && len(f.cold) == 0):
		return "on fescue with the plant"
	case g.id == "lane" && empty && inches >= 14 && len(stress) == 0 && !f.measured && f.noFrostSince(at.Add(-6*dayLong), at):
		return "after no frost"
	case g.id == "lane" && empty && inches >= 14 && f.clearedLast(stress, at):
		return "after a clear"
	}
	return ""
}

// turnedIn reports whether animals went into a paddock in the last eleven days, on a
// reading of that day or the five before at or above its safe height; or were there before
// anybody texted, and it was read as high.
func (f *fall) turnedIn(g ground, at time.Time) bool {
	for _, h := range f.ever(at, g.id, "read") {
		if h.inches >= g.safe && at.Sub(h.at) < 11*dayLong && (f.herdOn["cows"] == g.id || f.herdOn["heifers"] == g.id) {
			return true
		}
	}
	return slices.ContainsFunc(f.ever(at, g.id, "on"), func(on heard) bool {
		return at.Sub(on.at) < 11*dayLong && slices.ContainsFunc(f.ever(on.at.Truncate(dayLong).Add(dayLong), g.id, "read"), func(h heard) bool {
			return on.at.Sub(h.at) < 5*dayLong && h.inches >= g.safe
		})
	})
}

func (f *fall) noFrostSince(from, until time.Time) bool {
	return slices.ContainsFunc(f.ever(until, "", "no frost"), func(h heard) bool { return h.at.After(from) })
}

// clearedLast reports whether the lane was cleared in the last five days, after all
// that may have shut it.
func (f *fall) clearedLast(causes []heard, at time.Time) bool {
	lifted := f.lifted("lane", at)
	for _, c := range f.nights() {
		if c.known.Before(at) {
			causes = append(causes, heard{at: c.known})
		}
	}
	return at.Sub(lifted) < 5*dayLong && len(causes) > 0 && !slices.ContainsFunc(causes, func(h heard) bool { return h.at.After(lifted) })
}
