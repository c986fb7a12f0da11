package checkup

import (
	"context"
	"errors"
	"fmt"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/daemon"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
)

// carriers proves each carrier and source in turn, and sends a test where asked.
func (c *checkup) carriers(ctx context.Context, farm *config.Farm, send string) {
	l := carriers.Connect(carriers.Options{
		Farm: func() *config.Farm { return farm }, Now: c.Now, In: c.In, Out: c.Out, Run: "check", Log: c.Log,
	})
	for _, b := range l.Broken {
		c.wrong("carriers", b.Err)
	}
	for _, m := range l.OnConsole(farm) {
		if c.Service {
			c.wrong("carriers", errors.New(daemon.OnlyPrinted[m]))
		}
	}
	for _, carrier := range l.Carriers {
		c.prove(ctx, carrier.Name(), carrier)
		if send != "" {
			c.test(ctx, farm, carrier, send)
		}
	}
	for _, r := range l.Receivers {
		c.prove(ctx, r.Name()+" in", r)
	}
	for _, s := range l.Sources {
		c.prove(ctx, s.Name(), s)
	}
}

func (c *checkup) prove(ctx context.Context, name string, thing any) {
	p, ok := thing.(notify.Checker)
	if !ok {
		return
	}
	if err := p.Check(ctx); err != nil {
		c.wrong(name, err)
		return
	}
	c.fine(name, "answers")
}

func (c *checkup) test(ctx context.Context, farm *config.Farm, carrier notify.Carrier, name string) {
	contact, _ := farm.Contact(name)
	address := contact.Address(carrier.Medium())
	if address == "" {
		c.note(carrier.Name(), name+" has no address for it")
		return
	}
	now := c.Now()
	o := wording.Options{Lang: contact.Language, Centimetres: farm.Units == config.Centimetres}
	facts := []ladder.Facts{&ladder.PersonFacts{Head: ladder.Head{Farm: farm.Name}, Who: contact.Name}}
	e := notify.Envelope{
		ID: "test-" + now.UTC().Format("20060102-150405"), Address: address, ToName: contact.Name, Kind: ladder.Enrolment,
		Text: wording.Text(o, ladder.Enrolment, facts), Subject: farm.Name, Date: now,
	}
	if carrier.Medium() == ladder.Call {
		e.Text = wording.Speech(o, ladder.Enrolment, facts)
	}
	if out := carrier.Deliver(ctx, e); out.State != notify.Sent {
		c.wrong(carrier.Name(), fmt.Errorf("test to %s: %s: %s", name, out.State, out.Detail))
		return
	}
	if p, ok := carrier.(progress); ok {
		if err := c.gone(ctx, p, e.ID); err != nil {
			c.wrong(carrier.Name(), fmt.Errorf("test to %s: %w", name, err))
			return
		}
		c.fine(carrier.Name(), "test for "+name+" was sent")
		return
	}
	c.fine(carrier.Name(), "test handed over for "+name)
}

// progress is a carrier whose messages lie about before they are sent.
type progress interface {
	// Gone reports whether a message was sent; the error says why it will not be.
	Gone(id string) (bool, error)
}

const lookAgain = 200 * time.Millisecond

func (c *checkup) gone(ctx context.Context, p progress, id string) error {
	fmt.Fprintf(c.Out, "       waiting up to %.0f s until the modem has sent it\n", c.Wait.Seconds())
	ctx, cancel := context.WithTimeout(ctx, c.Wait)
	defer cancel()
	for {
		if sent, err := p.Gone(id); sent || err != nil {
			return err
		}
		if notify.Wait(ctx, lookAgain) != nil {
			return errors.New("it still waits for the modem; the server that drives it is busy, has no network, or does not run")
		}
	}
}
