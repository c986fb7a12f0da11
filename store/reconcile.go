package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"time"

	"stubbled/scheduler/ladder"
)

// Changes counts what a reconciliation did.
type Changes struct {
	Inserted, Refreshed, Withdrawn, Expired, Revived int
}

// Any reports whether anything changed.
func (c Changes) Any() bool { return c != Changes{} }

// Reconcile makes the queue what is wanted now. wanted is the whole list of
// what should be said and was not, answers apart.
//
//   - queued and no longer wanted: withdrawn
//   - queued with other facts or times: refreshed
//   - wanted and never seen: inserted
//   - withdrawn or expired unsaid, and wanted again: queued again
//   - claimed or later: untouched
//   - past GoodUntil: expired, wanted or not
//   - answers, and what a person put back by hand: only expire
//
// A message that is frozen and waits for a retry stays as it is while all it
// says is wanted. Where part of it is no longer wanted or true, the rest goes
// back to the queue and is worded anew, unless an earlier try may have
// arrived: then it stays whole until nothing of it is wanted.
func (t *Tx) Reconcile(wanted []ladder.Notice) (Changes, error) {
	var c Changes
	live, err := t.liveRows()
	if err != nil {
		return c, err
	}
	r := reconciler{Tx: t, live: live, unwanted: make(map[string]bool, len(live)), met: make(map[string]bool, len(wanted)),
		frozen: map[string]*ladder.Notice{}}
	for key := range live {
		r.unwanted[key] = true
	}
	for i := range wanted {
		if n := &wanted[i]; !r.met[n.Key] {
			r.met[n.Key] = true
			if err := r.want(n); err != nil {
				return c, err
			}
		}
	}
	if err := r.absent(); err != nil {
		return c, err
	}
	if err := r.drop(); err != nil {
		return c, err
	}
	return r.Changes, nil
}

// liveRow is what a pass needs to know of a queued row.
type liveRow struct {
	id                   int64
	contact, medium      string
	kind, facts          string
	notBefore, goodUntil int64
	urgent, exempt       bool
	message              int64
	unsure               bool
}

func (t *Tx) liveRows() (map[string]liveRow, error) {
	rows, err := t.query(`SELECT key, id, contact, medium, kind, facts, not_before, coalesce(good_until, 0), urgent,
			answer OR by_hand, coalesce(message, 0),
			repeats IS NOT NULL OR coalesce((SELECT m.unsure FROM messages m WHERE m.id = outbox.message), 0)
		FROM outbox WHERE state = 'queued'`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	live := map[string]liveRow{}
	for rows.Next() {
		var key string
		var r liveRow
		err := rows.Scan(&key, &r.id, &r.contact, &r.medium, &r.kind, &r.facts, &r.notBefore, &r.goodUntil, &r.urgent, &r.exempt, &r.message, &r.unsure)
		if err != nil {
			return nil, err
		}
		live[key] = r
	}
	return live, rows.Err()
}

type reconciler struct {
	*Tx
	Changes
	live     map[string]liveRow
	unwanted map[string]bool
	met      map[string]bool           // of two with one key the first counts
	frozen   map[string]*ladder.Notice // wanted, and in a message that waits for a retry
	missing  []*ladder.Notice          // wanted, not queued
}

func over(goodUntil int64, now time.Time) bool { return goodUntil != 0 && goodUntil < now.Unix() }

func (r *reconciler) want(n *ladder.Notice) error {
	if n.Kind.Answer() || n.Key == "" || n.To == "" || n.Medium == "" {
		return fmt.Errorf("plan %q (%s to %q): a notice has a key, a contact and a medium, and an answer is not planned", n.Key, n.Kind, n.To)
	}
	if !n.GoodUntil.IsZero() && over(n.GoodUntil.Unix(), r.now) {
		return nil // no longer true: not wanted, whoever says so
	}
	row, ok := r.live[n.Key]
	if !ok {
		r.missing = append(r.missing, n)
		return nil
	}
	delete(r.unwanted, n.Key)
	if row.message != 0 {
		r.frozen[n.Key] = n
		return r.prolong(row, n)
	}
	return r.refresh(row, n)
}

func (r *reconciler) refresh(row liveRow, n *ladder.Notice) error {
	facts, err := json.Marshal(n.Facts)
	if err != nil {
		return fmt.Errorf("plan %q: %w", n.Key, err)
	}
	if row.same(n, string(facts)) {
		return nil
	}
	r.Refreshed++
	return r.rewrite(row.id, n, string(facts))
}

// prolong lets a frozen row be true for as long as the notice is now; its
// words stay.
func (r *reconciler) prolong(row liveRow, n *ladder.Notice) error {
	if row.goodUntil == good(n) {
		return nil
	}
	seq, err := r.nextSeq()
	if err != nil {
		return err
	}
	r.Refreshed++
	_, err = r.exec(`UPDATE outbox SET good_until = ?, seq = ? WHERE id = ?`, unixOrNil(n.GoodUntil), seq, row.id)
	return err
}

func good(n *ladder.Notice) int64 {
	if n.GoodUntil.IsZero() {
		return 0
	}
	return n.GoodUntil.Unix()
}

func (row liveRow) same(n *ladder.Notice, facts string) bool {
	return row.facts == facts && row.notBefore == n.NotBefore.Unix() && row.goodUntil == good(n) && row.urgent == n.Urgent &&
		row.contact == n.To && row.medium == string(n.Medium) && row.kind == string(n.Kind)
}

// rewrite gives a queued row what is wanted now.
func (t *Tx) rewrite(id int64, n *ladder.Notice, facts string) error {
	seq, err := t.nextSeq()
	if err != nil {
		return err
	}
	_, err = t.exec(`UPDATE outbox SET contact = ?, medium = ?, kind = ?, paddock = ?, facts = ?, not_before = ?, good_until = ?, urgent = ?, seq = ?
		WHERE id = ? AND state = 'queued' AND message IS NULL`,
		n.To, string(n.Medium), string(n.Kind), n.Facts.Paddock, facts, n.NotBefore.Unix(), unixOrNil(n.GoodUntil), n.Urgent, seq, id)
	return err
}

// absent inserts what was never seen and queues again what was given up
// unsaid. One statement finds all the keys.
func (r *reconciler) absent() error {
	if len(r.missing) == 0 {
		return nil
	}
	seen, err := r.seen(r.missing)
	if err != nil {
		return err
	}
	for _, n := range r.missing {
		old, ok := seen[n.Key]
		if ok && old.state != Withdrawn && old.state != Expired {
			continue
		}
		facts, err := json.Marshal(n.Facts)
		if err != nil {
			return fmt.Errorf("plan %q: %w", n.Key, err)
		}
		if !ok {
			_, fresh, err := r.insert(*n, string(facts))
			if err != nil {
				return fmt.Errorf("plan %q: %w", n.Key, err)
			}
			if fresh {
				r.Inserted++
			}
			continue
		}
		if _, err := r.move(Queued, "", "message = NULL", "id = ?", old.id); err != nil {
			return fmt.Errorf("plan %q again: %w", n.Key, err)
		}
		if err := r.rewrite(old.id, n, string(facts)); err != nil {
			return fmt.Errorf("plan %q again: %w", n.Key, err)
		}
		r.Revived++
	}
	return nil
}

type seenRow struct {
	id    int64
	state State
}

func (t *Tx) seen(wanted []*ladder.Notice) (map[string]seenRow, error) {
	keys := make([]string, len(wanted))
	for i, n := range wanted {
		keys[i] = n.Key
	}
	list, err := json.Marshal(keys)
	if err != nil {
		return nil, err
	}
	rows, err := t.query(`SELECT o.key, o.id, o.state FROM json_each(?) j CROSS JOIN outbox o ON o.key = j.value`, string(list))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	seen := make(map[string]seenRow, len(keys))
	for rows.Next() {
		var key, state string
		var s seenRow
		if err := rows.Scan(&key, &s.id, &state); err != nil {
			return nil, err
		}
		s.state = State(state)
		seen[key] = s
	}
	return seen, rows.Err()
}

// drop withdraws and expires.
func (r *reconciler) drop() error {
	frozen := map[int64][]string{} // message -> its keys
	for key, row := range r.live {
		if row.message != 0 {
			frozen[row.message] = append(frozen[row.message], key)
		} else if err := r.give(key, row); err != nil {
			return err
		}
	}
	for message, keys := range frozen {
		if err := r.dropFrozen(message, keys); err != nil {
			return err
		}
	}
	return nil
}

// given says what becomes of a queued row: "" where it stays.
func (r *reconciler) given(key string, row liveRow) State {
	switch {
	case r.unwanted[key] && over(row.goodUntil, r.now):
		return Expired
	case r.unwanted[key] && !row.exempt:
		return Withdrawn
	}
	return ""
}

// give withdraws or expires one row; where it may have been said already that
// stays unknown.
func (r *reconciler) give(key string, row liveRow) error {
	to := r.given(key, row)
	if to == "" {
		return nil
	}
	if to == Expired {
		r.Expired++
	} else {
		r.Withdrawn++
	}
	set := ""
	if row.message != 0 && !row.unsure {
		set = "message = NULL"
	}
	why := "not wanted any more"
	if to == Expired {
		why = "why" // what held it back
	}
	if row.unsure {
		to = Unknown
	}
	_, err := r.leave(to, why, set, row.id)
	return err
}

// leave moves a row out of the queue; why "why" keeps the old one.
func (t *Tx) leave(to State, why, set string, id int64) (int64, error) {
	if why == "why" {
		err := t.row(`SELECT why FROM outbox WHERE id = ?`, id).Scan(&why)
		if err != nil && err != sql.ErrNoRows {
			return 0, err
		}
	}
	return t.move(to, why, set, "id = ?", id)
}

func (r *reconciler) dropFrozen(message int64, keys []string) error {
	var going int
	for _, k := range keys {
		if r.given(k, r.live[k]) != "" {
			going++
		}
	}
	unsure := r.live[keys[0]].unsure
	if going == 0 || unsure && going < len(keys) {
		return nil
	}
	for _, k := range keys {
		if err := r.give(k, r.live[k]); err != nil {
			return err
		}
	}
	if err := r.thaw(message); err != nil {
		return err
	}
	for _, k := range keys {
		if n := r.frozen[k]; n != nil {
			if err := r.refresh(r.live[k], n); err != nil {
				return err
			}
		}
	}
	return nil
}
