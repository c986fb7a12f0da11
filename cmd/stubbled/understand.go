package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
)

type understandFlags struct {
	contact, asked, on, file string
}

func understandCmd(e *env) *cobra.Command {
	var f understandFlags
	c := &cobra.Command{
		Use:   "understand TEXT",
		Short: "Shows what a text would be taken for; nothing is written down",
		Long: `understand prints as JSON the facts that a text would be taken for, or the question
that would be asked back.

With --file it reads lines of contact, asked and text, tab-separated, and prints
one object for each. Escapes: \n \t \r \\ \uXXXX; - for nothing asked.`,
		RunE: func(_ *cobra.Command, args []string) error { return understand(e, f, args) },
	}
	c.Flags().StringVar(&f.contact, "contact", "", "who texts; the first contact where not given")
	c.Flags().StringVar(&f.asked, "asked", "", "paddock `ids` that were asked about, such as creek,hill")
	c.Flags().StringVar(&f.on, "on", "", "the `day` it is sent, such as 2026-08-22")
	c.Flags().StringVar(&f.file, "file", "", "a `file` of tab-separated lines")
	return c
}

func understand(e *env, f understandFlags, args []string) error {
	farm, demo, err := e.farmOrDemo(true)
	if err != nil {
		return err
	}
	day, err := e.day(f.on, farm, demo)
	if err != nil {
		return err
	}
	r := report.NewReader(farm, day, e.out)
	switch {
	case f.file != "" && len(args) > 0:
		return usage.Errorf("a text and --file do not go together")
	case f.file != "":
		return r.File(f.file)
	case len(args) == 0:
		return usage.Errorf("want a text, such as: understand \"creek 9 8 11\"")
	case f.contact == "":
		f.contact = farm.Contacts[0].Name
	default:
		if _, err := report.ContactNamed(farm, f.contact); err != nil {
			return err
		}
	}
	return r.One(f.contact, f.asked, strings.Join(args, " "))
}
