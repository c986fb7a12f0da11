package store

import (
	"stubbled/scheduler/ladder"
)

// drop withdraws and expires.
func (r *reconciler) drop() error {
	worded := map[int64][]ladder.Key{} // message -> its keys
	for key, row := range r.live {
		if row.message != 0 {
			worded[row.message] = append(worded[row.message], key)
		} else if err := r.give(key, row); err != nil {
			return err
		}
	}
	for message, keys := range worded {
		if err := r.dropMessage(message, keys); err != nil {
			return err
		}
	}
	return nil
}

// given says what becomes of a queued row: "" where it stays.
func (r *reconciler) given(key ladder.Key, row liveRow) State {
	unwanted := r.wanted[key] == nil
	switch {
	case unwanted && over(row.goodUntil, r.now):
		return Expired
	case unwanted && !row.exempt:
		return Withdrawn
	}
	return ""
}

// give withdraws or expires one row; where it may have been said already that
// stays unknown.
func (r *reconciler) give(key ladder.Key, row liveRow) error {
	to := r.given(key, row)
	if to == "" {
		return nil
	}
	why := "not wanted any more"
	if to == Expired {
		r.Expired++
		why = row.why // what held it back
	} else {
		r.Withdrawn++
	}
	set := ""
	if row.unsure {
		to = Unknown
	} else if row.message != 0 {
		set = "message = NULL"
	}
	_, err := r.move(to, why, set, "id = ?", row.id)
	return err
}

func (r *reconciler) dropMessage(message int64, keys []ladder.Key) error {
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
	if err := r.unword(message); err != nil {
		return err
	}
	for _, k := range keys {
		if n := r.wanted[k]; n != nil {
			if err := r.refresh(r.live[k], n); err != nil {
				return err
			}
		}
	}
	return nil
}
