package notify

import (
	"context"
	"fmt"
	"strings"
	"time"

	"stubbled/store"
)

// Accept keeps what a carrier heard, and only then may its peer be told so.
// heard is called when there is something new to be heard.
func (c *Courier) Accept(carrier string, now func() time.Time, heard func()) Accept {
	return func(ctx context.Context, got []Received, cursor string) error {
		rules, at := c.current(), now()
		var texts []store.In
		for _, r := range got {
			if r.Report != nil {
				if err := c.report(ctx, carrier, *r.Report, at); err != nil {
					return err
				}
				continue
			}
			texts = append(texts, store.In{
				ID: r.ID, From: r.From, Contact: rules.owner(r.From), Text: r.Text, Sent: r.Sent,
				InReplyTo: r.InReplyTo, MailID: r.MailID, StopOnly: r.StopOnly,
			})
		}
		if err := c.outbox.Accept(ctx, carrier, texts, cursor, at); err != nil {
			return fmt.Errorf("keep %d texts from %s: %w", len(texts), carrier, err)
		}
		if len(texts) > 0 && heard != nil {
			heard()
		}
		return nil
	}
}

func (c *Courier) report(ctx context.Context, carrier string, r Report, now time.Time) error {
	_, err := c.outbox.Report(ctx, carrier, store.Report{
		EnvelopeID: r.EnvelopeID, Ref: r.Ref, Delivered: r.Delivered, Permanent: r.Permanent, Detail: r.Detail,
	}, now)
	if err != nil {
		return fmt.Errorf("keep a delivery report from %s: %w", carrier, err)
	}
	return nil
}

// owner names the contact who has an address; empty for a stranger.
func (r Rules) owner(address string) string {
	for _, c := range r.Contacts {
		if address != "" && (c.Phone == address || strings.EqualFold(c.Email, address)) {
			return c.Name
		}
	}
	return ""
}
