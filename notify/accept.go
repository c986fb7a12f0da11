package notify

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Accept keeps what a carrier heard, and only then may its peer be told so.
// heard is called when there is something new to be heard.
func (c *Courier) Accept(carrier string, now func() time.Time, heard func()) Accept {
	return func(ctx context.Context, got []Received, cursor string) error {
		rules, texts := c.current(), 0
		got = slices.Clone(got)
		for i := range got {
			if got[i].Report == nil {
				got[i].Contact = rules.owner(got[i].From)
				texts++
			}
		}
		if err := c.Outbox.Accept(ctx, carrier, got, cursor, now()); err != nil {
			return fmt.Errorf("keep %d texts from %s: %w", texts, carrier, err)
		}
		if texts > 0 && heard != nil {
			heard()
		}
		return nil
	}
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
