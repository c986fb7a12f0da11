package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"stubbled/scheduler/ladder"
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
	states := make([]string, len(from[to]))
	for i, s := range from[to] {
		states[i] = "'" + string(s) + "'"
	}
	if set != "" {
		set = ", " + set
	}
	return t.change(`state = ?, why = ?, changed_at = ?`+set, `state IN (`+strings.Join(states, ", ")+`) AND `+where,
		append([]any{to, why, t.now.Unix()}, args...)...)
}

// insert puts a notice in the outbox. fresh is false where its key, or an
// answer to its text, is there already.
func (t *Tx) insert(n *ladder.Notice, facts string) (fresh bool, err error) {
	seq, err := t.nextSeq()
	if err != nil {
		return false, err
	}
	rows, err := t.db.Exec(`INSERT INTO outbox (key, contact, medium, kind, paddock, facts, not_before, good_until, urgent, answer, inbox, planned_at, changed_at, seq)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
		n.Key.String(), n.To, n.Medium, n.Kind, n.About().Paddock, facts, n.NotBefore.Unix(), instant(n.GoodUntil),
		n.Urgent, n.Kind.Answer(), ref(n.Inbox), t.now.Unix(), t.now.Unix(), seq)
	return rows == 1, err
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
	if !n.Kind.Answer() || n.Inbox == 0 && n.Kind != ladder.AnswerWaits && n.Kind != ladder.PassedOn || n.Key == (ladder.Key{}) {
		return false, fmt.Errorf("answer %q (%s): an answer has a kind of answers, a key and the inbox row it answers", n.Key, n.Kind)
	}
	facts, err := n.Encode()
	if err != nil {
		return false, fmt.Errorf("answer %q: %w", n.Key, err)
	}
	return t.insert(&n, facts)
}

// AnswersTo counts the answers to a contact since the beginning of an hour and of a
// day: those to their own texts, or with what others texted and was passed on to them,
// which its index counts alone.
func (t *Tx) AnswersTo(contact string, hour, day time.Time, own bool) (ofHour, ofDay int, err error) {
	which := ""
	if own {
		which = " AND inbox IS NOT NULL"
	}
	err = t.db.Row(`SELECT coalesce(sum(planned_at >= ?1 AND changed_at >= ?1), 0), count(*) FROM outbox
		WHERE contact = ?2 AND answer = 1 AND changed_at >= ?3 AND planned_at BETWEEN ?3 AND ?4`+which,
		hour.Unix(), contact, day.Unix(), t.now.Unix()).Scan(&ofHour, &ofDay)
	return ofHour, ofDay, err
}

// AnswersLike counts those since then that say the same as this one.
func (t *Tx) AnswersLike(n ladder.Notice, since time.Time) (alike int, err error) {
	facts, err := n.Encode()
	if err != nil {
		return 0, err
	}
	err = t.db.Row(`SELECT count(*) FROM outbox WHERE contact = ?1 AND answer = 1 AND changed_at >= ?2 AND planned_at BETWEEN ?2 AND ?3
		AND kind = ?4 AND facts = ?5`, n.To, since.Unix(), t.now.Unix(), n.Kind, facts).Scan(&alike)
	return alike, err
}

// Planned reports whether something with a key was ever to be said.
func (t *Tx) Planned(key ladder.Key) (yes bool, err error) {
	err = t.db.Row(`SELECT EXISTS (SELECT 1 FROM outbox WHERE key = ?)`, key.String()).Scan(&yes)
	return yes, err
}

// Withdraw takes back what waits under a key and is not needed any more.
func (t *Tx) Withdraw(key ladder.Key) error {
	_, err := t.move(Withdrawn, "not needed any more", "", "key = ?", key.String())
	return err
}

// requeue says something again that was refused, unknown or expired: it is
// queued once more, worded anew and stays until goodUntil whatever a pass
// wants. What may have arrived is marked as a repeat.
func (t *Tx) requeue(row int64, goodUntil time.Time) error {
	n, err := t.move(Queued, "", `by_hand = 1, good_until = ?, not_before = min(not_before, ?),
			repeats = CASE WHEN state = 'unknown' THEN coalesce(message, repeats) ELSE repeats END, message = NULL`,
		"id = ? AND state IN ('failed', 'unknown', 'expired', 'withdrawn')", instant(goodUntil), t.now.Unix(), row)
	if err == nil && n == 0 {
		err = errors.New("say it again: there is no such row that was not said")
	}
	return err
}

// SayAgain queues what could not be said in the last week once more, to be said
// until goodUntil, and gives how many rows that were. It may be called beside a
// running daemon.
func (s *Store) SayAgain(ctx context.Context, rows []int64, goodUntil, now time.Time) (n int, err error) {
	err = s.writeBeside(ctx, "say it again", now, func(t *Tx) error {
		for _, row := range rows {
			if err := t.requeue(row, goodUntil); err != nil {
				return err
			}
			n++
		}
		return nil
	})
	return n, err
}
