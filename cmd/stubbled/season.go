package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/config"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/store"
)

type seasonFlags struct {
	on, chart, ics string
	json           bool
}

func seasonCmd(e *env) *cobra.Command {
	var f seasonFlags
	c := &cobra.Command{
		Use:   "season",
		Short: "Shows every paddock's season: frost, cutoff, phase, verdict",
		Args:  noArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return showSeason(c.Context(), e, f) },
	}
	c.Flags().StringVar(&f.on, "on", "", "as of a `day` such as 2026-08-22; today where not given")
	c.Flags().BoolVar(&f.json, "json", false, "as JSON")
	c.Flags().StringVar(&f.chart, "chart", "", "draw the season into a .png or .svg `file`")
	c.Flags().StringVar(&f.ics, "ics", "", "write the cutoffs as a calendar `file`")
	return c
}

func showSeason(ctx context.Context, e *env, f seasonFlags) error {
	sight, farm, err := e.sight(ctx, f.on)
	if err != nil {
		return err
	}
	views := season.Look(sight)
	if f.chart != "" {
		if err := writeSeasonChart(f.chart, sight, views); err != nil {
			return err
		}
	}
	if f.ics != "" {
		if err := writeCalendar(f.ics, farm, views, e.clock.Now()); err != nil {
			return err
		}
	}
	if f.json {
		out := json.NewEncoder(e.out)
		out.SetIndent("", "  ")
		return out.Encode(map[string]any{"farm": farm.Name, "on": sight.Today.String(), "paddocks": paddocksJSON(views)})
	}
	if err := seasonTable(e, farm, sight.Today, views); err != nil {
		return err
	}
	tellPass(e, sight)
	return nil
}

// tellPass prints the last pass before the paddocks shut.
func tellPass(e *env, sight season.Sight) {
	stops := scheduler.Pass(sight)
	if len(stops) == 0 {
		return
	}
	fmt.Fprintln(e.out, "\nThe last pass, so that every cutoff is met:")
	for _, s := range stops {
		fmt.Fprintf(e.out, "  %s: %s from %s, out by %s", strings.Join(s.Herds, ", "), s.Name, shortDay(s.In), shortDay(s.Out))
		if s.Wants > 0 {
			fmt.Fprintf(e.out, "; then %d day(s) without open grass before the last cutoff", s.Wants)
		}
		fmt.Fprintln(e.out)
	}
}

// sight is the farm named, or the demo farm, with its diary as of a day.
func (e *env) sight(ctx context.Context, on string) (season.Sight, *config.Farm, error) {
	farm, demo, err := e.farmOrDemo()
	if err != nil {
		return season.Sight{}, nil, err
	}
	today, err := e.day(on, farm, demo)
	if err != nil {
		return season.Sight{}, nil, err
	}
	if demo {
		fmt.Fprintln(e.err, "No --farm FILE given: this is the demo farm, an invented place.")
	}
	if demo && e.dbFile == "" {
		return sightOn(farm, diary.NewBook(), today), farm, nil
	}
	sight, err := e.sightOf(ctx, farm, today)
	return sight, farm, err
}

// sightOf is a farm with its diary as of a day.
func (e *env) sightOf(ctx context.Context, farm *config.Farm, today civil.Date) (season.Sight, error) {
	book := diary.NewBook()
	if db := e.dbPath(farm.File); !store.NeverUsed(db) {
		var err error
		if book, err = readDiary(ctx, db); err != nil {
			return season.Sight{}, err
		}
	}
	return sightOn(farm, book, today), nil
}

func sightOn(farm *config.Farm, book *diary.Book, today civil.Date) season.Sight {
	air := farm.Plan.Record
	if air != nil {
		air = air.Before(today)
	}
	return season.Sight{Farm: &farm.Farm, Book: book.Until(today), Today: today, Shelf: &season.Shelf{}, Air: air}
}

// day is the farm's day asked for. The demo farm has a day of its own, so that
// it always shows the weeks that matter.
func (e *env) day(on string, farm *config.Farm, demo bool) (civil.Date, error) {
	switch {
	case on != "":
		d, err := civil.ParseDate(on)
		if err != nil {
			return d, usagef("want a day such as 2026-08-22, got %q", on)
		}
		return d, nil
	case demo:
		return civil.Date{Year: demoFrom.Year, Month: 8, Day: 22}, nil
	}
	return civil.DateOf(e.clock.Now().In(farm.Zone)), nil
}

// readDiary folds a database's facts.
func readDiary(ctx context.Context, db string) (*diary.Book, error) {
	s, err := store.OpenRead(ctx, db)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	book := diary.NewBook()
	err = s.EachFact(ctx, 0, func(f diary.Fact) error { book.Add(f); return nil })
	return book, err
}

// paddockJSON is a paddock's season as outside programs read it: dates ISO
// 8601, lengths in inches, null where unknown.
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

func paddocksJSON(views []season.View) []paddockJSON {
	out := make([]paddockJSON, len(views))
	for i := range views {
		v := &views[i]
		p := paddockJSON{
			ID: v.Paddock.ID, Name: v.Paddock.Name, Frost: isoDate(v.Dates.Frost), Cutoff: isoDate(v.Dates.Cutoff),
			Phase: string(v.Phase), Occupancy: string(v.Herds.Occupancy), Action: string(v.Verdict.Action),
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
		if v.Verdict.Say != "" {
			say := string(v.Verdict.Say)
			p.Verdict = &say
		}
		if a := v.Ahead; a != nil {
			p.Expected, p.Low, p.High, p.Chance = &a.Mean, &a.Low, &a.High, &a.Chance
		}
		out[i] = p
	}
	return out
}

func isoDate(d civil.Date) *string {
	if d.IsZero() {
		return nil
	}
	s := d.String()
	return &s
}

func seasonTable(e *env, farm *config.Farm, today civil.Date, views []season.View) error {
	if len(views) == 0 {
		return errors.New("the farm has no paddocks")
	}
	fmt.Fprintf(e.out, "%s on %s: frost planned on %s at %s\n\n", farm.Name, longDay(today), planWords(farm), placeWords(farm))
	w := tabwriter.NewWriter(e.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "PADDOCK\tFROST\tCUTOFF\tDAYS\tPHASE\tANIMALS\tHEIGHT\tSAYS\tWHY\tAT FROST")
	for i := range views {
		v := &views[i]
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", v.Paddock.Name, shortDay(v.Dates.Frost), shortDay(v.Dates.Cutoff),
			daysTo(v), phaseWords(v), v.Herds.Occupancy, heightWords(v), sayWords(v), v.Verdict.Reason, aheadWords(v))
	}
	return w.Flush()
}

// writeFile writes what a person asked for.
func writeFile(path string, data []byte) error {
	if err := os.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
