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

// Going notes that an attempt of an unsafe carrier is about to let go of the
// message, in a commit of its own: what has no such note when the power goes has
// not arrived.
func (s *Store) Going(ctx context.Context, attempt int64, now time.Time) error {
	return s.writing(ctx, "note that it goes", now, func(t *Tx) error {
		_, err := t.db.Exec(`UPDATE attempts SET going_at = ? WHERE id = ?`, now.Unix(), attempt)
		return err
	})
}

// Settle writes what became of an attempt. An unknown outcome is tried again
// with the same ID where that is safe; where it is not, what is worth saying
// twice is repeated once, in new words that say so, and everything else is left
// unknown. While the carrier itself is in trouble everything is kept to be
// repeated, so that what tried it is not lost. Settling twice is an error.
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
		err = t.notKnown(message, why, next, o.Down)
	}
	return err
}

// later queues a worded message again.
func (t *Tx) later(message int64, why string, next time.Time, unsure bool) error {
	_, err := t.db.Exec(`UPDATE messages SET next_at = ?, unsure = max(unsure, ?) WHERE id = ?`, next.Unix(), unsure, message)
	if err != nil {
		return err
	}
	_, err = t.move(Queued, why, "", "message = ?", message)
	return err
}

func (t *Tx) notKnown(message int64, why string, next time.Time, down bool) error {
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
	case retry == Unsafe && (down || kind.Twice() && !repeats.Valid):
		if _, err := t.db.Exec(`UPDATE messages SET unsure = 1, next_at = ? WHERE id = ?`, next.Unix(), message); err != nil {
			return err
		}
		_, err = t.move(Queued, why, "repeats = message, message = NULL", "message = ?", message)
		return err
	}
	_, err = t.move(Unknown, why, "", "message = ?", message)
	return err
}

// report keeps news of a message: a mail that bounced, a text that arrived. An
// unknown outcome is settled by it; of what is not ours it says nothing.
func (t *Tx) report(carrier string, r Report) error {
	message, err := t.reported(carrier, r)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return t.news(message, r)
}

func (t *Tx) reported(carrier string, r Report) (id int64, err error) {
	if r.EnvelopeID != "" {
		err = t.db.Row(`SELECT id FROM messages WHERE envelope = ?`, r.EnvelopeID).Scan(&id)
		return id, err
	}
	if r.Ref == "" {
		return 0, sql.ErrNoRows
	}
	err = t.db.Row(`SELECT message FROM attempts WHERE ref = ? AND ref <> '' AND carrier = ? ORDER BY +id DESC LIMIT 1`, r.Ref, carrier).Scan(&id)
	return id, err
}

func (t *Tx) news(message int64, r Report) error {
	news := "delayed"
	switch {
	case r.Delivered:
		news = "delivered"
	case r.Permanent:
		news = "undelivered"
	}
	_, err := t.db.Exec(`UPDATE messages SET report = ?, reported_at = ? WHERE id = ? AND (report IS NULL OR report = 'delayed')`,
		news, t.now.Unix(), message)
	if err != nil || news == "delayed" {
		return err
	}
	// A row under way is left to Settle, which knows more.
	if news == "undelivered" {
		if _, err := t.move(Failed, clean(r.Detail), "", "repeats = ? AND message IS NULL", message); err != nil {
			return err
		}
		_, err = t.move(Failed, clean(r.Detail), "", "message = ? AND state <> 'sending'", message)
		return err
	}
	if _, err := t.db.Exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, message); err != nil {
		return err
	}
	// A repeat that was to be made is not needed any more.
	if _, err := t.move(Sent, "", "message = repeats, repeats = NULL", "repeats = ? AND state = 'queued' AND message IS NULL", message); err != nil {
		return err
	}
	_, err = t.move(Sent, "", "", "message = ? AND state <> 'sending'", message)
	return err
}
