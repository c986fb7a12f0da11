package store

import (
	"errors"
	"maps"
	"slices"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
)

// Told is what was said since, or is under way, or was refused for good by a
// carrier, and whoever was told who is writing, ever, as the ladder looks it up; and
// the paddocks of which anything changed since it was asked for last, where it is the
// same index still. It is shared and must not be changed.
func (t *Tx) Told(since time.Time) (said *ladder.Said, touched []string, err error) {
	c := &t.s.told
	const stale = 90 * 24 * time.Hour // as much as may lie about unused
	if c.seq == 0 || since.Before(c.from) || since.Sub(c.from) > stale {
		*c = toldCache{from: since, rows: map[int64]toldRow{}, worded: map[int64]wordedRow{}}
	}
	known := t.seq - 1 // the transaction at hand may change more under its number
	if t.seq == 0 {
		far, err := t.farCome()
		if err != nil {
			return nil, nil, err
		}
		known = far.mark.Outbox
	}
	if known == c.seq && known > 0 && !t.moved { // what was only put in the queue counts for nothing
		return c.since(since), nil, nil
	}
	// The first time by date; from then on the few that changed, by number.
	which := `(` + changedSince + ` OR o.id IN (SELECT id FROM outbox WHERE key >= 'enrol/' AND key < 'enrol0'))`
	args := []any{c.from.Unix()}
	if c.seq > 0 {
		which, args = `o.seq > ? AND +o.changed_at >= ?`, []any{c.seq, c.from.Unix()}
	}
	c.touched = map[string]bool{}
	err = disk.Each(t.db, func(r disk.Scanner) error {
		s, facts, err := scanPlain(r)
		if err == nil && s.counts() {
			err = c.reads(&s, facts)
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

// A ToldRow is something that a contact was told; what it said is read where it is
// asked for.
type ToldRow struct {
	ID, Message int64
	Kind        ladder.Kind
	Paddock     string
	Changed     time.Time // when it was said
	facts       string
}

// Notice is what it said: its kind and facts.
func (r *ToldRow) Notice() (ladder.Notice, error) {
	s := SaidRow{ID: r.ID, Notice: ladder.Notice{Kind: r.Kind}}
	err := s.decode(r.facts)
	return s.Notice, err
}

// Asks is the kind of fact that it asks for; empty where it asks for none.
func (r *ToldRow) Asks() (diary.Kind, error) {
	n, err := ladder.Notice{Kind: r.Kind}, error(nil)
	if r.Kind == ladder.KeepShut { // some of these ask, and some do not
		if !ladder.MayWantHeight(r.facts) {
			return "", nil
		}
		n, err = r.Notice()
	}
	return n.Asks(), err
}

// Question is what it asked back; nil where it asked nothing.
func (r *ToldRow) Question() (*diary.Question, error) {
	if !ladder.MayAsk(r.facts) {
		return nil, nil
	}
	n, err := r.Notice()
	return n.Asked(), err
}

// AskedOf hands over what a contact was told from since to until, its answers or all
// else, newest first, for as long as more is wanted: the questions that may still be
// open are among it.
func (t *Tx) AskedOf(contact string, answers bool, since, until time.Time, more func(ToldRow) (bool, error)) error {
	err := disk.Each(t.db, func(r disk.Scanner) error {
		var told ToldRow
		if err := r.Scan(&told.ID, &told.Message, &told.Kind, &told.Paddock, (*instant)(&told.Changed), &told.facts); err != nil {
			return err
		}
		wanted, err := more(told)
		if err == nil && !wanted {
			err = errEnough
		}
		return err
	}, `SELECT id, coalesce(message, 0), kind, paddock, changed_at, facts FROM outbox
		WHERE contact = ? AND answer = ? AND changed_at BETWEEN ? AND ? AND state IN ('sent', 'unknown')
		ORDER BY changed_at DESC, planned_at DESC, id DESC`, contact, answers, since.Unix(), until.Unix())
	if errors.Is(err, errEnough) {
		return nil
	}
	return err
}

var errEnough = errors.New("no more is wanted")
