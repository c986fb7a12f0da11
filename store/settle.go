package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// outcomes is how attempts keep each result.
var outcomes = map[Result]string{WasSent: "sent", TryAgain: "again", WasRefused: "failed", NotKnown: "unknown"}

// Settle writes what became of an attempt. An unknown outcome is tried again
// with the same ID where that is safe; where it is not, the cutoff rung and
// what is more pressing is repeated once, in new words that say so, and
// everything else is left unknown. Settling twice is an error.
func (s *Store) Settle(ctx context.Context, attempt int64, o Outcome, now time.Time) error {
	return s.writing(ctx, "settle", now, func(t *Tx) error { return t.settle(attempt, o) })
}

func (t *Tx) settle(attempt int64, o Outcome) error {
	word, ok := outcomes[o.State]
	if !ok {
		return fmt.Errorf("settle attempt %d: %d is no outcome", attempt, o.State)
	}
	var message int64
	err := t.db.Row(`UPDATE attempts SET ended_at = ?, outcome = ?, ref = ?, code = ?, detail = ? WHERE id = ? AND outcome IS NULL RETURNING message`,
		t.now.Unix(), word, clean(o.Ref), clean(o.Code), clean(o.Detail), attempt).Scan(&message)
	if errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("settle attempt %d: it is not under way", attempt)
	}
	if err != nil {
		return err
	}
	why := cmp.Or(clean(o.Detail), clean(o.Code))
	next := t.now.Add(o.After)
	switch o.State {
	case WasSent:
		_, err = t.move(Sent, "", "", "message = ?", message)
	case WasRefused:
		_, err = t.move(Failed, why, "", "message = ?", message)
	case TryAgain:
		err = t.later(message, why, next, false)
	case NotKnown:
		err = t.notKnown(message, why, next)
	}
	return err
}

// later queues a frozen message again.
func (t *Tx) later(message int64, why string, next time.Time, unsure bool) error {
	_, err := t.db.Exec(`UPDATE messages SET next_at = ?, unsure = max(unsure, ?) WHERE id = ?`, next.Unix(), unsure, message)
	if err != nil {
		return err
	}
	_, err = t.move(Queued, why, "", "message = ?", message)
	return err
}

func (t *Tx) notKnown(message int64, why string, next time.Time) error {
	var retry Retry
	var kind ladder.Kind
	var repeats sql.NullInt64
	err := t.db.Row(`SELECT retry, kind, repeats FROM messages WHERE id = ?`, message).Scan(&retry, &kind, &repeats)
	if err != nil {
		return err
	}
	switch {
	case retry == Safe:
		return t.later(message, why, next, true)
	case retry == Unsafe && repeatable(kind) && !repeats.Valid:
		if _, err := t.db.Exec(`UPDATE messages SET unsure = 1, next_at = ? WHERE id = ?`, next.Unix(), message); err != nil {
			return err
		}
		_, err = t.move(Queued, why, "repeats = message, message = NULL", "message = ?", message)
		return err
	}
	_, err = t.move(Unknown, why, "", "message = ?", message)
	return err
}

// repeatable reports whether a notice is worth saying twice where nobody knows
// whether it arrived: the cutoff rung and later ones, and a hazard.
func repeatable(k ladder.Kind) bool {
	switch k {
	case ladder.ShutToday, ladder.Overdue, ladder.FrostWarning, ladder.HoldBegins:
		return true
	}
	return false
}
