// Package rehearsal plays a season under a virtual clock: the same scheduler,
// store and answers as the daemon's, jumping from moment to moment at which
// anything can change. Nothing is sent, nothing is kept, and the same season is
// the same to the byte whenever it is played.
package rehearsal

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
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
)

// The demo season, the same on every day that it is played.
var (
	demoFrom = civil.Date{Year: 2026, Month: time.June, Day: 20}
	demoTo   = civil.Date{Year: 2027, Month: time.January, Day: 20}
)

// Options is what a rehearsal is made with.
type Options struct {
	Farm        *config.Farm
	Demo        bool // that is the demo farm
	From, To    string
	Replies     string // a file of texts to play
	StationYear int    // whose temperatures are played; 0 is none asked for
	Weather     string // none: no temperatures are played
	JSON, Mails bool
	Out         io.Writer
}

// Play plays one.
func Play(ctx context.Context, o Options) error {
	p, err := newPlay(ctx, o)
	if err != nil {
		return err
	}
	defer p.close()
	return p.run(ctx)
}

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
	account  *report.Account
	n        int
	minutely bool // step by the minute instead of jumping, to prove that they agree
}

func newPlay(ctx context.Context, o Options) (*play, error) {
	farm := o.Farm
	from, to, err := playDates(o)
	if err != nil {
		return nil, err
	}
	p := &play{
		from:  ladder.Instant(from, 0, farm.Zone),
		until: ladder.Instant(to.AddDays(1), 0, farm.Zone),
	}
	if p.script, err = script(o); err != nil {
		return nil, err
	}
	sky, err := skyOf(o, from, to)
	if err != nil {
		return nil, err
	}
	p.weather = sky.weather(farm, from, to)
	then := *farm // as it stood: a rehearsal must not know the weather to come
	if then.Plan.Record != nil {
		then.Plan.Record = then.Plan.Record.Before(from)
	}
	p.farm = &then
	p.account = &report.Account{Out: o.Out, Zone: farm.Zone, JSON: o.JSON, Mails: o.Mails}
	p.account.Printf("Rehearsal of %s, %s to %s. Nothing is sent.\n", farm.Name, from, to)
	p.account.Printf("Weather: %s.\n", sky.words)
	return p, p.open(ctx)
}

func playDates(o Options) (from, to civil.Date, err error) {
	from, to = demoFrom, demoTo
	if o.From != "" {
		if from, err = civil.ParseDate(o.From); err != nil {
			return from, to, usage.Errorf("--from: want a date such as 2026-06-20, got %q", o.From)
		}
		if o.To == "" {
			to = civil.Date{Year: from.Year + 1, Month: demoTo.Month, Day: demoTo.Day}
			if from.Month < demoFrom.Month {
				to.Year = from.Year
			}
		}
	}
	if o.To != "" {
		if to, err = civil.ParseDate(o.To); err != nil {
			return from, to, usage.Errorf("--to: want a date such as 2026-12-31, got %q", o.To)
		}
		if o.From == "" {
			from = civil.Date{Year: to.Year, Month: demoFrom.Month, Day: demoFrom.Day}
			if to.Before(from) {
				from.Year--
			}
		}
	}
	if to.Before(from) {
		return from, to, usage.Errorf("the last day %s is before the first %s", to, from)
	}
	return from, to, nil
}

func (p *play) open(ctx context.Context) (err error) {
	if p.dir, err = os.MkdirTemp("", "stubbled-rehearsal-"); err != nil {
		return fmt.Errorf("make a folder for the rehearsal: %w", err)
	}
	if err = p.start(ctx); err != nil {
		os.RemoveAll(p.dir)
	}
	return err
}

// start opens the database and puts the parts together, as the daemon does.
func (p *play) start(ctx context.Context) (err error) {
	p.store, err = store.Open(ctx, filepath.Join(p.dir, "rehearsal.db"), store.Options{RunID: "rehearsal", Now: p.from, Volatile: true})
	if err != nil {
		return err
	}
	p.couriers = nil
	p.sched = scheduler.New(scheduler.Options{Store: p.store, Farm: p.farm})
	p.sched.SetHealth(ladder.Health{OK: true})
	words := carriers.Rules(p.farm)
	words.WordsOnly = true
	for _, m := range carriers.Media(p.farm) {
		p.couriers = append(p.couriers, notify.NewCourier(notify.CourierOptions{
			Outbox: p.store, Rules: words, Jitter: func() float64 { return 0.5 },
			Carriers: []notify.Carrier{p.account.Carrier(carriers.Name(p.farm, m), m)},
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
		for p.textWaits() {
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
	return p.account.Err
}

func (p *play) turn(ctx context.Context) (time.Time, error) {
	next, err := p.sched.Pass(ctx, p.now)
	if err != nil {
		return next, err
	}
	before := p.account.Count
	for _, c := range p.couriers {
		if err := c.Drain(ctx, p.now); err != nil {
			return next, err
		}
	}
	if p.account.Count == before {
		return next, nil
	}
	// What was said can make something else due, such as a repeat.
	return p.sched.Pass(ctx, p.now)
}

func (p *play) after(ctx context.Context, next time.Time) (time.Time, error) {
	if p.minutely {
		return p.now.Add(time.Minute), nil
	}
	due, err := p.store.NextDue(ctx, p.now)
	if err != nil {
		return next, err
	}
	best := p.until
	moments := []time.Time{next, due}
	if len(p.script) > 0 {
		moments = append(moments, p.script[0].at)
	}
	if len(p.weather) > 0 {
		moments = append(moments, p.weather[0].known)
	}
	for _, at := range moments {
		if at.After(p.now) && at.Before(best) {
			best = at
		}
	}
	return best, nil
}
