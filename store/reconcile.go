package store

import (
	"errors"
	"fmt"
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
// A message that is worded and waits for a retry stays as it is while all it
// says is wanted. Where part of it is no longer wanted or true, the rest goes
// back to the queue and is worded anew, unless an earlier try may have
// arrived: then it stays whole until nothing of it is wanted.
func (t *Tx) Reconcile(wanted []ladder.Notice) (Changes, error) {
	var c Changes
	live, err := t.liveRows()
	if err != nil {
		return c, err
	}
	r := reconciler{Tx: t, live: live, wanted: make(map[ladder.Key]*ladder.Notice, len(wanted))}
	met := make(map[ladder.Key]bool, len(wanted)) // of two with one key the first counts
	for i := range wanted {
		if n := &wanted[i]; !met[n.Key] {
			met[n.Key] = true
			if err := r.want(n); err != nil {
				return r.Changes, err
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
	contact, facts       string
	medium               ladder.Medium
	kind                 ladder.Kind
	notBefore, goodUntil int64
	urgent, exempt       bool
	message              int64
	unsure               bool
}

func (t *Tx) liveRows() (map[ladder.Key]liveRow, error) {
	live := map[ladder.Key]liveRow{}
	err := disk.Each(t.db, func(s disk.Scanner) error {
		var key ladder.Key
		var r liveRow
		err := s.Scan(&key, &r.id, &r.contact, &r.medium, &r.kind, &r.facts, &r.notBefore, &r.goodUntil, &r.urgent, &r.exempt, &r.message, &r.unsure)
		live[key] = r
		return err
	}, `SELECT key, id, contact, medium, kind, facts, not_before, coalesce(good_until, 0), urgent,
			answer OR by_hand, coalesce(message, 0),
			repeats IS NOT NULL OR coalesce((SELECT m.unsure FROM messages m WHERE m.id = outbox.message), 0)
		FROM outbox WHERE state = 'queued'`)
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

func (r *reconciler) want(n *ladder.Notice) error {
	if n.Kind.Answer() || n.Key == (ladder.Key{}) || n.To == "" || n.Medium == "" {
		r.refuse(n, errors.New("a notice has a key, a contact and a medium, and an answer is not planned"))
		return nil
	}
	if !n.GoodUntil.IsZero() && over(n.GoodUntil.Unix(), r.now) {
		return nil // no longer true: not wanted, whoever says so
	}
	row, ok := r.live[n.Key]
	if !ok {
		r.missing = append(r.missing, n)
		return nil
	}
	r.wanted[n.Key] = n
	if row.message != 0 {
		return r.prolong(row, n)
	}
	return r.refresh(row, n)
}

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

// prolong lets a worded row be true for as long as the notice is now; its
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
	_, err = r.db.Exec(`UPDATE outbox SET good_until = ?, seq = ? WHERE id = ?`, instant(n.GoodUntil), seq, row.id)
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
		row.contact == n.To && row.medium == n.Medium && row.kind == n.Kind
}

// rewrite gives a queued row what is wanted now.
func (t *Tx) rewrite(id int64, n *ladder.Notice, facts string) error {
	seq, err := t.nextSeq()
	if err != nil {
		return err
	}
	_, err = t.db.Exec(`UPDATE outbox SET contact = ?, medium = ?, kind = ?, paddock = ?, facts = ?, not_before = ?, good_until = ?, urgent = ?, seq = ?
		WHERE id = ? AND state = 'queued' AND message IS NULL`,
		n.To, n.Medium, n.Kind, n.About().Paddock, facts, n.NotBefore.Unix(), instant(n.GoodUntil), n.Urgent, seq, id)
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
		facts, err := n.Encode()
		if err != nil {
			r.refuse(n, err)
			continue
		}
		if !ok {
			_, fresh, err := r.insert(*n, facts)
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
		if err := r.rewrite(old.id, n, facts); err != nil {
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

func (t *Tx) seen(wanted []*ladder.Notice) (map[ladder.Key]seenRow, error) {
	keys := make([]string, len(wanted))
	for i, n := range wanted {
		keys[i] = n.Key.String()
	}
	of, err := jsonList(keys)
	if err != nil {
		return nil, err
	}
	seen := make(map[ladder.Key]seenRow, len(keys))
	err = disk.Each(t.db, func(r disk.Scanner) error {
		var key ladder.Key
		var s seenRow
		err := r.Scan(&key, &s.id, &s.state)
		seen[key] = s
		return err
	}, `SELECT o.key, o.id, o.state FROM json_each(?) j CROSS JOIN outbox o ON o.key = j.value`, of)
	return seen, err
}
