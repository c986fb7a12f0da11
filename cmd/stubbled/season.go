package main

import (
	"context"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/scheduler/season"
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
	c.Flags().StringVar(&f.ics, "ics", "", "write the cutoffs as a calendar `file`, whose entries ring ten days before and on the day")
	return c
}

func showSeason(ctx context.Context, e *env, f seasonFlags) error {
	sight, farm, err := e.sight(ctx, f.on, f.json)
	if err != nil {
		return err
	}
	views := season.Look(sight)
	if f.chart != "" {
		if err := report.SeasonChart(f.chart, farm, sight, views); err != nil {
			return err
		}
	}
	if f.ics != "" {
		if err := report.Calendar(f.ics, farm, views, e.clock.Now()); err != nil {
			return err
		}
	}
	if f.json {
		return report.SeasonJSON(e.out, sight, views)
	}
	return report.Season(e.out, sight, views)
}
