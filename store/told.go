package store

import (
	"errors"
	"maps"
	"slices"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// Told is what was said since, or is under way, or was refused for good by a
// carrier, and whoever was told who is writing, ever, as the ladder looks it up; and the paddocks of which anything changed
// since it was asked for last, where it is the same index still. It is shared and
// must not be changed.
func (t *Tx) Told(since time.Time) (said *ladder.Said, touched []string, err error) {
	c := &t.s.told
	const stale = 90 * 24 * time.Hour // as much as may lie about unused
	if c.seq == 0 || since.Before(c.from) || since.Sub(c.from) > stale {
		*c = toldCache{from: since, rows: map[int64]toldRow{}}
	}
	known := t.seq - 1 // the transaction at hand may change more under its number
	if t.seq == 0 {
		if err := t.db.Row(`SELECT seq FROM clock WHERE id = 1`).Scan(&known); err != nil {
			return nil, nil, err
		}
	}
	// The first time by date; from then on the few that changed, by number.
	which := `o.id IN (SELECT id FROM outbox WHERE changed_at >= ? UNION ALL SELECT id FROM outbox WHERE key >= 'enrol/' AND key < 'enrol0')`
	args := []any{c.from.Unix()}
	if c.seq > 0 {
		which, args = `o.seq > ? AND +o.changed_at >= ?`, []any{c.seq, c.from.Unix()}
	}
	c.touched = map[string]bool{}
	err = disk.Each(t.db, func(r disk.Scanner) error {
		s, facts, err := scanPlain(r)
		if err == nil && s.counts() {
			err = s.decode(facts)
		}
		if err == nil {
			c.put(&s)
		}
		return err
	}, `SELECT `+outColumns+` FROM outbox o WHERE `+which+` ORDER BY +o.id`, args...)
	if err != nil {
		return nil, nil, err
	}
	c.seq = known
	return c.since(since), slices.Collect(maps.Keys(c.touched)), nil
}

// AskedOf hands over what a contact was told from since to until and that is of
// one of the kinds, newest first, for as long as more is wanted: the questions
// that may still be open. The kinds are all answers, or none is.
func (t *Tx) AskedOf(contact string, since, until time.Time, more func(SaidRow) bool, kinds ...ladder.Kind) error {
	of, err := jsonList(kinds)
	if err != nil {
		return err
	}
	err = disk.Each(t.db, func(r disk.Scanner) error {
		s, err := scanSaid(r)
		if err == nil && !more(s) {
			err = errEnough
		}
		return err
	}, `SELECT `+outColumns+` FROM outbox o WHERE o.contact = ? AND o.answer = ? AND o.changed_at BETWEEN ? AND ? AND o.state IN ('sent', 'unknown')
		AND o.kind IN (SELECT value FROM json_each(?)) ORDER BY o.changed_at DESC, o.id DESC`, contact, kinds[0].Answer(), since.Unix(), until.Unix(), of)
	if errors.Is(err, errEnough) {
		return nil
	}
	return err
}

var errEnough = errors.New("no more is wanted")
