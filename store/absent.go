package store

import (
	"encoding/json"
	"fmt"

	"stubbled/scheduler/ladder"
)

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
			r.refuse(n, err)
			continue
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
