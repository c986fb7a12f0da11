package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"stubbled/scheduler/ladder"
)

// ClaimFor says who claims, and the farm's rules that a claim keeps to.
type ClaimFor struct {
	Medium  ladder.Medium
	Carrier string
	Retry   Retry
	// Address gives a contact's address by this medium now; empty where there
	// is none.
	Address func(contact string) string
	// Quiet reports whether a contact is not to be disturbed at a moment.
	// Answers and what is urgent go all the same. nil: never.
	Quiet func(contact string, at time.Time) bool
	// Cap is how many messages outside the reserve a contact gets from
	// DayStart on; 0 is no cap.
	Cap      int
	DayStart time.Time
	// AnswersOnly holds everything else back while the clock is not sure.
	AnswersOnly bool
}

// Why a row is held back.
const (
	WhyStopped   = "stopped"    // the owner of the address opted out
	WhyNoAddress = "no-address" // the contact has none by this medium
	WhyCap       = "cap"        // enough was said today
)

// Claim takes the next message that is due, urgent first, then answers, then
// the longest due. Notices of one kind due to one contact make one message;
// answers are never bundled. Suppression and cap are checked, the words frozen
// by freeze, and the attempt written, all in one transaction; freeze must not
// talk to anybody. A message that waited for a retry comes back with the same
// ID to the byte. It gives nil where nothing is due.
func (s *Store) Claim(ctx context.Context, now time.Time, f ClaimFor, freeze func(Batch) (Frozen, error)) (*Message, error) {
	var m *Message
	err := s.writing(ctx, "claim", now, func(t *Tx) (err error) {
		m, err = t.claim(f, freeze)
		return err
	})
	if err != nil {
		return nil, err
	}
	return m, nil
}

// errChanged says that a group is not what it was: look again what is due.
var errChanged = errors.New("the group changed")

func (t *Tx) claim(f ClaimFor, freeze func(Batch) (Frozen, error)) (*Message, error) {
	for {
		m, err := t.claimOnce(f, freeze)
		if !errors.Is(err, errChanged) { // what changes thaws or fails: each message or row once
			return m, err
		}
	}
}

func (t *Tx) claimOnce(f ClaimFor, freeze func(Batch) (Frozen, error)) (*Message, error) {
	due, err := t.due(f)
	if err != nil {
		return nil, err
	}
	for _, d := range due {
		if m, err := t.take(f, d, freeze); m != nil || err != nil {
			return m, err
		}
	}
	return nil, nil
}

// dueGroup is what could make one message.
type dueGroup struct {
	contact string
	kind    ladder.Kind
	row     int64 // the row itself, where it is not bundled
	message int64 // the frozen message, where it waits for a retry
	repeats int64
	urgent  bool
	since   int64
}

// due lists what could be said, the most pressing first: frozen messages
// whose retry has come, answers one by one, everything else by contact and kind.
func (t *Tx) due(f ClaimFor) ([]dueGroup, error) {
	only := ""
	if f.AnswersOnly {
		only = " AND answer = 1"
	}
	rows, err := t.query(`SELECT contact, kind, CASE WHEN message IS NULL AND answer = 1 THEN id ELSE 0 END AS single,
			coalesce(message, 0) AS m, coalesce(repeats, 0) AS r, max(urgent) AS u, min(not_before) AS since
		FROM outbox WHERE state = 'queued' AND medium = ?1 AND not_before <= ?2 AND (good_until IS NULL OR good_until >= ?2)`+only+`
			AND (message IS NULL OR (SELECT next_at FROM messages WHERE id = message) <= ?2)
		GROUP BY contact, kind, single, m, r
		ORDER BY u DESC, answer DESC, since, min(id)`, string(f.Medium), t.now.Unix())
	if err != nil {
		return nil, err
	}
	return collect(rows, func(r scanner) (d dueGroup, err error) {
		var kind string
		err = r.Scan(&d.contact, &kind, &d.row, &d.message, &d.repeats, &d.urgent, &d.since)
		d.kind = ladder.Kind(kind)
		return d, err
	})
}

// take makes the group a message under way; nil where something holds it back.
func (t *Tx) take(f ClaimFor, d dueGroup, freeze func(Batch) (Frozen, error)) (*Message, error) {
	address := f.Address(d.contact)
	why, err := t.heldBack(f, d, address)
	if err != nil {
		return nil, err
	}
	if why != "" {
		return nil, t.hold(f, d, why)
	}
	quiet := f.Quiet != nil && !d.kind.Answer() && f.Quiet(d.contact, t.now)
	if quiet && !d.urgent {
		return nil, nil
	}
	if d.message != 0 {
		return t.again(f, d, address)
	}
	return t.freeze(f, d, address, quiet, freeze)
}

// heldBack says why an address gets nothing now, if so.
func (t *Tx) heldBack(f ClaimFor, d dueGroup, address string) (string, error) {
	if address == "" {
		return WhyNoAddress, nil
	}
	since, stopped, err := t.Suppressed(address)
	if err != nil {
		return "", err
	}
	if stopped {
		confirmed := true
		if d.kind == ladder.AnswerStop {
			confirmed, err = t.confirmed(address, since, d.message)
		}
		if confirmed || err != nil {
			return WhyStopped, err
		}
	}
	if f.Cap <= 0 || d.kind.Reserved() {
		return "", nil
	}
	n, err := t.countToday(f, d)
	if n >= f.Cap {
		return WhyCap, err
	}
	return "", err
}

// confirmed reports whether the one confirmation of an opt-out went out.
func (t *Tx) confirmed(address string, since time.Time, except int64) (bool, error) {
	var n int
	err := t.row(`SELECT count(*) FROM messages WHERE address = ? COLLATE NOCASE AND kind = ? AND frozen_at >= ? AND id <> ?`,
		address, string(ladder.AnswerStop), since.Unix(), except).Scan(&n)
	return n > 0, err
}

// countToday counts the messages outside the reserve that were handed over
// for a contact since the day began.
func (t *Tx) countToday(f ClaimFor, d dueGroup) (int, error) {
	rows, err := t.query(`SELECT m.kind FROM messages m WHERE m.contact = ? AND m.medium = ? AND m.id <> ?
		AND m.id IN (SELECT message FROM attempts WHERE started_at >= ?)`,
		d.contact, string(f.Medium), d.message, f.DayStart.Unix())
	if err != nil {
		return 0, err
	}
	kinds, err := collect(rows, func(r scanner) (k string, err error) { return k, r.Scan(&k) })
	n := 0
	for _, k := range kinds {
		if !ladder.Kind(k).Reserved() {
			n++
		}
	}
	return n, err
}

// pick is the rows of a group that are due.
const pick = `contact = ? AND kind = ? AND medium = ? AND state = 'queued' AND not_before <= ? AND (good_until IS NULL OR good_until >= ?)
	AND coalesce(message, 0) = ? AND coalesce(repeats, 0) = ? AND answer = ? AND (? = 0 OR id = ?)`

func (t *Tx) pickArgs(f ClaimFor, d dueGroup) []any {
	now := t.now.Unix()
	return []any{d.contact, string(d.kind), string(f.Medium), now, now, d.message, d.repeats, d.kind.Answer(), d.row, d.row}
}

// hold writes down once what holds a group back.
func (t *Tx) hold(f ClaimFor, d dueGroup, why string) error {
	var n int
	err := t.row(`SELECT count(*) FROM outbox WHERE why <> ? AND `+pick, append([]any{why}, t.pickArgs(f, d)...)...).Scan(&n)
	if err != nil || n == 0 {
		return err
	}
	seq, err := t.nextSeq()
	if err != nil {
		return err
	}
	_, err = t.exec(`UPDATE outbox SET why = ?, seq = ? WHERE `+pick, append([]any{why, seq}, t.pickArgs(f, d)...)...)
	return err
}

// again takes a frozen message up once more. It thaws the message where that
// can no longer be right: the contact has another address or another carrier
// took over. One that may have arrived stays with its address and carrier, or
// waits.
func (t *Tx) again(f ClaimFor, d dueGroup, address string) (*Message, error) {
	var unsure bool
	m, err := scanMessage(t.row(`SELECT `+messageColumns+` FROM messages m WHERE m.id = ?`, d.message))
	if err != nil {
		return nil, err
	}
	if err := t.row(`SELECT unsure FROM messages WHERE id = ?`, d.message).Scan(&unsure); err != nil {
		return nil, err
	}
	if m.Address != address || m.Carrier != f.Carrier {
		if unsure {
			return nil, nil
		}
		if err := t.thaw(d.message); err != nil {
			return nil, err
		}
		return nil, errChanged
	}
	return m, t.begin(f, m)
}

// freeze words a group and writes it down as a message under way.
func (t *Tx) freeze(f ClaimFor, d dueGroup, address string, urgentOnly bool, freeze func(Batch) (Frozen, error)) (*Message, error) {
	said, err := t.dueRows(f, d, urgentOnly)
	if err != nil || len(said) == 0 {
		return nil, err
	}
	b := Batch{ID: strings.ToLower(rand.Text()), To: d.contact, Address: address, Medium: f.Medium, Carrier: f.Carrier,
		Kind: d.kind, MayRepeat: d.repeats != 0, Now: t.now}
	for _, s := range said {
		b.Notices = append(b.Notices, s.Notice)
	}
	if d.kind.Answer() && said[0].Notice.Inbox != 0 {
		in, err := t.Inbox(said[0].Notice.Inbox)
		if err != nil {
			return nil, err
		}
		b.Answers = &in
	}
	words, err := worded(b, freeze)
	if err != nil {
		return nil, t.wordless(said, err)
	}
	if words.Took > 0 && words.Took < len(said) {
		said, b.Notices = said[:words.Took], b.Notices[:words.Took]
	}
	m, err := t.keep(f, d, b, words)
	if err != nil {
		return nil, err
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
func worded(b Batch, freeze func(Batch) (Frozen, error)) (w Frozen, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("word %s: %v", b.Kind, r)
		}
	}()
	return freeze(b)
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
func (t *Tx) keep(f ClaimFor, d dueGroup, b Batch, w Frozen) (*Message, error) {
	files, err := jsonOrNil(w.Files)
	if err != nil {
		return nil, err
	}
	m := &Message{ID: b.ID, Frozen: w, To: b.To, Address: b.Address, Medium: b.Medium, Carrier: b.Carrier, Kind: b.Kind,
		Date: time.Unix(t.now.Unix(), 0).UTC(), Answer: b.Kind.Answer(), Urgent: d.urgent, MayRepeat: b.MayRepeat, Notices: b.Notices}
	err = t.row(`INSERT INTO messages (envelope, message_id, carrier, retry, contact, address, medium, kind, subject, words, html, files, in_reply_to, urgent, frozen_at, repeats)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`,
		m.ID, w.MessageID, f.Carrier, string(f.Retry), m.To, m.Address, string(m.Medium), string(m.Kind), w.Subject, w.Text, w.HTML,
		files, w.InReplyTo, m.Urgent, t.now.Unix(), idOrNil(d.repeats)).Scan(&m.Row)
	return m, err
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
