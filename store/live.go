package store

import (
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// Changes counts what a reconciliation did.
type Changes struct {
	Inserted, Refreshed, Withdrawn, Expired, Revived int
	// Refused is how many of what was wanted cannot be kept: without a key, a
	// contact or a medium, or with a number that is none. They are logged and
	// left out, so that one wrong notice does not hold up all the others.
	Refused int
}

// Any reports whether anything in the queue changed.
func (c Changes) Any() bool { c.Refused = 0; return c != Changes{} }

// liveRow is what a pass needs to know of a queued row.
type liveRow struct {
	id                   int64
	contact, facts, why  string
	medium               ladder.Medium
	kind                 ladder.Kind
	notBefore, goodUntil int64
	urgent, exempt       bool
	message              int64
	unsure               bool
}

// liveRows are those that a pass may change: of the answers only what expires.
func (t *Tx) liveRows() (map[ladder.Key]liveRow, error) {
	live := map[ladder.Key]liveRow{}
	err := disk.Each(t.db, func(s disk.Scanner) error {
		var key ladder.Key
		var r liveRow
		err := s.Scan(&key, &r.id, &r.contact, &r.medium, &r.kind, &r.facts, &r.notBefore, &r.goodUntil, &r.urgent, &r.exempt, &r.message, &r.unsure, &r.why)
		live[key] = r
		return err
	}, `SELECT key, id, contact, medium, kind, facts, not_before, coalesce(good_until, 0), urgent,
			answer OR by_hand, coalesce(message, 0),
			repeats IS NOT NULL OR coalesce((SELECT m.unsure FROM messages m WHERE m.id = outbox.message), 0), why
		FROM outbox WHERE state = 'queued' AND (answer = 0 OR message IS NOT NULL OR good_until < ?)`, t.now.Unix())
	return live, err
}

type reconciler struct {
	*Tx
	Changes
	live    map[ladder.Key]liveRow
	wanted  map[ladder.Key]*ladder.Notice // and queued
	missing []*ladder.Notice              // wanted, not queued
}

func over(goodUntil int64, now time.Time) bool { return goodUntil != 0 && goodUntil < now.Unix() }

func (r *reconciler) refuse(n *ladder.Notice, why error) {
	r.Refused++
	r.s.log.Error("a notice cannot be kept", "key", n.Key.String(), "kind", string(n.Kind), "err", why)
}

func (r *reconciler) refresh(row liveRow, n *ladder.Notice) error {
	facts, err := n.Encode()
	if err != nil {
		r.refuse(n, err)
		return nil
	}
	if row.same(n, facts) {
		return nil
	}
	r.Refreshed++
	return r.rewrite(row.id, n, facts)
}

func good(n *ladder.Notice) int64 {
	if n.GoodUntil.IsZero() {
		return 0
	}
	return n.GoodUntil.Unix()
}

func (row liveRow) same(n *ladder.Notice, facts string) bool {
	return row.facts == facts && row.notBefore == n.NotBefore.Unix() && row.goodUntil == good(n) && row.urgent == n.Urgent &&
		row.contact == n.To && row.medium == n.Medium && row.kind == n.Kind
}

// rewrite gives a queued row what is wanted now.
func (t *Tx) rewrite(id int64, n *ladder.Notice, facts string) error {
	_, err := t.change(`contact = ?, medium = ?, kind = ?, paddock = ?, facts = ?, not_before = ?, good_until = ?, urgent = ?`,
		`id = ? AND state = 'queued' AND message IS NULL`,
		n.To, n.Medium, n.Kind, n.About().Paddock, facts, n.NotBefore.Unix(), instant(n.GoodUntil), n.Urgent, id)
	return err
}
