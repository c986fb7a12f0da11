package notify

import (
	"context"
	"fmt"
	"hash/fnv"
	"log/slog"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A Cry is an alarm that goes straight to the carriers, past the outbox: for the
// day on which nothing can be written down.
type Cry struct {
	Carriers []Carrier
	Rules    Rules
	Trouble  ladder.Trouble
	// OptedOut reports whether the owner of an address wants no word of ours.
	OptedOut func(address string) bool
	Logger   *slog.Logger
}

// cryWithin bounds one handing over of a cry: whoever cries is watched, and has
// several to tell.
const cryWithin = 10 * time.Second

// cryAgain is how long after a cry the same may be cried to somebody again.
const cryAgain = 24 * time.Hour

// Raise says it to those whom an alarm is for, once in a day and outside of
// their quiet hours, by text or else by mail. heard keeps when who was told of
// what; it is asked and added to. Whoever could not be told now is told by the
// next call.
func (c Cry) Raise(ctx context.Context, now time.Time, heard map[string]time.Time) {
	reached := func(to ladder.Contact) bool { return len(c.ways(to)) > 0 }
	for _, to := range ladder.Alarmed(c.Rules.Contacts, reached) {
		who := c.who(to)
		last, ok := heard[who]
		if ok && now.Sub(last).Abs() < cryAgain || to.Quiet(now, c.Rules.Zone) {
			continue
		}
		// A carrier that knows what it had already does not say it twice on one
		// day, whatever became of the daemon.
		if c.tell(ctx, to, who+"-"+now.In(c.Rules.Zone).Format("20060102"), now) {
			heard[who] = now
		}
	}
}

// who names a contact and the trouble, safe in a file name and a header.
func (c Cry) who(to ladder.Contact) string {
	name := fnv.New32a()
	name.Write([]byte(to.Name))
	return fmt.Sprintf("alarm-%s-%08x", c.Trouble.What, name.Sum32())
}

// ways are the carriers that reach a contact, those of texts first.
func (c Cry) ways(to ladder.Contact) []Carrier {
	var ways []Carrier
	for _, m := range []ladder.Medium{ladder.Text, ladder.Mail} {
		for _, by := range c.Carriers {
			if a := to.Address(m); by.Medium() == m && a != "" && !c.OptedOut(a) {
				ways = append(ways, by)
			}
		}
	}
	return ways
}

// tell tries one carrier after the other until one has it. Where none has, but
// one may have it, that counts: an alarm is repeated tomorrow.
func (c Cry) tell(ctx context.Context, to ladder.Contact, id string, now time.Time) (told bool) {
	for _, by := range c.ways(to) {
		out := c.hand(ctx, by, to, id, now)
		c.Logger.Info("alarm handed over past the outbox", "carrier", by.Name(), "what", c.Trouble.What, "to", to.Name,
			"outcome", out.State.String(), "code", out.Code)
		if out.State == Sent {
			return true
		}
		told = told || out.State == UnknownState
	}
	return told
}

func (c Cry) hand(ctx context.Context, by Carrier, to ladder.Contact, id string, now time.Time) Outcome {
	m := store.Message{
		ID: id, To: to.Name, Address: to.Address(by.Medium()), Medium: by.Medium(), Carrier: by.Name(), Kind: ladder.Alarm, Date: now,
		Notices: []ladder.Notice{{To: to.Name, Medium: by.Medium(), Kind: ladder.Alarm,
			Facts: ladder.Facts{Farm: c.Rules.Farm, Who: to.Name, Alarm: c.Trouble.What, Detail: c.Trouble.Detail}}},
	}
	var err error
	m.Frozen, err = freeze(c.Rules, by, store.Batch{
		ID: m.ID, To: m.To, Address: m.Address, Medium: m.Medium, Carrier: m.Carrier, Kind: m.Kind, Notices: m.Notices, Now: now,
	})
	if err != nil {
		return Outcome{State: Permanent, Detail: err.Error()}
	}
	ctx, cancel := context.WithTimeout(ctx, cryWithin)
	defer cancel()
	return by.Deliver(ctx, envelope(&m))
}
