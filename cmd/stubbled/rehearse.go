package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// The demo season, the same on every day that it is played.
var (
	demoFrom = civil.Date{Year: 2026, Month: time.June, Day: 20}
	demoTo   = civil.Date{Year: 2027, Month: time.January, Day: 20}
)

type rehearseFlags struct {
	from, to, replies string
	stationYear       int
	json, mails       bool
}

func rehearseCmd(e *env) *cobra.Command {
	var f rehearseFlags
	c := &cobra.Command{
		Use:   "rehearse",
		Short: "Plays a season under a virtual clock; nothing is sent",
		Long: `rehearse runs the same scheduler, store and answers as the daemon under a virtual
clock and prints every message in order. Nothing is sent and nothing is kept.

A replies file has one line a text:  2026-08-22T09:15 Ana: creek 14 8 6 8
A text sent earlier than it came:    2026-08-22T09:15 [sent 2026-08-21T18:00] Ana: creek 9
Without a farm file it plays the demo farm, an invented place and people, with a
conversation of theirs where no replies are given.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return rehearse(c.Context(), e, f) },
	}
	c.Flags().StringVar(&f.from, "from", "", "first day played, such as 2026-06-20")
	c.Flags().StringVar(&f.to, "to", "", "last day played")
	c.Flags().StringVar(&f.replies, "replies", "", "`file` of texts to play")
	c.Flags().IntVar(&f.stationYear, "station-year", 0, "play the temperatures that the station observed in that `year`")
	c.Flags().BoolVar(&f.json, "json", false, "one JSON object a line for each message")
	c.Flags().BoolVar(&f.mails, "mails", false, "print mails in full")
	return c
}

func rehearse(ctx context.Context, e *env, f rehearseFlags) error {
	farm, demo, err := e.farmOrDemo()
	if err != nil {
		return err
	}
	p, err := newPlay(ctx, e, farm, demo, f)
	if err != nil {
		return err
	}
	defer p.close()
	return p.run(ctx)
}

// A play is one rehearsal.
type play struct {
	farm     *config.Farm
	from     time.Time
	until    time.Time // the midnight after the last day played
	now      time.Time
	store    *store.Store
	dir      string
	sched    *scheduler.Scheduler
	couriers []*notify.Courier // one for each medium, in turn: the order of messages is always the same
	script   []line
	weather  []dayOfWeather
	protocol *protocol
	n        int
	minutely bool // step by the minute instead of jumping, to prove that they agree
}

func newPlay(ctx context.Context, e *env, farm *config.Farm, demo bool, f rehearseFlags) (*play, error) {
	from, to, err := playDates(f)
	if err != nil {
		return nil, err
	}
	p := &play{
		from:  ladder.Instant(from, 0, farm.Zone),
		until: ladder.Instant(to.AddDays(1), 0, farm.Zone),
	}
	if p.script, err = script(f, demo, farm.Zone); err != nil {
		return nil, err
	}
	year, err := weatherYear(farm, from, f.stationYear, demo)
	if err != nil {
		return nil, err
	}
	p.weather = weatherOf(farm, year, from, to)
	p.farm = asOf(farm, from)
	p.protocol = newProtocol(e.out, farm, f.json)
	p.protocol.mails = f.mails
	p.protocol.head(farm, demo, from, to, year)
	return p, p.open(ctx)
}

func playDates(f rehearseFlags) (from, to civil.Date, err error) {
	from, to = demoFrom, demoTo
	if f.from != "" {
		if from, err = civil.ParseDate(f.from); err != nil {
			return from, to, usagef("--from: want a date such as 2026-06-20, got %q", f.from)
		}
		if f.to == "" {
			to = civil.Date{Year: from.Year + 1, Month: demoTo.Month, Day: demoTo.Day}
			if from.Month < demoFrom.Month {
				to.Year = from.Year
			}
		}
	}
	if f.to != "" {
		if to, err = civil.ParseDate(f.to); err != nil {
			return from, to, usagef("--to: want a date such as 2026-12-31, got %q", f.to)
		}
		if f.from == "" {
			from = civil.Date{Year: to.Year, Month: demoFrom.Month, Day: demoFrom.Day}
			if to.Before(from) {
				from.Year--
			}
		}
	}
	if to.Before(from) {
		return from, to, usagef("the last day %s is before the first %s", to, from)
	}
	return from, to, nil
}

// asOf is a farm as it stood on a day: a rehearsal must not know the weather to
// come.
func asOf(farm *config.Farm, day civil.Date) *config.Farm {
	then := *farm
	if then.Plan.Record != nil {
		then.Plan.Record = then.Plan.Record.Before(day)
	}
	return &then
}

func (p *play) open(ctx context.Context) (err error) {
	if p.dir, err = os.MkdirTemp("", "stubbled-rehearsal-"); err != nil {
		return fmt.Errorf("make a folder for the rehearsal: %w", err)
	}
	p.store, err = store.Open(ctx, filepath.Join(p.dir, "rehearsal.db"), store.Options{RunID: "rehearsal", Now: p.from, Volatile: true})
	if err != nil {
		os.RemoveAll(p.dir)
		return err
	}
	p.sched = scheduler.New(scheduler.Options{Store: p.store, Farm: p.farm})
	p.sched.SetHealth(ladder.Health{OK: true})
	words := rules(p.farm)
	words.WordsOnly = true
	for _, m := range []ladder.Medium{ladder.Text, ladder.Mail} {
		p.couriers = append(p.couriers, notify.NewCourier(notify.CourierOptions{
			Outbox: p.store, Rules: words, Jitter: func() float64 { return 0.5 },
			Carriers: []notify.Carrier{p.protocol.carrier(m)},
		}))
	}
	return nil
}

func (p *play) close() {
	p.store.Close()
	os.RemoveAll(p.dir)
}

// run jumps from moment to moment at which anything can change.
func (p *play) run(ctx context.Context) error {
	for p.now = p.from; p.now.Before(p.until); {
		if err := p.observe(ctx); err != nil {
			return err
		}
		next, err := p.turn(ctx)
		if err != nil {
			return err
		}
		for p.said() {
			if err := p.hear(ctx); err != nil {
				return err
			}
			if next, err = p.turn(ctx); err != nil {
				return err
			}
		}
		if p.now, err = p.after(ctx, next); err != nil {
			return err
		}
	}
	return p.protocol.err
}

// turn is one pass and one drain, as the daemon does them.
func (p *play) turn(ctx context.Context) (time.Time, error) {
	next, err := p.sched.Pass(ctx, p.now)
	if err != nil {
		return next, err
	}
	before := p.protocol.count
	for _, c := range p.couriers {
		if err := c.Drain(ctx, p.now); err != nil {
			return next, err
		}
	}
	if p.protocol.count == before {
		return next, nil
	}
	// What was said can make something else due, such as a repeat.
	return p.sched.Pass(ctx, p.now)
}

// after is the next moment worth looking at.
func (p *play) after(ctx context.Context, next time.Time) (time.Time, error) {
	if p.minutely {
		return p.now.Add(time.Minute), nil
	}
	due, err := p.store.NextDue(ctx, p.now)
	if err != nil {
		return next, err
	}
	best := p.until
	for _, at := range []time.Time{next, due, p.nextLine(), p.nextWeather()} {
		if at.After(p.now) && at.Before(best) {
			best = at
		}
	}
	return best, nil
}
