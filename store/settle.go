package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// Outcome is what became of one attempt.
type Outcome string

// The outcomes.
const (
	WasSent    Outcome = "sent"
	TryAgain   Outcome = "again"   // certain not to have arrived; Result.NextAt
	WasRefused Outcome = "failed"  // certain never to arrive
	NotKnown   Outcome = "unknown" // the carrier's own answer was lost
)

// Result is an outcome with what the carrier said.
type Result struct {
	Outcome Outcome
	NextAt  time.Time // TryAgain, and NotKnown where a retry is safe; zero: a minute on
	Ref     string    // the carrier's own id
	Code    string    // the protocol's code
	Detail  string    // plain words; no address, no secret
}

// Settle writes what became of an attempt. An unknown outcome is tried again
// with the same ID where that is safe; where it is not, the cutoff rung and
// what is more pressing is repeated once, in new words that say so, and
// everything else is left unknown. Settling twice is an error.
func (s *Store) Settle(ctx context.Context, attempt int64, r Result, now time.Time) error {
	return s.writing(ctx, "settle", now, func(t *Tx) error { return t.settle(attempt, r) })
}

func (t *Tx) settle(attempt int64, r Result) error {
	var message int64
	err := t.row(`UPDATE attempts SET ended_at = ?, outcome = ?, ref = ?, code = ?, detail = ? WHERE id = ? AND outcome IS NULL RETURNING message`,
		t.now.Unix(), string(r.Outcome), clean(r.Ref), clean(r.Code), clean(r.Detail), attempt).Scan(&message)
	if errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("settle attempt %d: it is not under way", attempt)
	}
	if err != nil {
		return err
	}
	why := clean(r.Detail)
	if r.Code != "" && why == "" {
		why = clean(r.Code)
	}
	next := r.NextAt
	if next.IsZero() {
		next = t.now.Add(time.Minute)
	}
	switch r.Outcome {
	case WasSent:
		_, err = t.move(Sent, "", "", "message = ?", message)
	case WasRefused:
		_, err = t.move(Failed, why, "", "message = ?", message)
	case TryAgain:
		err = t.later(message, why, next, false)
	case NotKnown:
		err = t.notKnown(message, why, next)
	default:
		err = fmt.Errorf("settle attempt %d: %q is no outcome", attempt, r.Outcome)
	}
	return err
}

// later queues a frozen message again.
func (t *Tx) later(message int64, why string, next time.Time, unsure bool) error {
	_, err := t.exec(`UPDATE messages SET next_at = ?, unsure = max(unsure, ?) WHERE id = ?`, next.Unix(), unsure, message)
	if err != nil {
		return err
	}
	_, err = t.move(Queued, why, "", "message = ?", message)
	return err
}

func (t *Tx) notKnown(message int64, why string, next time.Time) error {
	var retry, kind string
	var repeats sql.NullInt64
	err := t.row(`SELECT retry, kind, repeats FROM messages WHERE id = ?`, message).Scan(&retry, &kind, &repeats)
	if err != nil {
		return err
	}
	switch {
	case Retry(retry) == Safe:
		return t.later(message, why, next, true)
	case Retry(retry) == Unsafe && Repeatable(ladder.Kind(kind)) && !repeats.Valid:
		if _, err := t.exec(`UPDATE messages SET unsure = 1 WHERE id = ?`, message); err != nil {
			return err
		}
		_, err = t.move(Queued, why, "repeats = message, message = NULL", "message = ?", message)
		return err
	}
	_, err = t.move(Unknown, why, "", "message = ?", message)
	return err
}

// Repeatable reports whether a notice is worth saying twice where nobody knows
// whether it arrived: the cutoff rung and later ones, and a hazard.
func Repeatable(k ladder.Kind) bool {
	switch k {
	case ladder.ShutToday, ladder.Overdue, ladder.FrostWarning, ladder.HoldBegins:
		return true
	}
	return false
}

// recover turns what another run left under way into unknown outcomes.
func (s *Store) recover(ctx context.Context, now time.Time) error {
	n := 0
	err := s.writing(ctx, "take up the last run", now, func(t *Tx) error {
		rows, err := t.query(`SELECT id FROM attempts WHERE outcome IS NULL AND run <> ?`, s.run)
		if err != nil {
			return err
		}
		open, err := collect(rows, func(r scanner) (id int64, err error) { return id, r.Scan(&id) })
		if err != nil {
			return err
		}
		n = len(open)
		for _, id := range open {
			if err := t.settle(id, Result{Outcome: NotKnown, NextAt: now, Detail: "the program ended before the carrier answered"}); err != nil {
				return err
			}
		}
		return nil
	})
	if n > 0 {
		s.log.Warn("the last run ended with messages under way", "unknown", n)
	}
	return err
}

// Report is news of a message after it was handed over.
type Report struct {
	EnvelopeID string // ours, or
	Ref        string // the carrier's
	Delivered  bool
	Permanent  bool // not delivered, and never will be
	Detail     string
}

// Report keeps news of a message: a mail that bounced, a text that arrived. An
// unknown outcome is settled by it. known is false where the message is not
// ours.
func (s *Store) Report(ctx context.Context, carrier string, r Report, now time.Time) (known bool, err error) {
	err = s.writing(ctx, "keep a delivery report", now, func(t *Tx) error {
		message, err := t.reported(carrier, r)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		known = true
		return t.report(message, r)
	})
	return known, err
}

func (t *Tx) reported(carrier string, r Report) (id int64, err error) {
	if r.EnvelopeID != "" {
		err = t.row(`SELECT id FROM messages WHERE envelope = ?`, r.EnvelopeID).Scan(&id)
		return id, err
	}
	if r.Ref == "" {
		return 0, sql.ErrNoRows
	}
	err = t.row(`SELECT message FROM attempts WHERE ref = ? AND carrier = ? ORDER BY id DESC LIMIT 1`, r.Ref, carrier).Scan(&id)
	return id, err
}

func (t *Tx) report(message int64, r Report) error {
	news := "delayed"
	switch {
	case r.Delivered:
		news = "delivered"
	case r.Permanent:
		news = "undelivered"
	}
	_, err := t.exec(`UPDATE messages SET report = ?, reported_at = ? WHERE id = ? AND (report IS NULL OR report = 'delayed')`,
		news, t.now.Unix(), message)
	if err != nil || news == "delayed" {
		return err
	}
	// A row under way is left to Settle, which knows more.
	if news == "undelivered" {
		_, err = t.move(Failed, clean(r.Detail), "", "message = ? AND state <> 'sending'", message)
		return err
	}
	if _, err := t.exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, message); err != nil {
		return err
	}
	if _, err := t.move(Sent, "", "message = ?1, repeats = NULL", "repeats = ?1 AND state = 'queued'", message); err != nil {
		return err
	}
	_, err = t.move(Sent, "", "", "message = ? AND state IN ('unknown', 'queued')", message)
	return err
}
