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

type paddockJSON struct {
	ID           string     `json:"id"`
	Name         string     `json:"name"`
	Frost        *string    `json:"frost"`
	Cutoff       *string    `json:"cutoff"`
	DaysToCutoff *int       `json:"days_to_cutoff"`
	Phase        string     `json:"phase"`
	HoldUntil    *string    `json:"hold_until"`
	Holds        []holdJSON `json:"holds"`
	Occupancy    string     `json:"occupancy"`
	HeightIn     *float64   `json:"height_in"`
	Readings     int        `json:"readings"`
	Verdict      *string    `json:"verdict"`
	Action       string     `json:"action"`
	Reason       string     `json:"reason"`
	DaysOfGrass  *float64   `json:"days_of_grass"`
	Expected     *float64   `json:"expected_at_frost_in"`
	Low          *float64   `json:"low_in"`
	High         *float64   `json:"high_in"`
	Chance       *float64   `json:"chance_at_frost"`
}

// A holdJSON is one cause that shuts a paddock; until is null where only a person
// ends it.
type holdJSON struct {
	Plant string  `json:"plant"`
	Cause string  `json:"cause"`
	Since *string `json:"since"`
	Until *string `json:"until"`
}

// SeasonJSON is Season for other programs.
func SeasonJSON(w io.Writer, sight season.Sight, views []season.View) error {
	paddocks := make([]paddockJSON, len(views))
	for i := range views {
		paddocks[i] = paddockOf(&views[i])
	}
	return JSON(w, map[string]any{"farm": sight.Farm.Name, "on": sight.Today.String(), "paddocks": paddocks})
}

func paddockOf(v *season.View) paddockJSON {
	p := paddockJSON{
		ID: v.Paddock.ID, Name: v.Paddock.Name, Frost: isoDate(v.Dates.Frost), Cutoff: isoDate(v.Dates.Cutoff),
		Phase: string(v.Phase), Occupancy: string(v.Herds.Occupancy), Verdict: orNull(string(v.Verdict.Say)), Action: string(v.Verdict.Action),
		Reason: string(v.Verdict.Reason), DaysOfGrass: v.Verdict.Days, Readings: v.Readings,
	}
	if !v.Dates.Cutoff.IsZero() {
		days := v.Dates.Cutoff.DaysSince(v.Today)
		p.DaysToCutoff = &days
	}
	p.Holds = []holdJSON{}
	for _, c := range v.Shut {
		p.Holds = append(p.Holds, holdJSON{c.Plant, string(c.Why), isoDate(c.Since), isoDate(c.Until)})
	}
	if v.Hold != nil {
		p.HoldUntil = isoDate(v.Hold.Until)
	}
	if v.Reading != nil {
		p.HeightIn = &v.Reading.Sample.Mean
	}
	if a := v.Ahead; a != nil {
		p.Expected, p.Low, p.High, p.Chance = &a.Mean, &a.Low, &a.High, &a.Chance
	}
	return p
}
