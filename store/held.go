package store

import (
	"time"

	"stubbled/scheduler/ladder"
)

// Why a row is held back.
const (
	WhyStopped   = "stopped"    // the owner of the address opted out
	WhyNoAddress = "no-address" // the contact has none by this medium
	WhyCap       = "cap"        // enough was said today
)

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
