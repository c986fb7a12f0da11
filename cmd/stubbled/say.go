package main

import (
	"context"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/keyboard"
	"stubbled/cmd/stubbled/usage"
)

func heightCmd(e *env) *cobra.Command {
	var who string
	c := &cobra.Command{
		Use:   "height PADDOCK H...",
		Short: "Writes down a reading from the keyboard, as a text would",
		Long: `height takes leaf heights typed at the farm's own machine by the same path as a
text: the daemon writes them down and answers GO or WAIT. Where no daemon runs
this command does it itself.`,
		Example: "  stubbled height creek 14 8 6 8\n  stubbled height \"north 40\" 8 1/2",
		Args:    needArgs(2, "a paddock and at least one height, such as: height creek 9 8 11"),
		RunE:    func(c *cobra.Command, args []string) error { return say(c.Context(), e, who, "", args) },
	}
	c.Flags().StringVar(&who, "contact", "", "who types; the first manager where not given")
	return c
}

func sayCmd(e *env) *cobra.Command {
	var who, on string
	c := &cobra.Command{
		Use:   "say TEXT",
		Short: "Takes any text from the keyboard, as a contact's, and prints the answer",
		Long: `say takes a text typed at the farm's own machine by the same path as one from a
phone, and prints the answer. The daemon hears it within a minute; where none runs
this command hears it itself.

With --on it is heard as if now were that moment, by the farm's own clock (a day
alone is noon): the day it counts for, whether it is late, and what 'undo' takes
back. Its answer is printed and nothing else is made of it: the next pass plans
from today. A time that the clock shows twice is the first.`,
		Example: "  stubbled say off creek\n  stubbled say --as Luis --on 2026-08-22T09:15 \"fuera creek\"",
		Args:    needArgs(1, "a text, such as: say off creek"),
		RunE:    func(c *cobra.Command, args []string) error { return say(c.Context(), e, who, on, args) },
	}
	c.Flags().StringVar(&who, "as", "", "whose text it is, a `contact`; the first manager where not given")
	c.Flags().StringVar(&on, "on", "", "the `moment` it is said, such as 2026-08-22 or 2026-08-22T09:15; now where not given")
	return c
}

// answerWithin is how long a running daemon may take to answer: it looks once a
// minute.
const answerWithin = 75 * time.Second

func say(ctx context.Context, e *env, who, on string, args []string) error {
	text := strings.TrimSpace(strings.Join(args, " "))
	if text == "" {
		return usage.Errorf("want a text, such as: say off creek")
	}
	farm, err := e.farm()
	if err != nil {
		return err
	}
	db := e.dbPath(farm.File)
	if err := notAsRoot(db); err != nil {
		return err
	}
	return keyboard.Say(ctx, keyboard.Options{
		Farm: farm, DB: db, As: who, On: on, Text: text, Now: e.clock.Now(), Wait: e.patience, Out: e.out,
	})
}
