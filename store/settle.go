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
	NextAt  time.Time // TryAgain, and NotKnown where it is tried or said again; zero: a minute on
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
		if _, err := t.exec(`UPDATE messages SET unsure = 1, next_at = ? WHERE id = ?`, next.Unix(), message); err != nil {
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
