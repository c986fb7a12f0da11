package store

import (
	"errors"
	"fmt"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

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

// prolong lets a worded row be true for as long as the notice is now; its
// words stay.
func (r *reconciler) prolong(row liveRow, n *ladder.Notice) error {
	if row.goodUntil == good(n) {
		return nil
	}
	r.Refreshed++
	_, err := r.change(`good_until = ?`, `id = ?`, instant(n.GoodUntil), row.id)
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
		if err := r.plan(n, seen[n.Key]); err != nil {
			return fmt.Errorf("plan %q: %w", n.Key, err)
		}
	}
	return nil
}

func (r *reconciler) plan(n *ladder.Notice, old seenRow) error {
	if old.id != 0 && old.state != Withdrawn && old.state != Expired {
		return nil
	}
	facts, err := n.Encode()
	if err != nil {
		r.refuse(n, err)
		return nil
	}
	if old.id == 0 {
		r.Inserted++
		_, err := r.insert(n, facts)
		return err
	}
	r.Revived++
	if _, err := r.move(Queued, "", "message = NULL", "id = ?", old.id); err != nil {
		return err
	}
	return r.rewrite(old.id, n, facts)
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
