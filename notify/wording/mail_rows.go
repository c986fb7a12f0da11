package wording

import (
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// facts lists what is known of a paddock, label by value, for a notice about
// it; nothing for notices that are about no paddock.
func (v voice) facts(all ladder.Facts) [][2]string {
	f := ladder.OnPaddock(all)
	if f == nil || f.Name == "" && f.Paddock == "" {
		return nil
	}
	r := rows{v: v}
	r.add("row.cutoff", !f.Cutoff.IsZero(), v.weekday(f.Cutoff))
	r.add("row.frost", !f.Frost.IsZero(), v.weekday(f.Frost))
	r.add("row.out-by", !f.OutBy.IsZero(), v.weekday(f.OutBy))
	r.add("row.leave", f.Leave > 0, v.length(f.Leave))
	r.add("row.target", f.Target > 0 && !f.NoRest, v.length(f.Target))
	r.add("row.reading", true, v.readingRow(f.Height, f.Leave))
	if j, ok := all.(interface{ Judgement() *season.Verdict }); ok && j.Judgement() != nil {
		n, known := daysOfGrass(j.Judgement().Days)
		r.add("row.days", j.Judgement().More, v.say("row.days.more"))
		r.add("row.days", known && !j.Judgement().More, v.say("row.days.n", "days", n))
	}
	r.add("row.expect", true, v.expectRow(f.Expect, f.Target))
	r.add("row.move-to", true, v.list(f.MoveTo, "list.or"))
	if h := f.Hold; h != nil && len(h.Plants) > 0 {
		r.add("row.plants", true, v.plants(h.Plants))
		r.add("row.hold", !h.Until.IsZero(), v.heldUntil(h))
	}
	if s, ok := all.(interface{ Seen() *ladder.Frost }); ok && s.Seen() != nil {
		r.add("row.cold", true, v.seen(s.Seen()))
	}
	return r.list
}

// rows are gathered label by value.
type rows struct {
	v    voice
	list [][2]string
}

// add adds a row where it is known and says something.
func (r *rows) add(key string, known bool, value string) {
	if known && value != "" {
		r.list = append(r.list, [2]string{r.v.say(key), value})
	}
}

// cell is a value in a table, where it is known.
func (v voice) cell(known bool, value string) string {
	if known {
		return value
	}
	return v.say("none")
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
	if e.Chance != nil && e.AtFrost && target > 0 {
		s = v.say("row.expect.chance", "expected", s, "height", v.length(target), "falls", v.falls(*e.Chance))
	}
	return s
}
