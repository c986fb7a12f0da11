package main

import (
	"cmp"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/notify/language"
	"stubbled/scheduler/record"
	"stubbled/scheduler/season"
)

type paperFlags struct {
	year            int
	lang, html, csv string
	json            bool
}

func recordCmd(e *env) *cobra.Command {
	var f paperFlags
	c := &cobra.Command{
		Use:   "record",
		Short: "Shows the grazing record of a year, for a landlord or an agency",
		Long: `record shows who grazed each paddock from when to when, what that came to in
animal-unit days, the heights, and whether it had its rest: from the diary alone.
A year runs from the grass's turn, April 1 by default, to the next. It is kept by
the farm and not certified.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			sight, farm, err := e.sight(c.Context(), "", f.json)
			if err != nil {
				return err
			}
			return showRecord(e, sight, farm, f)
		},
	}
	f.of(c)
	c.Flags().StringVar(&f.csv, "csv", "", "write it into a `file` for a spreadsheet")
	c.Flags().BoolVar(&f.json, "json", false, "as JSON")
	return c
}

// of are the flags that every paper has.
func (f *paperFlags) of(c *cobra.Command) {
	c.Flags().IntVar(&f.year, "year", 0, "the `year` of the fall; this season's where not given")
	c.Flags().StringVar(&f.lang, "language", "", "the `language` on paper; the first manager's where not given")
	c.Flags().StringVar(&f.html, "html", "", "write it into a `file` to print")
}

// settle fills in what was not given.
func (f *paperFlags) settle(farm *config.Farm, today civil.Date) error {
	f.year = cmp.Or(f.year, season.YearOf(today, farm.Rule.Spring))
	if f.year < 1900 || f.year > 2199 {
		return usage.Errorf("--year: want a year such as 2026, got %d", f.year)
	}
	if f.lang != "" && language.Lookup(f.lang) == nil {
		return usage.Errorf("--language: want one of %v, got %q", language.Tags(), f.lang)
	}
	f.lang = cmp.Or(f.lang, farm.FirstManager().Language)
	return nil
}

func showRecord(e *env, sight season.Sight, farm *config.Farm, f paperFlags) error {
	if err := f.settle(farm, sight.Today); err != nil {
		return err
	}
	pages := record.Year(sight, f.year)
	if f.html != "" {
		page, err := report.RecordHTML(farm, pages, f.lang)
		if err == nil {
			err = report.WriteFile(f.html, page)
		}
		if err != nil {
			return err
		}
	}
	if f.csv != "" {
		if err := report.RecordCSV(f.csv, farm.Zone, pages); err != nil {
			return err
		}
	}
	if f.json {
		return report.RecordJSON(e.out, sight.Farm, f.year, pages)
	}
	return report.Record(e.out, sight.Farm, pages)
}
