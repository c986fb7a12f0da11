package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
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
	f.Words = clean(f.Words)
	far, err := t.farCome()
	if err != nil {
		return 0, false, err
	}
	f.ID = far.mark.Fact + 1
	added, err := t.db.Exec(`INSERT INTO facts (id, at, day, kind, paddock, herd, heights, adds, wait_s, temp_c, said_by, source, inbox, voids, words, plant, amount, recorded_at, sum)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
		f.ID, f.At.Unix(), date(f.Day), f.Kind, f.Paddock, f.Herd, list[float64](f.Heights), f.Adds, int64(f.Wait/time.Second), f.TempC,
		f.By, f.Source, ref(f.Inbox), ref(f.Voids), f.Words, f.Plant, f.Amount, t.now.Unix(), sumOf(&f, t.now.Unix()))
	if err != nil {
		return 0, false, err
	}
	if added == 0 {
		id, err = t.sameFact(f)
		return id, false, err
	}
	far.mark.Fact = f.ID
	t.new = append(t.new, asKept(f))
	return f.ID, true, nil
}

// asKept is a fact as it is read again: instants and waits are kept in whole seconds.
func asKept(f diary.Fact) diary.Fact {
	f.At, f.Wait = time.Unix(f.At.Unix(), 0).UTC(), f.Wait.Truncate(time.Second)
	f.Heights, f.Amount = append([]float64(nil), f.Heights...), f.Amount+0
	if f.TempC != nil {
		temp := *f.TempC + 0
		f.TempC = &temp
	}
	return f
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
		err = t.db.Row(`SELECT id FROM facts WHERE voids = ?`, f.Voids).Scan(&id)
	} else {
		err = t.db.Row(`SELECT id FROM facts WHERE source = ? AND kind = ? AND paddock = ? AND day = ? AND kind <> 'void'
			AND source IN ('record', 'thermometer', 'service')`, f.Source, f.Kind, f.Paddock, date(f.Day)).Scan(&id)
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
	var f diary.Fact
	err = t.db.Row(`SELECT kind, paddock, herd FROM facts WHERE id = ?`, fact).Scan(&f.Kind, &f.Paddock, &f.Herd)
	if err != nil {
		return 0, false, fmt.Errorf("take back fact %d: %w", fact, err)
	}
	if f.Kind == diary.Void {
		return 0, false, fmt.Errorf("take back fact %d: it takes another back itself; record the right fact instead", fact)
	}
	f.Kind, f.Voids = diary.Void, fact
	f.At, f.Day, f.By, f.Source, f.Inbox, f.Words = how.At, how.Day, how.By, how.Source, how.Inbox, how.Words
	return t.Record(f)
}

const factColumns = `id, at, day, kind, paddock, herd, heights, adds, wait_s * 1000000000, temp_c, said_by, source,
	coalesce(inbox, 0), coalesce(voids, 0), words, plant, amount, recorded_at, sum`

const factsAfter = `SELECT ` + factColumns + ` FROM facts WHERE id > ? ORDER BY id`

// FactsAfter gives the facts written after the one with this id, voids and
// all, in the order written. Ids only rise. A fact whose row is damaged is left
// out, of this list and of the others, and named by Damaged.
func (t *Tx) FactsAfter(id int64) ([]diary.Fact, error) {
	far, err := t.farCome()
	if err != nil || id >= far.mark.Fact {
		return nil, err
	}
	if all := int64(len(t.new)); far.mark.Fact-id <= all { // nothing but what was recorded here
		return t.new[all-(far.mark.Fact-id):], nil
	}
	return t.s.facts(t.db, factsAfter, id)
}

// EachFact hands the facts after id to f one by one, so that a long diary is
// never in memory as a whole.
func (s *Store) EachFact(ctx context.Context, id int64, f func(diary.Fact) error) error {
	return s.eachFact(s.db.Look(ctx, "read the diary"), f, factsAfter, id)
}

func (s *Store) facts(q disk.Querier, query string, args ...any) (all []diary.Fact, err error) {
	err = s.eachFact(q, func(f diary.Fact) error { all = append(all, f); return nil }, query, args...)
	return all, err
}

func (s *Store) eachFact(q disk.Querier, f func(diary.Fact) error, query string, args ...any) error {
	return disk.Each(q, func(r disk.Scanner) error {
		v, err := scanFact(r)
		if err != nil {
			s.leaveOut(v, err)
			return nil
		}
		return f(v)
	}, query, args...)
}

// errSum is a row that is not as it was written.
var errSum = errors.New("it does not agree with its checksum")

func scanFact(r disk.Scanner) (f diary.Fact, err error) {
	var recordedAt int64
	var sum sql.NullInt64
	err = r.Scan(&f.ID, (*instant)(&f.At), (*date)(&f.Day), &f.Kind, &f.Paddock, &f.Herd, (*list[float64])(&f.Heights), &f.Adds, &f.Wait,
		&f.TempC, &f.By, &f.Source, &f.Inbox, &f.Voids, &f.Words, &f.Plant, &f.Amount, &recordedAt, &sum)
	if err == nil && sum.Valid && sum.Int64 != sumOf(&f, recordedAt) {
		err = errSum
	}
	return f, err
}
