package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// Retry is what a carrier does with an envelope that it may have had already.
type Retry string

// The kinds of retry.
const (
	Unsafe Retry = "unsafe" // it may be said twice
	Safe   Retry = "safe"   // the same ID is handed over once
	Never  Retry = "never"  // at most once
)

// Batch is what makes one message, for the one who words it.
type Batch struct {
	ID      string // the envelope's: unique for ever, safe in a file name and a header
	To      string // the contact's name
	Address string
	Medium  ladder.Medium
	Carrier string
	Kind    ladder.Kind
	Notices []ladder.Notice // of one kind, the longest due first
	// MayRepeat says that an earlier message with the same may have arrived;
	// the words must say so.
	MayRepeat bool
	Answers   *InRow // the text that it answers; nil where it answers none
	Now       time.Time
}

// Frozen is the words of a message, never changed again.
type Frozen struct {
	MessageID string // RFC 5322, without brackets; mail only
	Subject   string // mail only
	Text      string
	HTML      string // mail only
	Files     []File // mail only
	InReplyTo string // Message-ID of the mail that it answers
	// Took is how many notices, from the first on, the words say; the others
	// stay queued for a message of their own. 0 is all.
	Took int
}

// A File goes with a mail.
type File struct {
	Name string `json:"name"`
	Type string `json:"type"` // MIME type
	CID  string `json:"cid,omitempty"`
	Data []byte `json:"data"`
}

// Message is one claimed message: it is written down that it is under way.
type Message struct {
	ID      string // the envelope's
	Row     int64
	Attempt int64 // to settle
	N       int   // of the attempt; 1 is the first
	Frozen
	To        string
	Address   string
	Medium    ladder.Medium
	Carrier   string
	Kind      ladder.Kind
	Date      time.Time // when it was frozen
	Answer    bool
	Urgent    bool
	MayRepeat bool
	Notices   []ladder.Notice
}

const messageColumns = `m.id, m.envelope, m.message_id, m.carrier, m.contact, m.address, m.medium, m.kind, m.subject, m.words, m.html,
	m.files, m.in_reply_to, m.urgent, m.frozen_at, m.repeats`

func scanMessage(r scanner) (*Message, error) {
	var m Message
	var medium, kind string
	var files sql.NullString
	var frozen int64
	var repeats sql.NullInt64
	err := r.Scan(&m.Row, &m.ID, &m.MessageID, &m.Carrier, &m.To, &m.Address, &medium, &kind, &m.Subject, &m.Text, &m.HTML,
		&files, &m.InReplyTo, &m.Urgent, &frozen, &repeats)
	if err != nil {
		return nil, err
	}
	m.Medium, m.Kind, m.Date = ladder.Medium(medium), ladder.Kind(kind), time.Unix(frozen, 0).UTC()
	m.Answer, m.MayRepeat = m.Kind.Answer(), repeats.Valid
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
