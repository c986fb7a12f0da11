package report

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"stubbled/scheduler"
	"stubbled/scheduler/season"
)

// Season is every paddock's season: frost, cutoff, phase, verdict; and the last
// pass before they shut.
func Season(w io.Writer, sight season.Sight, views []season.View) error {
	if len(views) == 0 {
		return errors.New("the farm has no paddocks")
	}
	fmt.Fprintf(w, "%s on %s: frost planned on %s at %s\n\n", sight.Farm.Name, longDay(sight.Today), PlanWords(sight.Farm.Plan), PlaceWords(sight.Farm.Plan))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "PADDOCK\tFROST\tCUTOFF\tDAYS\tPHASE\tANIMALS\tHEIGHT\tSAYS\tWHY\tAT FROST")
	for i := range views {
		v := &views[i]
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", v.Paddock.Name, ShortDay(v.Dates.Frost), ShortDay(v.Dates.Cutoff),
			daysTo(v), phaseWords(v), v.Herds.Occupancy, heightWords(v), sayWords(v), v.Verdict.Reason, aheadWords(v))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	lastPass(w, sight)
	return nil
}

// lastPass prints the last pass before the paddocks shut.
func lastPass(w io.Writer, sight season.Sight) {
	stops := scheduler.LastPass(sight)
	if len(stops) == 0 {
		return
	}
	fmt.Fprintln(w, "\nThe last pass, so that every cutoff is met:")
	for _, s := range stops {
		fmt.Fprintf(w, "  %s: %s from %s, out by %s", strings.Join(s.Herds, ", "), s.Name, ShortDay(s.In), ShortDay(s.Out))
		if s.Wants > 0 {
			fmt.Fprintf(w, "; then %d day(s) without open grass before the last cutoff", s.Wants)
		}
		fmt.Fprintln(w)
	}
}

type paddockJSON struct {
	ID           string   `json:"id"`
	Name         string   `json:"name"`
	Frost        *string  `json:"frost"`
	Cutoff       *string  `json:"cutoff"`
	DaysToCutoff *int     `json:"days_to_cutoff"`
	Phase        string   `json:"phase"`
	HoldUntil    *string  `json:"hold_until"`
	Occupancy    string   `json:"occupancy"`
	HeightIn     *float64 `json:"height_in"`
	Readings     int      `json:"readings"`
	Verdict      *string  `json:"verdict"`
	Action       string   `json:"action"`
	Reason       string   `json:"reason"`
	DaysOfGrass  *float64 `json:"days_of_grass"`
	Expected     *float64 `json:"expected_at_frost_in"`
	Low          *float64 `json:"low_in"`
	High         *float64 `json:"high_in"`
	Chance       *float64 `json:"chance_at_frost"`
}

// SeasonJSON is Season for other programs.
func SeasonJSON(w io.Writer, sight season.Sight, views []season.View) error {
	paddocks := make([]paddockJSON, len(views))
	for i := range views {
		paddocks[i] = paddockOf(&views[i])
	}
	return printJSON(w, map[string]any{"farm": sight.Farm.Name, "on": sight.Today.String(), "paddocks": paddocks})
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
