package main

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/scheduler/season"
)

// cardFile is what a card is written into where nothing else was named.
const cardFile = "card.html"

func cardCmd(e *env) *cobra.Command {
	var f paperFlags
	c := &cobra.Command{
		Use:   "card",
		Short: "Writes the wall card: one page for whoever helps",
		Long: `card writes one page for the wall, to print on Letter or A4: when each paddock
shuts, what to leave, what to text with this farm's own short names, whom to
call, and the cautions. Where every rest of this season is over it is the next's.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			sight, farm, err := e.sight(c.Context(), "", false)
			if err != nil {
				return err
			}
			f.year = cmp.Or(f.year, report.CardYear(season.Look(sight)))
			if err := f.settle(farm, sight.Today); err != nil {
				return err
			}
			page, err := report.CardHTML(farm, sight, f.year, f.lang)
			if err != nil {
				return err
			}
			file := cmp.Or(f.html, cardFile)
			if err := report.WriteFile(file, page); err != nil {
				return err
			}
			_, err = fmt.Fprintf(e.out, "%s is the wall card of fall %d: open it in a browser and print it.\n", file, f.year)
			return err
		},
	}
	f.of(c)
	return c
}
