package store

import (
	"encoding/json"
	"time"

	"stubbled/scheduler/ladder"
)

// cache is for those who read the same again and again.
type cache struct{}

// Said gives every row of the outbox, in any state, that was planned or
// changed since, oldest first.
func (t *Tx) Said(since time.Time) ([]SaidRow, error) {
	rows, err := t.query(`SELECT `+outColumns+` FROM outbox o WHERE o.changed_at >= ? ORDER BY o.id`, since.Unix())
	if err != nil {
		return nil, err
	}
	return collect(rows, scanSaid)
}

// AskedOf gives what a contact was told since and that is of one of the kinds,
// newest first: the questions that may still be open.
func (t *Tx) AskedOf(contact string, since time.Time, kinds ...ladder.Kind) ([]SaidRow, error) {
	list, err := json.Marshal(kinds)
	if err != nil {
		return nil, err
	}
	rows, err := t.query(`SELECT `+outColumns+` FROM outbox o WHERE o.contact = ? AND o.changed_at >= ? AND o.state IN ('sent', 'unknown')
		AND o.kind IN (SELECT value FROM json_each(?)) ORDER BY o.changed_at DESC, o.id DESC`, contact, since.Unix(), string(list))
	if err != nil {
		return nil, err
	}
	return collect(rows, scanSaid)
}

// ToldOf gives the rows with these keys, and the answers that said one of
// these facts was recorded, that somebody was told or may have been: those who
// must hear when it is taken back.
func (t *Tx) ToldOf(keys []string, facts []int64) ([]SaidRow, error) {
	k, err := json.Marshal(keys)
	if err != nil {
		return nil, err
	}
	f, err := json.Marshal(facts)
	if err != nil {
		return nil, err
	}
	rows, err := t.query(`SELECT `+outColumns+` FROM outbox o WHERE o.id IN (
			SELECT id FROM outbox WHERE key IN (SELECT value FROM json_each(?1))
			UNION SELECT a.id FROM json_each(?2) j JOIN facts f ON f.id = j.value JOIN outbox a ON a.inbox = f.inbox)
		ORDER BY o.id`, string(k), string(f))
	if err != nil {
		return nil, err
	}
	all, err := collect(rows, scanSaid)
	told := all[:0]
	for _, s := range all {
		if s.Told() {
			told = append(told, s)
		}
	}
	return told, err
}
