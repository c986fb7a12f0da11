package store

import (
	"crypto/rand"
	"errors"
	"fmt"
	"strings"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

type claimer struct {
	*Tx
	ClaimFor
	word func(*Envelope) error
}

// errChanged says that a group is not what it was: look again what is due.
var errChanged = errors.New("the group changed")

// group is what could make one message.
type group struct {
	contact string
	kind    ladder.Kind
	rows    string // their ids, a list for json_each
	message int64  // whose words are there, where it waits for a retry
	repeats int64
	urgent  bool
}

// Message is one claimed message: it is written down that it is under way.
type Message struct {
	Envelope
	Row     int64
	Attempt int64 // to settle
	N       int   // of the attempt; 1 is the first
	Carrier string
}

// again takes a worded message up once more. It is worded anew where that can
// no longer be right: the contact has another address or another carrier took
// over. One that may have arrived stays with its address and carrier, or waits.
func (c claimer) again(g group, address string) (*Message, error) {
	m := &Message{Row: g.message}
	var unsure bool
	err := c.db.Row(`SELECT envelope, message_id, carrier, contact, address, kind, subject, words, html, files, in_reply_to, urgent,
			frozen_at, repeats IS NOT NULL, unsure, (SELECT coalesce(max(n), 0) FROM attempts WHERE message = messages.id) FROM messages WHERE id = ?`, m.Row).
		Scan(&m.ID, &m.MessageID, &m.Carrier, &m.ToName, &m.Address, &m.Kind, &m.Subject, &m.Text, &m.HTML, (*list[File])(&m.Files),
			&m.InReplyTo, &m.Urgent, (*instant)(&m.Date), &m.MayRepeat, &unsure, &m.N)
	if err != nil {
		return nil, fmt.Errorf("message %d: %w", m.Row, err)
	}
	m.Answer = m.Kind.Answer()
	if m.Address != address || m.Carrier != c.Carrier {
		if unsure {
			return nil, nil
		}
		if err := c.unword(m.Row); err != nil {
			return nil, err
		}
		return nil, errChanged
	}
	said, err := disk.All(c.db, scanSaid, `SELECT `+outColumns+` FROM outbox o WHERE o.message = ? ORDER BY o.not_before, o.id`, m.Row)
	if err != nil {
		return nil, err
	}
	m.Notices = notices(said)
	if _, err := c.db.Exec(`UPDATE messages SET next_at = NULL, carrier = ?, retry = ? WHERE id = ?`, c.Carrier, c.Retry, m.Row); err != nil {
		return nil, err
	}
	return m, c.begin(m, said)
}

func notices(said []SaidRow) []ladder.Notice {
	all := make([]ladder.Notice, len(said))
	for i, s := range said {
		all[i] = s.Notice
	}
	return all
}

// render words a group and writes it down as a message under way.
func (c claimer) render(g group, address string, urgentOnly bool) (*Message, error) {
	said, err := disk.All(c.db, c.scanToWord, `SELECT `+outColumns+` FROM outbox o
		WHERE o.id IN (SELECT value FROM json_each(?)) AND o.urgent >= ? ORDER BY o.not_before, o.id`, g.rows, urgentOnly)
	if err != nil || len(said) == 0 {
		return nil, err
	}
	m := &Message{Carrier: c.Carrier, Envelope: Envelope{
		ID: strings.ToLower(rand.Text()), ToName: g.contact, Address: address, Kind: g.kind, Date: time.Unix(c.now.Unix(), 0).UTC(),
		Answer: g.kind.Answer(), Urgent: g.urgent, MayRepeat: g.repeats != 0, Notices: notices(said),
	}}
	if inbox := m.Notices[0].Inbox; c.Medium == ladder.Mail && m.Answer && inbox != 0 {
		if err := c.db.Row(`SELECT mail_id FROM inbox WHERE id = ?`, inbox).Scan(&m.InReplyTo); err != nil {
			return nil, err
		}
	}
	if err := c.words(&m.Envelope); err != nil {
		return nil, c.wordless(said, err)
	}
	said = said[:len(m.Notices)] // what did not fit is claimed next
	if err := c.keep(g, m); err != nil {
		return nil, err
	}
	return m, c.begin(m, said)
}

func (c claimer) scanToWord(r disk.Scanner) (SaidRow, error) {
	s, facts, err := scanPlain(r)
	if err == nil {
		err = s.decode(facts)
	}
	if told := &c.s.told; told.worded != nil && len(told.worded) < mostWorded {
		told.worded[s.ID] = wordedRow{facts, s.Notice.Facts}
	}
	return s, err
}

// words makes the words. That one notice cannot be worded must not end the
// program, or nothing else would ever be said.
func (c claimer) words(e *Envelope) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("word %s: %v", e.Kind, r)
		}
	}()
	return c.word(e)
}

// wordless fails rows that cannot be worded, so that those behind them are
// said and these show among what was not.
func (c claimer) wordless(said []SaidRow, cause error) error {
	c.s.log.Error("a message cannot be worded", "kind", string(said[0].Notice.Kind), "err", cause)
	for _, s := range said {
		if _, err := c.move(Failed, clean("cannot be worded: "+cause.Error()), "", "id = ?", s.ID); err != nil {
			return err
		}
	}
	return errChanged
}

// keep writes down a message.
func (c claimer) keep(g group, m *Message) error {
	row, err := c.db.Insert(`INSERT INTO messages (envelope, message_id, carrier, retry, contact, address, medium, kind, subject, words, html, files, in_reply_to, urgent, frozen_at, repeats)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		m.ID, m.MessageID, c.Carrier, c.Retry, m.ToName, m.Address, c.Medium, m.Kind, m.Subject, m.Text, m.HTML,
		list[File](m.Files), m.InReplyTo, m.Urgent, instant(m.Date), ref(g.repeats))
	m.Row = row
	if err != nil || g.repeats == 0 {
		return err
	}
	_, err = c.db.Exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, g.repeats)
	return err
}

// begin writes the next attempt and puts the rows that the message says under way.
func (c claimer) begin(m *Message, said []SaidRow) (err error) {
	m.N++
	m.Attempt, err = c.db.Insert(`INSERT INTO attempts (message, n, carrier, run, started_at) VALUES (?, ?, ?, ?, ?)`,
		m.Row, m.N, c.Carrier, c.s.run, c.now.Unix())
	for i := 0; i < len(said) && err == nil; i++ {
		_, err = c.move(Sending, "", "message = ?", "id = ?", m.Row, said[i].ID)
	}
	return err
}

// unword gives the words of a message up that is certain not to have arrived;
// what of it is still queued is worded anew.
func (t *Tx) unword(message int64) error {
	if _, err := t.db.Exec(`UPDATE messages SET next_at = NULL WHERE id = ?`, message); err != nil {
		return err
	}
	_, err := t.change(`message = NULL`, `message = ? AND state = 'queued'`, message)
	return err
}
