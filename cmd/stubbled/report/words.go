package report

import (
	"fmt"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
)

// Words of the tables that a person reads at the farm's own machine.

func longDay(d civil.Date) string {
	return fmt.Sprintf("%s %d, %d", d.Month.String()[:3], d.Day, d.Year)
}

// ShortDay is a day of this year, or a dash for none.
func ShortDay(d civil.Date) string {
	if d.IsZero() {
		return "-"
	}
	return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day)
}

// PlanWords is the frost that a farm counts back from.
func PlanWords(plan season.Plan) string {
	if plan.Hand != nil {
		return "a date by hand"
	}
	if plan.Level == 0 {
		return "the average " + plan.Threshold.String()
	}
	return fmt.Sprintf("the %d %% date of %s", plan.Level, plan.Threshold)
}

// PlaceWords is where that frost is.
func PlaceWords(plan season.Plan) string {
	if plan.Place == "" {
		return "the farm"
	}
	return plan.Place
}

func daysTo(v *season.View) string {
	if v.Dates.Cutoff.IsZero() {
		return "-"
	}
	return fmt.Sprint(v.Dates.Cutoff.DaysSince(v.Today))
}

func phaseWords(v *season.View) string {
	if v.Hold != nil {
		return fmt.Sprintf("%s, HOLD to %s", v.Phase, ShortDay(v.Hold.Until))
	}
	if v.FallUse {
		return string(v.Phase) + ", fall use"
	}
	return string(v.Phase)
}

func heightWords(v *season.View) string {
	if v.Reading == nil {
		return "-"
	}
	return fmt.Sprintf("%.1f in, %s", v.Reading.Sample.Mean, ShortDay(v.Reading.Day))
}

func sayWords(v *season.View) string {
	action := strings.ReplaceAll(string(v.Verdict.Action), "_", " ")
	if v.Verdict.Say == "" {
		return action
	}
	return fmt.Sprintf("%s: %s", v.Verdict.Say, action)
}

func aheadWords(v *season.View) string {
	if v.Ahead == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f in (%.0f-%.0f)", v.Ahead.Mean, v.Ahead.Low, v.Ahead.High)
}
