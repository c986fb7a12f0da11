package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/checkup"
	"stubbled/cmd/stubbled/daemon"
	"stubbled/store"
)

func checkCmd(e *env) *cobra.Command {
	var send string
	var again, settings bool
	c := &cobra.Command{
		Use:   "check",
		Short: "Checks farm file, database and carriers, and says the mend",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			switch {
			case settings:
				farm, err := e.farm()
				if err != nil {
					return err
				}
				return farm.Effective(e.out)
			case again:
				return sayAgain(c.Context(), e)
			}
			return check(c.Context(), e, send)
		},
	}
	c.Flags().StringVar(&send, "send", "", "send a test to this `contact` by every carrier")
	c.Flags().BoolVar(&again, "again", false, "queue once more what could not be said in the last week")
	c.Flags().BoolVar(&settings, "settings", false, "print every setting and where it comes from")
	return c
}

// check looks at the farm file, or where that is refused at what the daemon goes
// on with.
func check(ctx context.Context, e *env, send string) error {
	farm, refused := e.farm()
	if refused != nil {
		last, ok := e.lastGood()
		if !ok {
			return refused
		}
		farm = last
	}
	db := e.dbPath(farm.File)
	_, service := daemon.LastGood(farm.File, db)
	return checkup.Run(ctx, checkup.Options{
		Farm: farm, Refused: refused, DB: db, Now: e.clock.Now, In: e.in, Out: e.out, Log: daemon.Logger(e.err), Send: send,
		Service: service || e.ofService(farm.File), Wait: e.patience,
	})
}

// againFor is how long what is said again stays worth saying.
const againFor = 24 * time.Hour

// sayAgain queues what could not be said once more; the daemon sends it.
func sayAgain(ctx context.Context, e *env) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	db := e.dbPath(farm.File)
	if err := notAsRoot(db); err != nil {
		return err
	}
	s, err := store.OpenBeside(ctx, db, store.Farm{Name: farm.Name, Was: farm.Was})
	if err != nil {
		return err
	}
	defer s.Close()
	now := e.clock.Now()
	unsaid, err := s.NotSaid(ctx, now.AddDate(0, 0, -7))
	if err != nil {
		return err
	}
	var rows []int64
	for _, u := range unsaid {
		if u.State != store.Queued && u.State != store.Sending {
			rows = append(rows, u.ID)
		}
	}
	n, err := s.SayAgain(ctx, rows, now.Add(againFor), now)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%d message(s) queued once more; the daemon says them within a minute\n", n)
	return nil
}
