// Package keyboard takes what a contact types at the farm's own machine by the
// same path as a text: into the inbox, heard, answered. Where a daemon runs that
// one hears it; where none does this package hears it itself. What is said as of
// an earlier moment is heard as if now were that moment, and nothing but its
// answer is made of it: the next pass plans from today.
package keyboard

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/report"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/disk"
)

// Options is what is typed, by whom, and where.
type Options struct {
	Farm *config.Farm
	DB   string
	As   string // whose text it is; empty for the first manager
	On   string // the earlier moment by the farm's own clock, a day alone is noon; empty for now
	Text string
	Now  time.Time
	Wait time.Duration
	Out  io.Writer
}

// Say has a text heard and prints the answer. Where a daemon runs it waits for
// that one, but no longer than Wait.
func Say(ctx context.Context, o Options) error {
	from, err := o.Farm.FirstManager(), error(nil)
	if o.As != "" {
		if from, err = report.ContactNamed(o.Farm, o.As); err != nil {
			return err
		}
	}
	carrier, at := scheduler.Keyboard, o.Now
	if o.On != "" {
		carrier = scheduler.Earlier
		if at, err = moment(o.On, o.Farm.Zone); err != nil {
			return err
		}
	}
	if at.After(o.Now) {
		return usage.Errorf("--on: %s has not come yet", at.In(o.Farm.Zone).Format("Jan 2, 2006 15:04"))
	}
	in := store.In{
		ID: o.Now.UTC().Format(time.RFC3339Nano), From: cmp.Or(from.Phone, from.Email), Contact: from.Name, Text: o.Text, Sent: at,
	}
	of := store.Farm{Name: o.Farm.Name, Was: o.Farm.Was}
	s, err := store.Open(ctx, o.DB, store.Options{RunID: "keyboard-" + in.ID, Now: o.Now, Farm: of})
	beside := errors.Is(err, disk.ErrLocked)
	if beside {
		s, err = store.OpenBeside(ctx, o.DB, of)
	}
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.Accept(ctx, carrier, []store.In{in}, "", at); err != nil {
		return err
	}
	if beside {
		return o.wait(ctx, s, carrier, in)
	}
	if err := o.hear(ctx, s); err != nil {
		return err
	}
	_, answer, err := s.AnswerTo(ctx, carrier, in.ID)
	if err != nil {
		return err
	}
	return o.print(answer)
}

const noon ladder.TimeOfDay = 12 * 60

func moment(text string, zone *time.Location) (time.Time, error) {
	date, clock, timed := strings.Cut(text, "T")
	day, err := civil.ParseDate(date)
	tod := noon
	if timed && err == nil {
		tod, err = ladder.ParseTimeOfDay(clock)
	}
	if err != nil {
		return time.Time{}, usage.Errorf("--on: want a day or a moment such as 2026-08-22 or 2026-08-22T09:15, got %q", text)
	}
	return ladder.Instant(day, tod, zone), nil
}

// hear is what the daemon would do. The answer is printed here, so no phone gets
// it; what else is due is the daemon's to send.
func (o Options) hear(ctx context.Context, s *store.Store) error {
	sched := scheduler.New(scheduler.Options{Store: s, Farm: o.Farm})
	if o.On != "" {
		return sched.HearEarlier(ctx)
	}
	if _, err := sched.Pass(ctx, o.Now); err != nil {
		return err
	}
	unseen := &report.Account{Out: io.Discard, Zone: o.Farm.Zone}
	courier := notify.NewCourier(notify.CourierOptions{
		Outbox: s, Rules: carriers.Rules(o.Farm), Sure: func() bool { return false }, // answers alone
		Carriers: []notify.Carrier{
			unseen.Carrier(carriers.Name(o.Farm, ladder.Text), ladder.Text), unseen.Carrier(carriers.Name(o.Farm, ladder.Mail), ladder.Mail),
		},
	})
	return courier.Drain(ctx, o.Now)
}

// look is how often it is looked whether the daemon has answered.
const look = 200 * time.Millisecond

func (o Options) wait(ctx context.Context, s *store.Store, carrier string, in store.In) error {
	fmt.Fprintf(o.Out, "handed to the daemon, which answers %s within a minute\n", in.Contact)
	ctx, cancel := context.WithTimeout(ctx, o.Wait)
	defer cancel()
	for {
		switch heard, answer, err := s.AnswerTo(ctx, carrier, in.ID); {
		case ctx.Err() != nil:
		case err != nil:
			return err
		case !heard.IsZero():
			return o.print(answer)
		}
		if notify.Wait(ctx, look) != nil {
			fmt.Fprintln(o.Out, "it has not heard it yet; 'stubbled said' shows the answer once it has")
			return nil
		}
	}
}

// print prints the answer, where there is one: a nod has none.
func (o Options) print(answer *store.Fate) error {
	if answer == nil {
		fmt.Fprintln(o.Out, "heard; there is nothing to answer")
		return nil
	}
	_, text := report.Words(o.Farm, *answer)
	_, err := fmt.Fprintln(o.Out, text)
	return err
}
