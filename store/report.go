package store

import (
	"database/sql"
	"errors"
)

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
