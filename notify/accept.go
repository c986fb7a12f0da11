package notify

import (
	"context"
	"fmt"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
)

// Accept keeps what a carrier heard, and only then may its peer be told so.
func (c *Courier) Accept(carrier string, now func() time.Time) Accept {
	return func(ctx context.Context, got []Received, cursor string) error {
		rules, texts := c.current(), 0
		got = slices.Clone(got)
		for i := range got {
			if got[i].Report == nil {
				owner, _, _ := ladder.OwnerOf(rules.Contacts, got[i].From)
				got[i].Contact = owner.Name // empty for a stranger
				texts++
			}
		}
		if err := c.Outbox.Accept(ctx, carrier, got, cursor, now()); err != nil {
			return fmt.Errorf("keep %d texts from %s: %w", texts, carrier, err)
		}
		return nil
	}
}
