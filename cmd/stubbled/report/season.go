package report

import (
	"errors"
	"io"

	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// Season is every paddock's season: frost, cutoff, phase, verdict; and the last
// pass before they shut.
func Season(w io.Writer, sight season.Sight, views []season.View) error {
	if len(views) == 0 {
		return errors.New("the farm has no paddocks")
	}
	return printPage(w, "season.txt", sight.Farm, struct {
		season.Sight
		Views    []season.View
		LastPass []ladder.Stop
	}{sight, views, scheduler.LastPass(sight)})
}

// SeasonJSON is Season for other programs.
func SeasonJSON(w io.Writer, sight season.Sight, views []season.View) error {
	paddocks := make([]object, len(views))
	for i := range views {
		paddocks[i] = paddockOf(&views[i])
	}
	return JSON(w, map[string]any{"farm": sight.Farm.Name, "on": sight.Today.String(), "paddocks": paddocks, "changed": changed(sight)})
}

func paddockOf(v *season.View) object {
	var toCutoff *int
	if !v.Dates.Cutoff.IsZero() {
		toCutoff = new(v.Dates.Cutoff.DaysSince(v.Today))
	}
	holds := []object{} // until is null where only a person ends it
	for _, c := range v.Shut {
		holds = append(holds, object{{"plant", c.Plant}, {"cause", string(c.Why)}, {"since", isoDate(c.Since)}, {"until", isoDate(c.Until)}})
	}
	var until *string
	if v.Hold != nil {
		until = isoDate(v.Hold.Until)
	}
	var height, mean, low, high, chance *float64
	if v.Reading != nil {
		height = &v.Reading.Sample.Mean
	}
	if a := v.Ahead; a != nil {
		mean, low, high, chance = &a.Mean, &a.Low, &a.High, &a.Chance
	}
	return object{
		{"id", v.Paddock.ID}, {"name", v.Paddock.Name}, {"frost", isoDate(v.Dates.Frost)}, {"cutoff", isoDate(v.Dates.Cutoff)},
		{"days_to_cutoff", toCutoff}, {"phase", string(v.Phase)}, {"hold_until", until}, {"holds", holds}, {"occupancy", string(v.Herds.Occupancy)},
		{"height_in", height}, {"readings", v.Readings}, {"verdict", orNull(string(v.Verdict.Say))}, {"action", string(v.Verdict.Action)},
		{"reason", string(v.Verdict.Reason)}, {"days_of_grass", v.Verdict.Days},
		{"expected_at_frost_in", mean}, {"low_in", low}, {"high_in", high}, {"chance_at_frost", chance},
	}
}
