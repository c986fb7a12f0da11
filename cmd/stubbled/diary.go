package main

import (
	"context"

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
				if asCSV {
					return report.DiaryCSV(c.Context(), e.out, s, farm.Zone)
				}
				return report.Diary(c.Context(), e.out, s)
			})
		},
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "as CSV, for a spreadsheet")
	return c
}

// reading opens the database of the farm named, to look at it.
func (e *env) reading(ctx context.Context, look func(*config.Farm, *store.Store) error) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	s, err := store.OpenRead(ctx, e.dbPath(farm.File))
	if err != nil {
		return err
	}
	defer s.Close()
	return look(farm, s)
}
