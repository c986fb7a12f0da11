package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
)

func whatIfCmd(e *env) *cobra.Command {
	var on string
	var asJSON bool
	c := &cobra.Command{
		Use:   "what-if TEXT",
		Short: "Shows what would come of something; nothing is written down",
		Long: `what-if prints what would come of it: the height at frost, the days of grass and the
hay, as it stands and as it would be. It takes what may be texted behind 'what if', and
'how low' with a paddock. Nothing is written down.`,
		Example: "  stubbled what-if creek 5 more days\n  stubbled what-if cows to hill tomorrow\n  stubbled what-if i leave 10 in creek\n  stubbled what-if how low creek",
		Args:    needArgs(1, "what is supposed, such as: what-if creek 5 more days"),
		RunE: func(c *cobra.Command, args []string) error {
			sight, farm, err := e.sight(c.Context(), on, asJSON)
			if err != nil {
				return err
			}
			return report.WhatIf(e.out, farm, sight, strings.Join(args, " "), asJSON)
		},
	}
	c.Flags().StringVar(&on, "on", "", "as of a `day`; today where not given")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}
