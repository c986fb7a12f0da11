package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/notify/wording"
	"stubbled/scheduler/season"
)

func feedCmd(e *env) *cobra.Command {
	var on, chart string
	var asJSON bool
	c := &cobra.Command{
		Use:   "feed",
		Short: "Shows where the herds eat up to the end of rest",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			sight, farm, err := e.sight(c.Context(), on, asJSON)
			if err != nil {
				return err
			}
			plan, ok := season.Feed(sight)
			if !ok {
				return fmt.Errorf("nothing to plan: %s has no herd, or no paddock that rests", farm.Name)
			}
			if chart != "" {
				if err := report.Chart(chart, report.FeedPicture(sight, plan, wording.Options{})); err != nil {
					return err
				}
			}
			if asJSON {
				return report.FeedJSON(e.out, sight, plan)
			}
			return report.Feed(e.out, sight, plan)
		},
	}
	c.Flags().StringVar(&on, "on", "", "as of a `day`; today where not given")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	c.Flags().StringVar(&chart, "chart", "", "draw it into a .png or .svg `file`")
	return c
}
