package main

import (
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
)

func lessonsCmd(e *env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "lessons",
		Short: "Shows what the finished seasons say of each paddock's rule",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			sight, _, err := e.sight(c.Context(), "", asJSON)
			if err != nil {
				return err
			}
			if asJSON {
				return report.LessonsJSON(e.out, sight)
			}
			return report.Lessons(e.out, sight)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}
