package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
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
		RunE:    func(c *cobra.Command, args []string) error { return typeHeight(c.Context(), e, who, args) },
	}
	c.Flags().StringVar(&who, "contact", "", "who types; the first manager where not given")
	return c
}

func typeHeight(ctx context.Context, e *env, who string, args []string) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	c, err := typist(farm, who)
	if err != nil {
		return err
	}
	now := e.clock.Now()
	in := store.In{ID: now.UTC().Format(time.RFC3339Nano), From: c.Phone, Contact: c.Name, Text: strings.Join(args, " "), Sent: now}
	if in.From == "" {
		in.From = c.Email
	}
	db := e.dbPath(farm.File)
	s, err := store.Open(ctx, db, store.Options{RunID: "keyboard-" + in.ID, Now: now})
	if errors.Is(err, disk.ErrLocked) {
		return handOver(ctx, e, db, in)
	}
	if err != nil {
		return err
	}
	defer s.Close()
	return hearHere(ctx, e, farm, s, in)
}

// typist is who sits at the keyboard.
func typist(farm *config.Farm, who string) (*ladder.Contact, error) {
	if who != "" {
		return contactNamed(farm, who)
	}
	for i := range farm.Contacts {
		if farm.Contacts[i].Manager() {
			return &farm.Contacts[i], nil
		}
	}
	return &farm.Contacts[0], nil
}

// handOver leaves the reading in the inbox of the daemon that runs.
func handOver(ctx context.Context, e *env, db string, in store.In) error {
	s, err := store.OpenBeside(ctx, db)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.Accept(ctx, scheduler.Keyboard, []store.In{in}, "", e.clock.Now()); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "handed to the daemon, which answers %s within a minute\n", in.Contact)
	return nil
}

// hearHere is one pass of our own; the answer goes to this terminal only.
func hearHere(ctx context.Context, e *env, farm *config.Farm, s *store.Store, in store.In) error {
	now := e.clock.Now()
	if err := s.Accept(ctx, scheduler.Keyboard, []store.In{in}, "", now); err != nil {
		return err
	}
	sched := scheduler.New(scheduler.Options{Store: s, Farm: farm})
	if _, err := sched.Pass(ctx, now); err != nil {
		return err
	}
	p := &report.Transcript{Out: e.out, Zone: farm.Zone}
	answer := notify.NewCourier(notify.CourierOptions{
		Outbox: s, Rules: carriers.Rules(farm), Sure: func() bool { return false }, // the answer alone
		Carriers: []notify.Carrier{p.Carrier(carriers.Name(farm, ladder.Text), ladder.Text), p.Carrier(carriers.Name(farm, ladder.Mail), ladder.Mail)},
	})
	return answer.Drain(ctx, now)
}
