package main

import (
	"context"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// links is everything that ties the daemon to the world outside.
type links struct {
	carriers  []notify.Carrier
	receivers []notify.Receiver
	sources   []notify.Source
}

// carrierName is what a medium travels by.
func carrierName(farm *config.Farm, m ladder.Medium) string {
	if m == ladder.Mail {
		if farm.Carriers.Email == nil {
			return "console"
		}
		return "email"
	}
	if farm.Carriers.SMS.Via == "" || farm.Carriers.SMS.Via == config.Console {
		return "console"
	}
	return "sms"
}

// connect makes the carriers of a farm file. A farm without any speaks on the
// console.
func connect(e *env, farm *config.Farm, runID string) (links, error) {
	var l links
	screen := console.NewScreen(e.out, farm.Zone)
	if carrierName(farm, ladder.Text) == "console" {
		l.carriers = append(l.carriers, console.Phone{Out: screen, For: ladder.Text, Called: "console"})
		l.receivers = append(l.receivers, console.Lines{
			In: e.in, Out: screen, Run: runID, Now: e.clock.Now,
			Address: func(name string) (string, bool) { return addressOf(farm, name) },
		})
	}
	if carrierName(farm, ladder.Mail) == "console" {
		l.carriers = append(l.carriers, console.Phone{Out: screen, For: ladder.Mail, Called: "console-mail"})
	}
	return l, l.outside(e, farm)
}

// addressOf is how a contact is reached: the phone, else the mailbox.
func addressOf(farm *config.Farm, name string) (string, bool) {
	c, ok := farm.Contact(name)
	if !ok {
		return "", false
	}
	if c.Phone != "" {
		return c.Phone, true
	}
	return c.Email, c.Email != ""
}

// patience is how long a carrier or source may be in trouble before anybody is
// told: a cell that blinks is no news.
const patience = 5 * time.Minute

// carrierFails hears how a carrier is.
func (d *daemon) carrierFails(c notify.Carrier, err error, now time.Time) {
	what := ladder.AlarmSMSDown
	if c.Medium() == ladder.Mail {
		what = ladder.AlarmMailDown
	}
	d.trouble(what, c.Medium(), err, now)
}

func (d *daemon) receiverFails(name string) func(error) {
	return func(err error) { d.trouble(ladder.AlarmRepliesDown, "", err, d.env.clock.Now()) }
}

func (d *daemon) sourceFails(name string) func(error) {
	what := ladder.AlarmWeatherDown
	if name == diary.FromThermometer {
		what = ladder.AlarmThermometer
	}
	return func(err error) { d.trouble(what, "", err, d.env.clock.Now()) }
}

// trouble tells the scheduler of a fault once it has lasted.
func (d *daemon) trouble(what string, m ladder.Medium, err error, now time.Time) {
	if err == nil {
		if d.state.well(what) {
			d.log.Info("well again", "what", what)
		}
		d.sched.Fails(what, "", "", now)
		return
	}
	since := d.state.fails(what, err, now)
	if now.Sub(since) >= patience {
		d.sched.Fails(what, m, err.Error(), now)
	}
}

// observe keeps what a weather source saw, on the farm's own days.
func (d *daemon) observe(ctx context.Context, got []diary.Observation) error {
	now := d.env.clock.Now()
	for i := range got {
		if got[i].Day.IsZero() {
			got[i].Day = civil.DateOf(got[i].At.In(d.farm.Zone))
		}
	}
	if err := d.store.Observe(ctx, got, now); err != nil {
		return fmt.Errorf("keep %d observations: %w", len(got), err)
	}
	d.nudge()
	return nil
}
