package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
)

func grassesCmd(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "grasses [NAME]",
		Short: "Shows every figure of the grasses and of the plants that poison, with its range and sources",
		Long: `grasses shows what is taken of each grass and of each plant that poisons where the
farm file says nothing, the range over the sources that disagree, how well each
figure is known, and its sources; of one grass where it is named.`,
		RunE: func(c *cobra.Command, names []string) error {
			if report.Grasses(e.out, strings.Join(names, " ")) {
				return nil
			}
			return usage.Errorf("no grass and no plant that poisons is called %q; without a name all are shown", strings.Join(names, " "))
		},
	}
}
