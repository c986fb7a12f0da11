package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// When a height is asked for during rest. Assumptions: what a season needs to
// teach anything, and no more texts than that.
const (
	freshAtCutoff = 4  // days; a reading as fresh as this is the height at cutoff
	freshMidRest  = 7  // days
	askFor        = 5  // days that the question stays worth asking
	endAskAfter   = 5  // days after the end of rest, once the cautions were read
	endWindow     = 14 // days after the end of rest in which a height still counts
)

// askHeights asks for the heights that tell what a rest was worth: at cutoff
// once the paddock is empty, at mid-rest, and after the end of rest.
func (p *plan) askHeights(v *season.View) {
	if !v.Paddock.Native() || v.FallUse || v.Dates.Cutoff.IsZero() {
		return
	}
	if v.Phase == season.Dormant {
		if v.EndHeight == 0 && v.Dates.EndedBy != "" {
			p.ask(v, "end", v.Dates.Ended.AddDays(endAskAfter), endWindow-endAskAfter)
		}
		return
	}
	if v.Herds.Occupancy == season.Grazed {
		return
	}
	mid := v.Dates.Cutoff.AddDays(v.Dates.Frost.DaysSince(v.Dates.Cutoff) / 2)
	start := v.Dates.Cutoff
	if v.Herds.LastOff.After(start) {
		start = v.Herds.LastOff // they left late: the rest begins only then
	}
	begun := start.AddDays(1)
	when, day, since := "mid-rest", mid, mid.AddDays(-freshMidRest)
	if v.Herds.Occupancy == season.Empty && (p.today.Before(mid) || begun.After(mid)) {
		when, day, since = "cutoff", begun, start.AddDays(-freshAtCutoff)
	}
	if !readSince(v, since) {
		p.ask(v, when, day, askFor)
	}
}

func readSince(v *season.View, day civil.Date) bool {
	return v.Reading != nil && !v.Reading.Day.Before(day)
}

func (p *plan) ask(v *season.View, when string, day civil.Date, days int) {
	k, f := cutoffKey(v, Cause{Kind: "-"}, "height", when), &HeightFacts{PaddockFacts: p.facts(v), When: when}
	for _, c := range p.hearers(AskHeight) {
		p.tell(c, AskHeight, k, f, p.mornings(c, day, day.AddDays(days)))
	}
}
