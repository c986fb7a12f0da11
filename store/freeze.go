package store

import (
	"crypto/rand"
	"database/sql"
	"fmt"
	"strings"
	"time"

	"stubbled/scheduler/ladder"
)

// render words a group and writes it down as a message under way.
func (t *Tx) render(f ClaimFor, d dueGroup, address string, urgentOnly bool, word func(*Envelope) error) (*Message, error) {
	said, err := t.dueRows(f, d, urgentOnly)
	if err != nil || len(said) == 0 {
		return nil, err
	}
	m := &Message{Carrier: f.Carrier, Envelope: Envelope{
		ID: strings.ToLower(rand.Text()), ToName: d.contact, Address: address, Kind: d.kind, Date: time.Unix(t.now.Unix(), 0).UTC(),
		Answer: d.kind.Answer(), Urgent: d.urgent, MayRepeat: d.repeats != 0,
	}}
	for _, s := range said {
		m.Notices = append(m.Notices, s.Notice)
	}
	if inbox := said[0].Notice.Inbox; f.Medium == ladder.Mail && m.Answer && inbox != 0 {
		if err := t.row(`SELECT mail_id FROM inbox WHERE id = ?`, inbox).Scan(&m.InReplyTo); err != nil {
			return nil, err
		}
	}
	if err := worded(&m.Envelope, word); err != nil {
		return nil, t.wordless(said, err)
	}
	if err := t.keep(f, d, m); err != nil {
		return nil, err
	}
	if d.repeats != 0 {
		if _, err := t.exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, d.repeats); err != nil {
			return nil, err
		}
	}
	for _, s := range said {
		if _, err := t.exec(`UPDATE outbox SET message = ? WHERE id = ?`, m.Row, s.ID); err != nil {
			return nil, err
		}
	}
	return m, t.begin(f, m)
}

// worded makes the words. That one notice cannot be worded must not end the
// program, or nothing else would ever be said.
func worded(e *Envelope, word func(*Envelope) error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("word %s: %v", e.Kind, r)
		}
	}()
	return word(e)
}

// wordless fails rows that cannot be worded, so that those behind them are
// said and these show among what was not.
func (t *Tx) wordless(said []SaidRow, cause error) error {
	t.s.log.Error("a message cannot be worded", "kind", string(said[0].Notice.Kind), "err", cause)
	for _, s := range said {
		if _, err := t.move(Failed, clean("cannot be worded: "+cause.Error()), "", "id = ?", s.ID); err != nil {
			return err
		}
	}
	return errChanged
}

func (t *Tx) dueRows(f ClaimFor, d dueGroup, urgentOnly bool) ([]SaidRow, error) {
	only := ""
	if urgentOnly {
		only = " AND urgent = 1"
	}
	rows, err := t.query(`SELECT `+outColumns+` FROM outbox o WHERE `+pick+only+` ORDER BY not_before, id`, t.pickArgs(f, d)...)
	if err != nil {
		return nil, err
	}
	return collect(rows, scanSaid)
}

// keep writes the words of a message.
func (t *Tx) keep(f ClaimFor, d dueGroup, m *Message) error {
	files, err := jsonOrNil(m.Files)
	if err != nil {
		return err
	}
	return t.row(`INSERT INTO messages (envelope, message_id, carrier, retry, contact, address, medium, kind, subject, words, html, files, in_reply_to, urgent, frozen_at, repeats)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`,
		m.ID, m.MessageID, f.Carrier, f.Retry, m.ToName, m.Address, f.Medium, m.Kind, m.Subject, m.Text, m.HTML,
		files, m.InReplyTo, m.Urgent, m.Date.Unix(), idOrNil(d.repeats)).Scan(&m.Row)
}

// begin writes the attempt and puts the rows under way.
func (t *Tx) begin(f ClaimFor, m *Message) error {
	var last sql.NullInt64
	if err := t.row(`SELECT max(n) FROM attempts WHERE message = ?`, m.Row).Scan(&last); err != nil {
		return err
	}
	m.N = int(last.Int64) + 1
	err := t.row(`INSERT INTO attempts (message, n, carrier, run, started_at) VALUES (?, ?, ?, ?, ?) RETURNING id`,
		m.Row, m.N, f.Carrier, t.s.run, t.now.Unix()).Scan(&m.Attempt)
	if err != nil {
		return err
	}
	if _, err := t.exec(`UPDATE messages SET next_at = NULL, carrier = ?, retry = ? WHERE id = ?`, f.Carrier, string(f.Retry), m.Row); err != nil {
		return err
	}
	if _, err := t.move(Sending, "", "", "message = ?", m.Row); err != nil {
		return err
	}
	if m.Notices == nil {
		m.Notices, err = t.noticesOf(m.Row)
	}
	return err
}
