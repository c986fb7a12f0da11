package main

import (
	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/store"
)

func saidCmd(e *env) *cobra.Command {
	var who, on string
	var asJSON bool
	c := &cobra.Command{
		Use:   "said",
		Short: "Shows every message with its fate, and why one was not sent",
		Long: `said shows every message: what was sent and when, what waits, and what was never
sent and why: the day's cap was reached, its owner had said stop, there is no
address, it was no longer wanted, or no longer true. A day is that on which it was
due or on which its fate was settled.`,
		Example: "  stubbled said --to Luis --on 2026-08-29",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.reading(c.Context(), func(farm *config.Farm, s *store.Store) (err error) {
				o := report.SaidOptions{To: who, Now: e.clock.Now(), JSON: asJSON}
				if on != "" {
					var day civil.Date
					if day, err = e.day(on, farm, false); err != nil {
						return err
					}
					o.On = day
				}
				return report.Said(c.Context(), e.out, farm, s, o)
			})
		},
	}
	c.Flags().StringVar(&who, "to", "", "only those to this `contact`")
	c.Flags().StringVar(&on, "on", "", "only those of a `day` such as 2026-08-29")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}
