package store

import (
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// State is where a row of the outbox stands.
type State string

// The states. A row is queued, then sending, then sent, failed or unknown; or
// queued again, to be tried once more; or, unsaid, withdrawn or expired.
const (
	Queued    State = "queued"
	Sending   State = "sending"
	Sent      State = "sent"
	Failed    State = "failed"
	Unknown   State = "unknown"   // the carrier's own answer was lost
	Withdrawn State = "withdrawn" // no longer wanted
	Expired   State = "expired"   // no longer true
)

// Why a row is held back.
const (
	WhyStopped   = "stopped"    // the owner of the address opted out
	WhyNoAddress = "no-address" // the contact has none by this medium
	WhyCap       = "cap"        // enough was said today
	WhyRead      = "read"       // nothing does: it was read where it was typed
)

// SaidRow is one row of the outbox.
type SaidRow struct {
	ID      int64
	Notice  ladder.Notice
	State   State
	Why     string    // what holds it back or why it was not said: stopped, no-address, cap, or the carrier's words
	Planned time.Time // when it was first wanted
	Changed time.Time // of the last change of state; for Sent, when it was sent
	Unsure  bool      // an earlier try may have arrived
	Message int64     // the message that carries it; 0 before it is claimed
}

// Told reports whether the contact has been told it, or may have been.
func (r SaidRow) Told() bool {
	return r.Unsure || r.State == Sent || r.State == Unknown || r.State == Sending
}

// refused reports whether a carrier has refused it for good, not only that it could
// not be worded.
func (r SaidRow) refused() bool { return r.State == Failed && r.Message != 0 }

// counts reports whether anybody was told it, or could not be for good.
func (r SaidRow) counts() bool { return r.Told() || r.refused() }

const outColumns = `o.id, o.key, o.contact, o.medium, o.kind, o.facts, o.not_before, o.good_until, o.urgent, coalesce(o.inbox, 0),
	o.state, o.why, o.planned_at, o.changed_at, coalesce(o.message, 0),
	o.repeats IS NOT NULL OR coalesce((SELECT m.unsure FROM messages m WHERE m.id = o.message), 0)`

// changedSince are the rows o that changed since an instant: those of one contact after
// the other, in the one index that knows when.
const changedSince = `o.id IN (WITH RECURSIVE who (contact) AS (SELECT min(contact) FROM outbox
		UNION ALL SELECT (SELECT min(contact) FROM outbox WHERE contact > who.contact) FROM who WHERE who.contact IS NOT NULL)
	SELECT r.id FROM who CROSS JOIN outbox r ON r.contact = who.contact AND r.answer IN (0, 1) AND r.changed_at >= ?)`

// scanSaid reads outColumns, and what stands behind them.
func scanSaid(r disk.Scanner) (s SaidRow, err error) { return scanMore(r) }

func scanMore(r disk.Scanner, more ...any) (s SaidRow, err error) {
	s, facts, err := scanPlain(r, more...)
	if err == nil {
		err = s.decode(facts)
	}
	return s, err
}

// scanPlain leaves the facts as they are kept: to read them takes longest.
func scanPlain(r disk.Scanner, more ...any) (s SaidRow, facts string, err error) {
	n := &s.Notice
	err = r.Scan(append([]any{&s.ID, &n.Key, &n.To, &n.Medium, &n.Kind, &facts, (*instant)(&n.NotBefore), (*instant)(&n.GoodUntil), &n.Urgent, &n.Inbox,
		&s.State, &s.Why, (*instant)(&s.Planned), (*instant)(&s.Changed), &s.Message, &s.Unsure}, more...)...)
	return s, facts, err
}

func (r *SaidRow) decode(facts string) error {
	if err := r.Notice.Decode(facts); err != nil {
		return fmt.Errorf("outbox row %d: facts: %w", r.ID, err)
	}
	return nil
}
