package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/store"
)

func backupCmd(e *env) *cobra.Command {
	var to string
	c := &cobra.Command{
		Use:   "backup --to FILE",
		Short: "Copies the database while the daemon runs, and proves the copy",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if to == "" {
				return usage.Errorf("want --to FILE")
			}
			return e.reading(c.Context(), func(_ *config.Farm, s *store.Store) error {
				if err := s.Backup(c.Context(), to); err != nil {
					return err
				}
				fmt.Fprintf(e.out, "copied to %s and opened to prove it\n", to)
				return nil
			})
		},
	}
	c.Flags().StringVar(&to, "to", "", "the `file` to write; it must not be there yet")
	return c
}
