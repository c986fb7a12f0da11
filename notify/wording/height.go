package wording

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// How a height is said: as it was read, as it will be, and how far either can be trusted.

// readOn is a height beside the one that decides, with its day where that is not today.
func (v voice) readOn(h *ladder.Height, floor float64, today civil.Date) string {
	height := v.withUnit(v.against(h.Mean, floor))
	if !h.Day.IsZero() && !today.IsZero() && h.Day != today {
		return v.say("height.on", "height", height, "day", v.date(h.Day))
	}
	return height
}

// tall is a height with its plants: '11 in (20 plants)'.
func (v voice) tall(f *ladder.VerdictFacts, floor float64) string {
	h := v.shortly(f, floor)
	if f.Height.Plants > 0 {
		return v.say("height.plants", "height", h, "n", f.Height.Plants)
	}
	return h
}

// shortly is a height alone, with its day where it was not read today.
func (v voice) shortly(f *ladder.VerdictFacts, floor float64) string {
	if !f.Stale.IsZero() {
		return v.say("height.on", "height", v.withUnit(v.against(f.Height.Mean, floor)), "day", v.date(f.Stale))
	}
	return v.readOn(f.Height, floor, f.Day)
}

// heightAnd is the height beside the one that decides.
func (v voice) heightAnd(f *ladder.VerdictFacts, d *season.Verdict, key string) []part {
	if f.Height == nil {
		return nil
	}
	short := v.shortly(f, d.Floor)
	floor := v.bare(d.Floor)
	return []part{keep(rankAnswer, sentence(v.say(key, "height", v.tall(f, d.Floor), "leave", floor)), sentence(v.say(key, "height", short, "leave", floor)))}
}

// grass is a height with the days of grass it is good for.
func (v voice) grass(d *season.Verdict, height string) string {
	n, known := daysOfGrass(d.Days)
	switch {
	case d.More:
		return v.say("grass.more", "height", height)
	case !known:
		return v.say("grass.unknown", "height", height)
	case n == 0:
		return v.say("grass.under-one", "height", height)
	}
	return v.say("grass", "height", height, "days", n)
}

// expected is the height to come, with how sure it is.
func (v voice) expected(f *ladder.VerdictFacts) []part {
	e := f.Expect
	if f.Verdict != nil && f.Verdict.Drought {
		return []part{may(rankDetail, v.say("drought"))}
	}
	if e == nil || e.Mean <= 0 {
		return nil
	}
	if e.ByCutoff > 0 && f.Days > 0 && !f.Cutoff.IsZero() {
		return []part{may(rankDetail, v.say("expect.cutoff", "height", v.unitless(e.ByCutoff), "day", v.date(f.Cutoff)))}
	}
	about := v.say("expect.frost", "height", v.unitless(e.Mean))
	if e.Low <= 0 || e.High < e.Low {
		return []part{may(rankDetail, about)}
	}
	span := v.say("expect.range", "height", v.unitless(e.Mean), "low", v.whole(e.Low), "high", v.whole(e.High))
	if e.Chance != nil && e.Seasons >= seasonsForChance && f.Target > 0 {
		return []part{may(rankDetail, v.say("expect.chance", "height", v.unitless(e.Mean), "percent", v.percent(*e.Chance), "wanted", v.bare(f.Target)), about)}
	}
	return []part{may(rankDetail, span, about)}
}

// seasonsForChance is how many falls of its own a paddock has before a text
// names a chance in percent.
const seasonsForChance = 3

// unitless is a forecast height with its unit, in whole units.
func (v voice) unitless(inches float64) string { return v.withUnit(v.whole(inches)) }

// howSure says how far a reading can be trusted.
func (v voice) howSure(f *ladder.VerdictFacts, d *season.Verdict) []part {
	h := f.Height
	if h == nil || d.Say == "" {
		return nil
	}
	parts := []part{
		when(h.More > 0 && h.TodayOnly, may(rankWhen, v.say("today-only.more", "n", h.More), v.say("today-only"))),
		when(h.More > 0 && !h.TodayOnly, may(rankWhen, v.say("read-more", "n", h.More))),
		when(h.More == 0 && h.TodayOnly, may(rankWhen, v.say("today-only"))),
	}
	saidDry := d.Reason == season.UnderLeave || d.Reason == season.InRest || d.Reason == season.Parched
	return append(parts,
		when(h.Patchy, may(rankDetail, v.say("patchy"), v.say("patchy.short"))),
		when(d.Drought && !saidDry, may(rankDetail, v.say("drought"))))
}

// readingRow is a reading with its plants, its day and how sure it is.
func (v voice) readingRow(h *ladder.Height, floor float64) string {
	if h == nil || h.Mean <= 0 {
		return ""
	}
	s := v.withUnit(v.against(h.Mean, floor))
	if h.Plants > 0 {
		s = v.say("height.plants", "height", s, "n", h.Plants)
	}
	if !h.Day.IsZero() {
		s = v.say("entry.dated", "entry", s, "day", v.date(h.Day))
	}
	if h.Low > 0 && h.High > h.Low {
		s = v.say("row.interval", "height", s, "low", v.bare(h.Low), "high", v.bare(h.High))
	}
	return s
}

// expectRow is a height to come with its range, and its chance where there is one.
func (v voice) expectRow(e *ladder.Expect, target float64) string {
	if e == nil || e.Mean <= 0 {
		return ""
	}
	s := v.say("row.expect.by", "height", v.unitless(e.Mean), "day", v.date(e.At))
	if e.Low > 0 && e.High > e.Low {
		s = v.say("row.expect.range", "expected", s, "low", v.whole(e.Low), "high", v.whole(e.High))
	}
	if e.Chance != nil && target > 0 {
		s = v.say("row.expect.chance", "expected", s, "height", v.length(target), "falls", v.falls(*e.Chance))
	}
	return s
}

// mustStand is the height that must stand at frost, and about when that is.
func (v voice) mustStand(f *ladder.PaddockFacts) string {
	if f.Frost.IsZero() {
		return v.say("at-frost", "height", v.length(f.Target))
	}
	return v.say("at-frost.about", "height", v.length(f.Target), "day", v.date(f.Frost))
}
