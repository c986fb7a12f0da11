package checkup

import (
	"fmt"
	"math"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

// frost says what the farm counts back from, and once what the rule of thumb
// means there.
func (c *checkup) frost(farm *config.Farm) {
	today := civil.DateOf(c.Now().In(farm.Zone))
	sight := season.Sight{Farm: &farm.Farm, Book: diary.NewBook(), Today: today, Cache: &season.Cache{}}
	f, err := sight.PlannedFrost()
	if err != nil {
		c.wrong("frost", err)
		return
	}
	c.fine("frost", fmt.Sprintf("%s at %s: %s", report.PlanWords(farm.Plan), report.PlaceWords(farm.Plan), report.ShortDay(f)))
	c.record(farm.Plan)
	c.measured(farm, today)
	if t, ok := season.RuleOfThumb(sight); ok {
		c.note("rule", thumbWords(t))
	}
}

func thumbWords(t season.Thumb) string {
	text := fmt.Sprintf("the rule of thumb here: %g in and %d days reach %g in in about %.0f of 100 falls", t.Leave, t.Rest, t.Target, t.Chance*100)
	cures := ""
	if t.LeaveFor.Found && t.LeaveFor.Value > t.Leave {
		cures = fmt.Sprintf("%g in", t.LeaveFor.Value)
	}
	if t.RestFor.Found && int(t.RestFor.Value) > t.Rest {
		if cures != "" {
			cures += " or "
		}
		cures += fmt.Sprintf("%.0f days", t.RestFor.Value)
	}
	if cures != "" {
		text += fmt.Sprintf("; %s is nearer %.0f", cures, t.Confidence*100)
	}
	return text + " (before a paddock has seasons of its own)"
}

// muchLater is how many days the latest falls may differ from the whole record
// before it is said: a few days of rest are a few days of growth.
const muchLater = 3

// wellKnown is how many falls an average needs to be known to about five days
// either way where first frosts scatter by ten days (derived).
const wellKnown = 20

// fresh is how many days a record that somebody refreshes may lag behind.
const fresh = 30

// measured says where the record has ended and nothing else tells of frosts: then people
// are asked.
func (c *checkup) measured(farm *config.Farm, today civil.Date) {
	r := farm.Plan.Record
	if r == nil || farm.From != "" || farm.Weather.Log != nil || farm.Weather.Service != nil || today.DaysSince(r.Last()) <= fresh {
		return
	}
	c.note("record", "ends on "+r.Last().String()+" and nothing else measures here, so everybody is asked about frosts by text; from: in the frost section fetches it anew each night, weather: reads a thermometer or a service")
}

// record says what the station's record was taken for, and where frost comes at
// another time than it used to.
func (c *checkup) record(plan season.Plan) {
	if plan.Record == nil {
		return
	}
	if plan.Record.Units != "" {
		c.note("record", "temperatures "+plan.Record.Units)
	}
	if off, falls := plan.Record.Distribution(plan.Threshold, frost.Pick{Last: plan.Years}).Unsure(); falls < wellKnown {
		c.note("record", fmt.Sprintf("only %d falls count, so the average frost is known to %.0f days either way; a station with %d or more would be surer", falls, math.Ceil(off), wellKnown))
	}
	all, late, ok := plan.Record.Lately(plan.Threshold, frost.Level(plan.Level))
	if days := math.Round(late) - math.Round(all); ok && plan.Years == 0 && math.Abs(days) >= muchLater {
		way := "later"
		if days < 0 {
			way = "earlier"
		}
		c.note("record", fmt.Sprintf("the last %d falls freeze %.0f days %s than the whole record (%s, not %s); to plan on them write years: %d in the frost section",
			frost.Lately, math.Abs(days), way, report.ShortDay(frost.DateIn(2001, late)), report.ShortDay(frost.DateIn(2001, all)), frost.Lately))
	}
}
