package main

import (
	"errors"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/store"
)

func diaryCmd(e *env) *cobra.Command {
	var asCSV bool
	c := &cobra.Command{
		Use:   "diary",
		Short: "Shows everything that was written down, corrections included",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return e.reading(c.Context(), func(farm *config.Farm, s *store.Store) error {
				err := report.Diary(c.Context(), e.out, s)
				if asCSV {
					err = report.DiaryCSV(c.Context(), e.out, s, farm.Zone)
				}
				return errors.Join(err, s.Damaged())
			})
		},
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "as CSV, for a spreadsheet")
	return c
}
