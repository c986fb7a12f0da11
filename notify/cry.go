package notify

import (
	"context"
	"fmt"
	"hash/fnv"
	"log/slog"
	"slices"
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
	// Heard is who was told and when, by the name that Raise gives them; it is
	// asked and added to, and Keep called after each change.
	Heard  map[string]Heard
	Keep   func()
	Logger *slog.Logger

	down map[string]bool // carriers that fail in this call
}

// Heard is what became of the cries of one trouble to one contact.
type Heard struct {
	Told  time.Time // zero where nobody has it yet
	Tries int       // in vain since then
	Next  time.Time // not before
}

// cryWithin bounds one handing over of a cry: whoever cries is watched, and has
// several to tell.
const cryWithin = 10 * time.Second

// raiseWithin bounds all of one call, whoever hangs: the watchdog waits.
const raiseWithin = 45 * time.Second

// cryAgain is how long after a cry the same may be cried to somebody again.
const cryAgain = 24 * time.Hour

// Raise says it to those whom an alarm is for, once in a day and outside of their
// quiet hours, by text or else by mail; where none of them has it by now, to
// those who come next. It gives when it is worth calling again. The clock is
// taken as it is, doubted or not: an hour too early is better than never.
func (c Cry) Raise(ctx context.Context, now time.Time) (again time.Time) {
	ctx, cancel := context.WithTimeout(ctx, raiseWithin)
	defer cancel()
	c.down = map[string]bool{}
	left := slices.Clone(c.Rules.Contacts)
	again = now.Add(cryAgain)
	for {
		to := ladder.Alarmed(left, func(to ladder.Contact) bool { return len(c.ways(to)) > 0 })
		if len(to) == 0 {
			return again
		}
		settled := false // somebody has it, or will when the night is over
		for _, one := range to {
			next, has := c.raise(ctx, one, now)
			settled = settled || has
			if next.Before(again) {
				again = next
			}
		}
		if settled {
			return again
		}
		left = slices.DeleteFunc(left, func(l ladder.Contact) bool { return slices.Contains(to, l) })
	}
}

// raise says it to one contact, unless that was done or is not the time. settled
// is whether nobody else need hear it instead.
func (c *Cry) raise(ctx context.Context, to ladder.Contact, now time.Time) (next time.Time, settled bool) {
	who := c.who(to)
	h := c.Heard[who]
	if within(h.Told, now) {
		return h.Told.Add(cryAgain), true
	}
	if to.Quiet(now, c.Rules.Zone) {
		return to.AfterQuiet(now, c.Rules.Zone), true
	}
	if within(h.Next, now) && h.Next.After(now) {
		return h.Next, false
	}
	if ctx.Err() != nil { // the time is up; the next call goes on
		return now, false
	}
	// A carrier that knows what it had already does not say it twice on one day,
	// whatever became of the daemon.
	told, refused, tried := c.tell(ctx, to, who+"-"+now.In(c.Rules.Zone).Format("20060102"), now)
	switch {
	case !tried:
		return now.Add(time.Minute), false
	case told:
		h = Heard{Told: now}
	case refused: // trying again today changes nothing
		h.Tries, h.Next = 0, now.Add(cryAgain-time.Minute)
	default:
		h.Tries++
		h.Next = now.Add(Backoff(h.Tries, 0.5))
	}
	c.Heard[who] = h
	c.Keep()
	if told {
		return now.Add(cryAgain), true
	}
	return h.Next, false
}

// within reports whether a time is within a day of now; another one was noted by
// a clock that ran wild.
func within(t, now time.Time) bool { return now.Sub(t).Abs() < cryAgain }

// who names a contact and the trouble, safe in a file name and a header.
func (c *Cry) who(to ladder.Contact) string {
	name := fnv.New32a()
	name.Write([]byte(to.Name))
	return fmt.Sprintf("alarm-%s-%08x", c.Trouble.What, name.Sum32())
}

// ways are the carriers that reach a contact, those of texts first.
func (c *Cry) ways(to ladder.Contact) []Carrier {
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

// tell tries one carrier after the other until one has it, but none that failed
// somebody else just now. Where none has it, but one may have it, that counts: an
// alarm is repeated tomorrow. refused is whether every one refused it for good.
func (c *Cry) tell(ctx context.Context, to ladder.Contact, id string, now time.Time) (told, refused, tried bool) {
	refused = true
	for _, by := range c.ways(to) {
		if c.down[by.Name()] {
			refused = false
			continue
		}
		tried = true
		out := c.hand(ctx, by, to, id, now)
		c.Logger.Info("alarm handed over past the outbox", "carrier", by.Name(), "what", c.Trouble.What, "to", to.Name,
			"outcome", out.State.String(), "code", out.Code)
		if out.State == Sent {
			return true, false, true
		}
		c.down[by.Name()] = out.Down
		told = told || out.State == UnknownState
		refused = refused && out.State == Permanent
	}
	return told, refused, tried
}

func (c *Cry) hand(ctx context.Context, by Carrier, to ladder.Contact, id string, now time.Time) Outcome {
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
	out, fell := handOver(ctx, by, envelope(&m), c.Logger)
	if fell { // somebody else must hear it rather than nobody
		out.State = Temporary
	}
	return out
}
