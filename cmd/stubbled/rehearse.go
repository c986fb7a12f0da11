package main

import (
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/rehearsal"
)

func rehearseCmd(e *env) *cobra.Command {
	var o rehearsal.Options
	c := &cobra.Command{
		Use:   "rehearse",
		Short: "Plays a season under a virtual clock; nothing is sent",
		Long: `rehearse runs the same scheduler, store and answers as the daemon under a virtual
clock and prints every message in order. Nothing is sent and nothing is kept.

A replies file has one line a text:  2026-08-22T09:15 Ana: creek 14 8 6 8
A text sent earlier than it came:    2026-08-22T09:15 [sent 2026-08-21T18:00] Ana: creek 9
It plays the weather that the station's record has of these days, and beyond its
end that of the fall whose first frost is the median one, and on from there through
the years of the record. A farm with a date by hand plays an invented fall: 31 F on
that date, and 27 F ten days later.

Without a farm file it plays the demo farm, an invented place and people, with a
conversation of theirs where no replies are given.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) (err error) {
			if o.Farm, o.Demo, err = e.farmOrDemo(o.JSON); err != nil {
				return err
			}
			o.Out = e.out
			return rehearsal.Play(c.Context(), o)
		},
	}
	c.Flags().StringVar(&o.From, "from", "", "first day played, such as 2026-06-20")
	c.Flags().StringVar(&o.To, "to", "", "last day played")
	c.Flags().StringVar(&o.Replies, "replies", "", "`file` of texts to play")
	c.Flags().IntVar(&o.StationYear, "station-year", 0, "play the temperatures that the station observed in that `year`")
	c.Flags().StringVar(&o.Weather, "weather", "", "'none' plays no temperatures and no rain")
	c.Flags().BoolVar(&o.JSON, "json", false, "one JSON object a line for each message")
	c.Flags().BoolVar(&o.Mails, "mails", false, "print mails in full")
	return c
}
