package wording

import (
	"stubbled/scheduler/ladder"
)

// facts lists what is known of a paddock, label by value, for a notice about
// it; nothing for notices that are about no paddock.
func (v voice) facts(all ladder.Facts) [][2]string {
	f := ladder.OnPaddock(all)
	if f == nil || f.Name == "" && f.Paddock == "" {
		return nil
	}
	var rows [][2]string
	add := func(key, value string) {
		if value != "" {
			rows = append(rows, [2]string{v.say(key), value})
		}
	}
	if !f.Cutoff.IsZero() {
		add("row.cutoff", v.weekday(f.Cutoff))
	}
	if !f.Frost.IsZero() {
		add("row.frost", v.weekday(f.Frost))
	}
	if !f.OutBy.IsZero() {
		add("row.out-by", v.weekday(f.OutBy))
	}
	if f.Leave > 0 {
		add("row.leave", v.length(f.Leave))
	}
	if f.Target > 0 && !f.NoRest {
		add("row.target", v.length(f.Target))
	}
	add("row.reading", v.readingRow(f.Height, f.Leave))
	if j, ok := all.(interface{ Judgement() *ladder.Verdict }); ok && j.Judgement() != nil {
		add("row.days", v.daysRow(j.Judgement()))
	}
	add("row.expect", v.expectRow(f.Expect, f.Target))
	if len(f.MoveTo) > 0 {
		add("row.move-to", v.list(f.MoveTo, "list.or"))
	}
	if h := f.Hold; h != nil && len(h.Plants) > 0 {
		add("row.plants", v.plants(h.Plants))
		if !h.Until.IsZero() {
			add("row.hold", v.heldUntil(h))
		}
	}
	if s, ok := all.(interface{ Seen() *ladder.Frost }); ok && s.Seen() != nil {
		add("row.cold", v.seen(s.Seen()))
	}
	return rows
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

func (v voice) daysRow(d *ladder.Verdict) string {
	n, known := daysOfGrass(d.Days)
	switch {
	case d.More:
		return v.say("row.days.more")
	case !known:
		return ""
	}
	return v.say("row.days.n", "days", n)
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
	if e.Chance != nil && e.AtFrost && target > 0 {
		s = v.say("row.expect.chance", "expected", s, "height", v.length(target), "falls", v.falls(*e.Chance))
	}
	return s
}
