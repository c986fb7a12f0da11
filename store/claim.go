package store

import (
	"context"
	"errors"
	"time"

	"stubbled/scheduler/ladder"
)

// ClaimFor says who claims, and the farm's rules that a claim keeps to.
type ClaimFor struct {
	Medium  ladder.Medium
	Carrier string
	Retry   Retry
	// Address gives a contact's address by this medium now; empty where there
	// is none.
	Address func(contact string) string
	// Quiet reports whether a contact is not to be disturbed at a moment.
	// Answers and what is urgent go all the same. nil: never.
	Quiet func(contact string, at time.Time) bool
	// Cap is how many messages outside the reserve a contact gets from
	// DayStart on; 0 is no cap.
	Cap      int
	DayStart time.Time
	// AnswersOnly holds everything else back while the clock is not sure.
	AnswersOnly bool
}

// Claim takes the next message that is due, urgent first, then answers, then
// the longest due. Notices of one kind due to one contact make one message;
// answers are never bundled. Suppression and cap are checked, the words put in
// the envelope by word, and the attempt written, all in one transaction; word
// must not talk to anybody. A message that waited for a retry comes back with the same
// ID to the byte. It gives nil where nothing is due.
func (s *Store) Claim(ctx context.Context, now time.Time, f ClaimFor, word func(*Envelope) error) (*Message, error) {
	var m *Message
	err := s.writing(ctx, "claim", now, func(t *Tx) (err error) {
		m, err = t.claim(f, word)
		return err
	})
	if err != nil {
		return nil, err
	}
	return m, nil
}

// errChanged says that a group is not what it was: look again what is due.
var errChanged = errors.New("the group changed")

func (t *Tx) claim(f ClaimFor, word func(*Envelope) error) (*Message, error) {
	for {
		m, err := t.claimOnce(f, word)
		if !errors.Is(err, errChanged) { // what changes thaws or fails: each message or row once
			return m, err
		}
	}
}

func (t *Tx) claimOnce(f ClaimFor, word func(*Envelope) error) (*Message, error) {
	due, err := t.due(f)
	if err != nil {
		return nil, err
	}
	for _, d := range due {
		if m, err := t.take(f, d, word); m != nil || err != nil {
			return m, err
		}
	}
	return nil, nil
}

// dueGroup is what could make one message.
type dueGroup struct {
	contact string
	kind    ladder.Kind
	row     int64 // the row itself, where it is not bundled
	message int64 // the frozen message, where it waits for a retry
	repeats int64
	urgent  bool
	since   int64
}

// due lists what could be said, the most pressing first: frozen messages
// whose retry has come, answers one by one, everything else by contact and kind.
func (t *Tx) due(f ClaimFor) ([]dueGroup, error) {
	only := ""
	if f.AnswersOnly {
		only = " AND answer = 1"
	}
	rows, err := t.query(`SELECT contact, kind, CASE WHEN message IS NULL AND answer = 1 THEN id ELSE 0 END AS single,
			coalesce(message, 0) AS m, coalesce(repeats, 0) AS r, max(urgent) AS u, min(not_before) AS since
		FROM outbox WHERE state = 'queued' AND medium = ?1 AND not_before <= ?2 AND (good_until IS NULL OR good_until >= ?2)`+only+`
			AND (coalesce(message, repeats) IS NULL OR (SELECT coalesce(next_at, 0) FROM messages m WHERE m.id = coalesce(outbox.message, outbox.repeats)) <= ?2)
		GROUP BY contact, kind, single, m, r
		ORDER BY u DESC, answer DESC, since, min(id)`, string(f.Medium), t.now.Unix())
	if err != nil {
		return nil, err
	}
	return collect(rows, func(r scanner) (d dueGroup, err error) {
		var kind string
		err = r.Scan(&d.contact, &kind, &d.row, &d.message, &d.repeats, &d.urgent, &d.since)
		d.kind = ladder.Kind(kind)
		return d, err
	})
}

// take makes the group a message under way; nil where something holds it back.
func (t *Tx) take(f ClaimFor, d dueGroup, word func(*Envelope) error) (*Message, error) {
	address := f.Address(d.contact)
	why, err := t.heldBack(f, d, address)
	if err != nil {
		return nil, err
	}
	if why != "" {
		return nil, t.hold(f, d, why)
	}
	quiet := f.Quiet != nil && !d.kind.Answer() && f.Quiet(d.contact, t.now)
	if quiet && !d.urgent {
		return nil, nil
	}
	if d.message != 0 {
		return t.again(f, d, address)
	}
	return t.render(f, d, address, quiet, word)
}

// again takes a frozen message up once more. It thaws the message where that
// can no longer be right: the contact has another address or another carrier
// took over. One that may have arrived stays with its address and carrier, or
// waits.
func (t *Tx) again(f ClaimFor, d dueGroup, address string) (*Message, error) {
	var unsure bool
	m, err := scanMessage(t.row(`SELECT `+messageColumns+` FROM messages m WHERE m.id = ?`, d.message))
	if err != nil {
		return nil, err
	}
	if err := t.row(`SELECT unsure FROM messages WHERE id = ?`, d.message).Scan(&unsure); err != nil {
		return nil, err
	}
	if m.Address != address || m.Carrier != f.Carrier {
		if unsure {
			return nil, nil
		}
		if err := t.thaw(d.message); err != nil {
			return nil, err
		}
		return nil, errChanged
	}
	return m, t.begin(f, m)
}
