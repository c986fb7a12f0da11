package notify

import (
	"context"
	"fmt"
	"hash/fnv"
	"log/slog"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
)

// An Alarm goes straight to the carriers, past the outbox: for the day on which
// nothing can be written down.
type Alarm struct {
	Carriers []Carrier
	Rules    Rules
	Trouble  ladder.Trouble
	// OptedOut reports whether the owner of an address wants no word of ours.
	OptedOut func(address string) bool
	// Reached is who was told and when, by the name that Raise gives them; it is
	// asked and added to, and Keep called after each change.
	Reached map[string]Reached
	Keep    func()
	Logger  *slog.Logger

	down map[string]bool // carriers that fail in this call
}

// Reached is how far the alarm of one trouble got with one contact.
type Reached struct {
	Told  time.Time // zero where nobody has it yet
	Tries int       // in vain since then
	Next  time.Time // not before
}

const (
	// handWithin bounds one handing over of an alarm, raiseWithin all of one
	// call, whoever hangs: the watchdog waits.
	handWithin  = 10 * time.Second
	raiseWithin = 45 * time.Second
	// alarmAgain is how long after an alarm somebody may be told the same again.
	alarmAgain = 24 * time.Hour
)

// Raise says it to those whom an alarm is for, once in a day and outside of their
// quiet hours, by text or else by mail; where none of them has it by now, to
// those who come next. It gives when it is worth calling again. The clock is
// taken as it is, doubted or not: an hour too early is better than never.
func (a Alarm) Raise(ctx context.Context, now time.Time) (again time.Time) {
	ctx, cancel := context.WithTimeout(ctx, raiseWithin)
	defer cancel()
	a.down = map[string]bool{}
	left := slices.Clone(a.Rules.Contacts)
	again = now.Add(alarmAgain)
	for {
		to := ladder.Alarmed(left, func(to ladder.Contact) bool { return len(a.ways(to)) > 0 })
		if len(to) == 0 {
			return again
		}
		done := false // somebody has it, or will when the night is over
		for _, one := range to {
			next, has := a.raise(ctx, one, now)
			done = done || has
			if next.Before(again) {
				again = next
			}
		}
		if done {
			return again
		}
		left = slices.DeleteFunc(left, func(l ladder.Contact) bool { return slices.Contains(to, l) })
	}
}

// raise says it to one contact, unless it was said or is not the time. done is
// whether nobody else need hear it instead.
func (a *Alarm) raise(ctx context.Context, to ladder.Contact, now time.Time) (next time.Time, done bool) {
	who := a.who(to)
	h := a.Reached[who]
	if within(h.Told, now) {
		return h.Told.Add(alarmAgain), true
	}
	if to.Quiet(now, a.Rules.Zone) {
		return to.AfterQuiet(now, a.Rules.Zone), true
	}
	if within(h.Next, now) && h.Next.After(now) {
		return h.Next, false
	}
	if ctx.Err() != nil { // the time is up; the next call goes on
		return now, false
	}
	// A carrier that knows what it had already does not say it twice on one day,
	// whatever became of the daemon.
	became, tried := a.tell(ctx, to, who+"-"+now.In(a.Rules.Zone).Format("20060102"), now)
	if !tried {
		return now.Add(time.Minute), false
	}
	switch became {
	case Sent:
		h = Reached{Told: now}
	case Permanent: // trying again today changes nothing
		h.Tries, h.Next = 0, now.Add(alarmAgain-time.Minute)
	default:
		h.Tries++
		h.Next = now.Add(Backoff(h.Tries, 0.5))
	}
	a.Reached[who] = h
	a.Keep()
	if became == Sent {
		return now.Add(alarmAgain), true
	}
	return h.Next, false
}

// within reports whether a time is within a day of now; another one was noted by
// a clock that ran wild.
func within(t, now time.Time) bool { return now.Sub(t).Abs() < alarmAgain }

// who names a contact and the trouble, safe in a file name and a header.
func (a *Alarm) who(to ladder.Contact) string {
	name := fnv.New32a()
	name.Write([]byte(to.Name))
	return fmt.Sprintf("alarm-%s-%08x", a.Trouble.What, name.Sum32())
}

// ways are the carriers that reach a contact, those of texts first.
func (a *Alarm) ways(to ladder.Contact) []Carrier {
	var ways []Carrier
	for _, m := range []ladder.Medium{ladder.Text, ladder.Mail} {
		for _, by := range a.Carriers {
			if address := to.Address(m); by.Medium() == m && address != "" && !a.OptedOut(address) {
				ways = append(ways, by)
			}
		}
	}
	return ways
}

// tell tries one carrier after the other until one has it, but none that failed
// somebody else just now. Sent is also what may have arrived, where nobody has it
// for sure: an alarm is repeated tomorrow. Permanent is refused by every one.
func (a *Alarm) tell(ctx context.Context, to ladder.Contact, id string, now time.Time) (became State, tried bool) {
	became = Permanent
	for _, by := range a.ways(to) {
		var out Outcome
		if a.down[by.Name()] {
			out.State = Temporary
		} else {
			tried = true
			out = a.hand(ctx, by, to, id, now)
			a.Logger.Info("alarm handed over past the outbox", "carrier", by.Name(), "what", a.Trouble.What, "to", to.Name,
				"outcome", out.State.String(), "code", out.Code)
			a.down[by.Name()] = out.Down
		}
		switch {
		case out.State == Sent:
			return Sent, true
		case out.State == UnknownState:
			became = Sent
		case out.State == Temporary && became == Permanent:
			became = Temporary
		}
	}
	return became, tried
}

func (a *Alarm) hand(ctx context.Context, by Carrier, to ladder.Contact, id string, now time.Time) Outcome {
	e := Envelope{
		ID: id, ToName: to.Name, Address: to.Address(by.Medium()), Kind: ladder.Alarm, Date: now,
		Notices: []ladder.Notice{{To: to.Name, Medium: by.Medium(), Kind: ladder.Alarm,
			Facts: &ladder.AlarmFacts{Head: ladder.Head{Farm: a.Rules.Farm}, Alarm: a.Trouble.What, Detail: a.Trouble.Detail}}},
	}
	if err := render(a.Rules, by, &e); err != nil {
		return Outcome{State: Permanent, Detail: err.Error()}
	}
	ctx, cancel := context.WithTimeout(ctx, handWithin)
	defer cancel()
	out, fell := handOver(ctx, by, e, a.Logger)
	if fell { // somebody else must hear it rather than nobody
		out.State, out.Down = Temporary, true
	}
	return out
}
