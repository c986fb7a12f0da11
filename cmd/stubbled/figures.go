package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
)

func figuresCmd(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "figures [NAME]",
		Aliases: []string{"grasses"},
		Short:   "Shows every figure of grass, poison, stock, hay and growth, with its range, mark and sources",
		Long: `figures shows what is taken of each grass, of each plant that poisons, of stock, hay
and growth where the farm file says nothing, the range over the sources that
disagree, how well each figure is known, and its sources; of one where it is named,
such as: figures hay.`,
		RunE: func(c *cobra.Command, names []string) error {
			if report.Figures(e.out, strings.Join(names, " ")) {
				return nil
			}
			return usage.Errorf("no figure is of %q; without a name all are shown", strings.Join(names, " "))
		},
	}
}
