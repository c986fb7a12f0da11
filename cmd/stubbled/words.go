package main

import (
	"fmt"
	"strings"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/season"
)

// Words of the tables that a person reads at the farm's own machine.

func longDay(d civil.Date) string {
	return fmt.Sprintf("%s %d, %d", d.Month.String()[:3], d.Day, d.Year)
}

func shortDay(d civil.Date) string {
	if d.IsZero() {
		return "-"
	}
	return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day)
}

func planWords(farm *config.Farm) string {
	if farm.Plan.Hand != nil {
		return "a date by hand"
	}
	if farm.Plan.Level == 0 {
		return "the average " + farm.Plan.Threshold.String()
	}
	return fmt.Sprintf("the %d %% date of %s", farm.Plan.Level, farm.Plan.Threshold)
}

func placeWords(farm *config.Farm) string {
	if farm.Plan.Place == "" {
		return "the farm"
	}
	return farm.Plan.Place
}

func daysTo(v *season.View) string {
	if v.Dates.Cutoff.IsZero() {
		return "-"
	}
	return fmt.Sprint(v.Dates.Cutoff.DaysSince(v.Today))
}

func phaseWords(v *season.View) string {
	if v.Hold != nil {
		return fmt.Sprintf("%s, HOLD to %s", v.Phase, shortDay(v.Hold.Until))
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
	return fmt.Sprintf("%.1f in, %s", v.Reading.Sample.Mean, shortDay(v.Reading.Day))
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
