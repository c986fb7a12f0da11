package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// Record writes one fact in the diary and gives its id. A measurement (source
// record, thermometer or service) is unique by source, kind, paddock and day:
// where it is there already, voided or not, fresh is false and id is the old
// one. A fact that Voids another is unique by that: fresh is false where it
// was voided before.
func (t *Tx) Record(f diary.Fact) (id int64, fresh bool, err error) {
	if err := recordable(f); err != nil {
		return 0, false, err
	}
	heights, err := jsonOrNil(f.Heights)
	if err != nil {
		return 0, false, fmt.Errorf("record %s: %w", f.Kind, err)
	}
	var temp any
	if f.TempC != nil {
		temp = *f.TempC
	}
	err = t.row(`INSERT INTO facts (at, day, kind, paddock, herd, heights, adds, wait_s, temp_c, said_by, source, inbox, voids, words, recorded_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING RETURNING id`,
		f.At.Unix(), dayOrEmpty(f.Day), string(f.Kind), f.Paddock, f.Herd, heights, f.Adds, int64(f.Wait/time.Second), temp,
		f.By, f.Source, idOrNil(f.Inbox), idOrNil(f.Voids), clean(f.Words), t.now.Unix()).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		id, err = t.sameFact(f)
		return id, false, err
	}
	return id, err == nil, err
}

func recordable(f diary.Fact) error {
	switch {
	case !f.Kind.Recorded():
		return fmt.Errorf("record %q: a request is no fact of the diary", f.Kind)
	case (f.Kind == diary.Void) != (f.Voids != 0):
		return fmt.Errorf("record %q: a void names the fact it takes back, and nothing else does", f.Kind)
	case f.Day.IsZero() || !f.Day.IsValid():
		return fmt.Errorf("record %q: the day %v cannot be", f.Kind, f.Day)
	}
	return nil
}

// sameFact finds the row that kept a fact out.
func (t *Tx) sameFact(f diary.Fact) (id int64, err error) {
	if f.Voids != 0 {
		err = t.row(`SELECT id FROM facts WHERE voids = ?`, f.Voids).Scan(&id)
	} else {
		err = t.row(`SELECT id FROM facts WHERE source = ? AND kind = ? AND paddock = ? AND day = ? AND kind <> 'void'
			AND source IN ('record', 'thermometer', 'service')`, f.Source, string(f.Kind), f.Paddock, dayOrEmpty(f.Day)).Scan(&id)
	}
	if err != nil {
		return 0, fmt.Errorf("find the fact that is there already: %w", err)
	}
	return id, nil
}

// TakeBack voids one fact; by, source, inbox, at, day and words of how say who
// did it and where. fresh is false where it was voided before. A void is not
// taken back.
func (t *Tx) TakeBack(fact int64, how diary.Fact) (id int64, fresh bool, err error) {
	var kind string
	var f diary.Fact
	err = t.row(`SELECT kind, paddock, herd FROM facts WHERE id = ?`, fact).Scan(&kind, &f.Paddock, &f.Herd)
	if err != nil {
		return 0, false, fmt.Errorf("take back fact %d: %w", fact, err)
	}
	if kind == string(diary.Void) {
		return 0, false, fmt.Errorf("take back fact %d: it takes another back itself; record the right fact instead", fact)
	}
	f.Kind, f.Voids = diary.Void, fact
	f.At, f.Day, f.By, f.Source, f.Inbox, f.Words = how.At, how.Day, how.By, how.Source, how.Inbox, how.Words
	return t.Record(f)
}

const factColumns = `id, at, day, kind, paddock, herd, heights, adds, wait_s, temp_c, said_by, source, inbox, voids, words`

const factsAfter = `SELECT ` + factColumns + ` FROM facts WHERE id > ? ORDER BY id`

// Facts gives the whole diary in the order written, voids and all.
func (t *Tx) Facts() ([]diary.Fact, error) { return t.FactsAfter(0) }

// FactsAfter gives the facts written after the one with this id, for those
// who keep the earlier ones. Ids only rise.
func (t *Tx) FactsAfter(id int64) ([]diary.Fact, error) {
	rows, err := t.query(factsAfter, id)
	if err != nil {
		return nil, err
	}
	return collect(rows, scanFact)
}

// FactsAfter is Tx.FactsAfter for those who only look.
func (s *Store) FactsAfter(ctx context.Context, id int64) ([]diary.Fact, error) {
	rows, err := s.read.QueryContext(ctx, factsAfter, id)
	if err != nil {
		return nil, s.explain("read the diary", err)
	}
	got, err := collect(rows, scanFact)
	return got, s.explain("read the diary", err)
}

// EachFact hands the facts after id to f one by one, so that a long diary is
// never in memory as a whole.
func (s *Store) EachFact(ctx context.Context, id int64, f func(diary.Fact) error) error {
	rows, err := s.read.QueryContext(ctx, factsAfter, id)
	if err != nil {
		return s.explain("read the diary", err)
	}
	defer rows.Close()
	for rows.Next() {
		v, err := scanFact(rows)
		if err != nil {
			return s.explain("read the diary", err)
		}
		if err := f(v); err != nil {
			return err
		}
	}
	return s.explain("read the diary", rows.Err())
}

// LatestTextFacts gives the facts still standing of the contact's latest text
// since that wrote any, and its inbox row; 0 where there is none. Asked again
// after they were taken back it gives those of the text before.
func (t *Tx) LatestTextFacts(contact string, since time.Time) (inbox int64, facts []diary.Fact, err error) {
	err = t.row(`SELECT i.id FROM inbox i WHERE i.contact = ? AND i.received_at >= ? AND EXISTS (
			SELECT 1 FROM facts f WHERE f.inbox = i.id AND f.kind <> 'void'
			AND NOT EXISTS (SELECT 1 FROM facts v WHERE v.voids = f.id))
		ORDER BY i.received_at DESC, i.id DESC LIMIT 1`, contact, since.Unix()).Scan(&inbox)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil, nil
	}
	if err != nil {
		return 0, nil, err
	}
	rows, err := t.query(`SELECT `+factColumns+` FROM facts f WHERE f.inbox = ? AND f.kind <> 'void'
		AND NOT EXISTS (SELECT 1 FROM facts v WHERE v.voids = f.id) ORDER BY f.id`, inbox)
	if err != nil {
		return 0, nil, err
	}
	facts, err = collect(rows, scanFact)
	return inbox, facts, err
}

func scanFact(r scanner) (diary.Fact, error) {
	var f diary.Fact
	var at, wait int64
	var day, kind string
	var heights sql.NullString
	var temp sql.NullFloat64
	var inbox, voids sql.NullInt64
	err := r.Scan(&f.ID, &at, &day, &kind, &f.Paddock, &f.Herd, &heights, &f.Adds, &wait, &temp, &f.By, &f.Source, &inbox, &voids, &f.Words)
	if err != nil {
		return f, err
	}
	f.At, f.Kind, f.Wait = time.Unix(at, 0).UTC(), diary.Kind(kind), time.Duration(wait)*time.Second
	f.Inbox, f.Voids = inbox.Int64, voids.Int64
	if temp.Valid {
		f.TempC = &temp.Float64
	}
	if heights.Valid {
		if err := json.Unmarshal([]byte(heights.String), &f.Heights); err != nil {
			return f, fmt.Errorf("fact %d: heights: %w", f.ID, err)
		}
	}
	f.Day, err = parseDay(day)
	return f, err
}

func jsonOrNil[T any](v []T) (any, error) {
	if len(v) == 0 {
		return nil, nil
	}
	b, err := json.Marshal(v)
	return string(b), err
}

func dayOrEmpty(d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}

func parseDay(s string) (civil.Date, error) {
	if s == "" {
		return civil.Date{}, nil
	}
	return civil.ParseDate(s)
}
