package store

import (
	"database/sql"
	"fmt"
	"strings"
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

// from says what a row must be to become something else; every change of
// state goes through Tx.move, which keeps to it.
var from = map[State][]State{
	Queued:    {Sending, Failed, Unknown, Withdrawn, Expired}, // tried again, wanted again, said again
	Sending:   {Queued},
	Sent:      {Sending, Unknown, Queued},       // a late report may tell of it
	Failed:    {Sending, Sent, Unknown, Queued}, // a mail that bounced was sent once; words that cannot be made fail in the queue
	Unknown:   {Sending, Queued},                // queued: a repeat that is not wanted any more
	Withdrawn: {Queued},
	Expired:   {Queued},
}

// move is the one place where rows change their state. where picks the rows;
// those that may not become to are left alone. set is more to set.
func (t *Tx) move(to State, why, set, where string, args ...any) (int64, error) {
	seq, err := t.nextSeq()
	if err != nil {
		return 0, err
	}
	states := make([]string, len(from[to]))
	for i, s := range from[to] {
		states[i] = "'" + string(s) + "'"
	}
	if set != "" {
		set = ", " + set
	}
	q := `UPDATE outbox SET state = ?, why = ?, changed_at = ?, seq = ?` + set +
		` WHERE state IN (` + strings.Join(states, ", ") + `) AND ` + where
	return t.db.Exec(q, append([]any{to, why, t.now.Unix(), seq}, args...)...)
}

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

const outColumns = `o.id, o.key, o.contact, o.medium, o.kind, o.facts, o.not_before, o.good_until, o.urgent, coalesce(o.inbox, 0),
	o.state, o.why, o.planned_at, o.changed_at, coalesce(o.message, 0),
	o.repeats IS NOT NULL OR coalesce((SELECT m.unsure FROM messages m WHERE m.id = o.message), 0)`

// scanSaid reads outColumns, and what stands behind them.
func scanSaid(r disk.Scanner) (s SaidRow, err error) { return scanMore(r) }

func scanMore(r disk.Scanner, more ...any) (s SaidRow, err error) {
	var facts string
	n := &s.Notice
	err = r.Scan(append([]any{&s.ID, &n.Key, &n.To, &n.Medium, &n.Kind, &facts, (*instant)(&n.NotBefore), (*instant)(&n.GoodUntil), &n.Urgent, &n.Inbox,
		&s.State, &s.Why, (*instant)(&s.Planned), (*instant)(&s.Changed), &s.Message, &s.Unsure}, more...)...)
	if err != nil {
		return s, err
	}
	if err := n.Decode(facts); err != nil {
		return s, fmt.Errorf("outbox row %d: facts: %w", s.ID, err)
	}
	return s, nil
}

// insert puts a notice in the outbox. fresh is false where its key, or an
// answer to its text, is there already.
func (t *Tx) insert(n ladder.Notice, facts string) (id int64, fresh bool, err error) {
	seq, err := t.nextSeq()
	if err != nil {
		return 0, false, err
	}
	err = t.db.Row(`INSERT INTO outbox (key, contact, medium, kind, paddock, facts, not_before, good_until, urgent, answer, inbox, planned_at, changed_at, seq)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING RETURNING id`,
		n.Key.String(), n.To, n.Medium, n.Kind, n.About().Paddock, facts, n.NotBefore.Unix(), instant(n.GoodUntil),
		n.Urgent, n.Kind.Answer(), ref(n.Inbox), t.now.Unix(), t.now.Unix(), seq).Scan(&id)
	if err == sql.ErrNoRows {
		return 0, false, nil
	}
	return id, err == nil, err
}

// AnswerRead keeps the answer to a text whose sender reads it where it was typed:
// no carrier has it.
func (t *Tx) AnswerRead(n ladder.Notice) error {
	fresh, err := t.Answer(n)
	if err != nil || !fresh {
		return err
	}
	_, err = t.move(Sent, WhyRead, "", "inbox = ?", n.Inbox)
	return err
}

// Answer queues the answer to a text just heard; it is due at once and no pass
// touches it. A text is answered once: fresh is false where it was.
func (t *Tx) Answer(n ladder.Notice) (fresh bool, err error) {
	if !n.Kind.Answer() || n.Inbox == 0 || n.Key == (ladder.Key{}) {
		return false, fmt.Errorf("answer %q (%s): an answer has a kind of answers, a key and the inbox row it answers", n.Key, n.Kind)
	}
	facts, err := n.Encode()
	if err != nil {
		return false, fmt.Errorf("answer %q: %w", n.Key, err)
	}
	_, fresh, err = t.insert(n, facts)
	return fresh, err
}
