package store

import (
	"context"
	"errors"
	"time"

	"stubbled/store/disk"
)

// InRow is a text in the inbox.
type InRow struct {
	In
	Row      int64  // the inbox row
	Carrier  string // who brought it
	Received time.Time
}

// Accept keeps what a carrier brought together with the cursor behind it, in
// one transaction. Only after it returns nil may the carrier's peer be told
// that it was received. What is there already is kept once. An empty cursor
// leaves the old one.
func (s *Store) Accept(ctx context.Context, carrier string, got []In, cursor string, now time.Time) error {
	return s.AcceptAnd(ctx, carrier, got, cursor, now, func(*Tx) error { return nil })
}

// AcceptAnd is Accept with what is made of it in the same transaction: where that
// fails nothing is kept.
func (s *Store) AcceptAnd(ctx context.Context, carrier string, got []In, cursor string, now time.Time, then func(*Tx) error) error {
	return s.writeBeside(ctx, "accept", now, func(t *Tx) error {
		for _, in := range got {
			if err := t.accept(carrier, in); err != nil {
				return err
			}
		}
		if cursor != "" {
			if err := t.setCursor(carrier, cursor); err != nil {
				return err
			}
		}
		return then(t)
	})
}

func (t *Tx) accept(carrier string, in In) error {
	if in.Report != nil {
		return t.report(carrier, *in.Report)
	}
	if in.ID == "" {
		return errors.New("a text without the carrier's id cannot be kept once")
	}
	_, err := t.db.Exec(`INSERT INTO inbox (carrier, carrier_id, sender, contact, words, sent_at, received_at, in_reply_to, mail_id, stop_only)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (carrier, carrier_id) DO NOTHING`,
		carrier, in.ID, clean(in.From), in.Contact, clean(in.Text), instant(in.Sent), t.now.Unix(), clean(in.InReplyTo), clean(in.MailID), in.StopOnly)
	return err
}

func (t *Tx) setCursor(carrier, cursor string) error {
	_, err := t.db.Exec(`INSERT INTO cursors (carrier, cursor, at) VALUES (?, ?, ?)
		ON CONFLICT (carrier) DO UPDATE SET cursor = excluded.cursor, at = excluded.at`, carrier, cursor, t.now.Unix())
	return err
}

// Cursor is how far a carrier or weather source has been read; empty at first.
func (s *Store) Cursor(ctx context.Context, carrier string) (c string, err error) {
	err = s.db.Look(ctx, "read the cursor").Row(`SELECT coalesce(max(cursor), '') FROM cursors WHERE carrier = ?`, carrier).Scan(&c)
	return c, err
}

// Pending gives the texts that nobody has heard yet, in the order received.
func (s *Store) Pending(ctx context.Context) (all []InRow, err error) {
	err = s.db.Near(ctx, "read the inbox", func(q disk.Querier) error { all, err = pending(q); return err })
	return all, err
}

// Pending gives those of them that are there with this transaction.
func (t *Tx) Pending() ([]InRow, error) { return pending(t.db) }

func pending(q disk.Querier) ([]InRow, error) {
	return disk.All(q, scanIn, `SELECT id, carrier, carrier_id, sender, contact, words, sent_at, received_at, in_reply_to, mail_id, stop_only
		FROM inbox WHERE done_at IS NULL ORDER BY received_at, id`)
}

func scanIn(r disk.Scanner) (in InRow, err error) {
	err = r.Scan(&in.Row, &in.Carrier, &in.ID, &in.From, &in.Contact, &in.Text, (*instant)(&in.Sent), (*instant)(&in.Received),
		&in.InReplyTo, &in.MailID, &in.StopOnly)
	return in, err
}

// Heard says that a text was dealt with. It is in the transaction of whatever
// was made of it, so that it is heard exactly once; fresh is false where it
// was heard before, and then nothing may be written of it.
func (t *Tx) Heard(row int64) (fresh bool, err error) {
	n, err := t.db.Exec(`UPDATE inbox SET done_at = ? WHERE id = ? AND done_at IS NULL`, t.now.Unix(), row)
	return n == 1, err
}
