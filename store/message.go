package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// Message is one claimed message: it is written down that it is under way.
type Message struct {
	Envelope
	Row     int64
	Attempt int64 // to settle
	N       int   // of the attempt; 1 is the first
	Carrier string
}

const messageColumns = `m.id, m.envelope, m.message_id, m.carrier, m.contact, m.address, m.kind, m.subject, m.words, m.html,
	m.files, m.in_reply_to, m.urgent, m.frozen_at, m.repeats`

func scanMessage(r scanner) (*Message, error) {
	var m Message
	var files sql.NullString
	var frozen int64
	var repeats sql.NullInt64
	err := r.Scan(&m.Row, &m.ID, &m.MessageID, &m.Carrier, &m.ToName, &m.Address, &m.Kind, &m.Subject, &m.Text, &m.HTML,
		&files, &m.InReplyTo, &m.Urgent, &frozen, &repeats)
	if err != nil {
		return nil, err
	}
	m.Date, m.Answer, m.MayRepeat = time.Unix(frozen, 0).UTC(), m.Kind.Answer(), repeats.Valid
	if files.Valid {
		if err := json.Unmarshal([]byte(files.String), &m.Files); err != nil {
			return nil, fmt.Errorf("message %d: files: %w", m.Row, err)
		}
	}
	return &m, nil
}

// thaw gives a frozen message up that is certain not to have arrived; what of
// it is still queued is worded anew.
func (t *Tx) thaw(message int64) error {
	if _, err := t.exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, message); err != nil {
		return err
	}
	seq, err := t.nextSeq()
	if err != nil {
		return err
	}
	_, err = t.exec(`UPDATE outbox SET message = NULL, seq = ? WHERE message = ? AND state = 'queued'`, seq, message)
	return err
}

// noticesOf gives what a message says.
func (t *Tx) noticesOf(message int64) ([]ladder.Notice, error) {
	rows, err := t.query(`SELECT `+outColumns+` FROM outbox o WHERE o.message = ? ORDER BY o.not_before, o.id`, message)
	if err != nil {
		return nil, err
	}
	said, err := collect(rows, scanSaid)
	notices := make([]ladder.Notice, len(said))
	for i, s := range said {
		notices[i] = s.Notice
	}
	return notices, err
}
