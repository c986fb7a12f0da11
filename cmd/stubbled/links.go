package main

import (
	"fmt"
	"sync/atomic"

	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/scheduler/ladder"
)

// inForce is the farm file in force, which is changed on disk while the daemon
// runs.
type inForce struct{ atomic.Pointer[config.Farm] }

func putInForce(farm *config.Farm) *inForce {
	var in inForce
	in.Store(farm)
	return &in
}

// links is everything that ties the daemon to the world outside.
type links struct {
	carriers  []notify.Carrier
	receivers []notify.Receiver
	sources   []notify.Source
	broken    []broken
}

// broken is a link that cannot be made as the farm file and its secrets are: the
// others go on without it.
type broken struct {
	what   string        // the alarm's word
	medium ladder.Medium // by which nobody can be told; empty for none
	err    error         // where in the farm file, and the mend
}

// without notes what cannot be made.
func (l *links) without(what string, m ladder.Medium, where string, err error) {
	if err != nil {
		l.broken = append(l.broken, broken{what, m, fmt.Errorf("%s: %w", where, err)})
	}
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
func connect(e *env, now *inForce, runID string) links {
	farm := now.Load()
	var l links
	screen := console.NewScreen(e.out, farm.Zone)
	if carrierName(farm, ladder.Text) == "console" {
		l.carriers = append(l.carriers, console.Phone{Out: screen, For: ladder.Text, Called: "console"})
		l.receivers = append(l.receivers, console.Lines{
			In: e.in, Out: screen, Run: runID, Now: e.clock.Now,
			Address: func(name string) (string, bool) { return addressOf(now.Load(), name) },
		})
	}
	if carrierName(farm, ladder.Mail) == "console" {
		l.carriers = append(l.carriers, console.Phone{Out: screen, For: ladder.Mail, Called: "console-mail"})
	}
	l.outside(e, now)
	return l
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
