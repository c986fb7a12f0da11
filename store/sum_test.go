package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
)

// spoil changes a fact behind everybody's back.
func spoil(t *testing.T, s *Store, set string, id int64) {
	t.Helper()
	for _, q := range []string{`DROP TRIGGER facts_stay`, fmt.Sprintf(`UPDATE facts SET %s WHERE id = %d`, set, id)} {
		_, err := s.db.Write.ExecContext(ctx, q)
		must(t, err)
	}
}

func TestAFactThatIsNotAsItWasWrittenIsNamedAndLeftOut(t *testing.T) {
	for _, set := range []string{"day = '2026-09-02'", "heights = '[14.0, 9]'", "heights = 'rubbish'", "paddock = 'hill'", "kind = 'off'", "said_by = 'Luis'",
		"at = at + 1", "recorded_at = recorded_at + 1", "adds = 1", "words = 'x'", "temp_c = 0", "wait_s = 3600", "amount = 1", "plant = 'x'", "sum = sum + 1", "day = '2026-02-30'"} {
		s := fresh(t)
		first, _ := record(t, s, reading("creek", 14, 8))
		last, _ := record(t, s, reading("lane", 5))
		if n, err := s.CheckFacts(ctx); n != 0 || err != nil {
			t.Fatalf("as written: %d, %v", n, err)
		}
		spoil(t, s, set, first)
		if got := facts(t, s); len(got) != 1 || got[0].ID != last {
			t.Errorf("%s: the diary is %+v", set, got)
		}
		err := s.Damaged()
		if !errors.Is(err, disk.ErrFact) || !strings.Contains(err.Error(), fmt.Sprintf("fact %d ", first)) || !strings.Contains(err.Error(), "text again") {
			t.Errorf("%s: it says %v", set, err)
		}
		r, err := OpenRead(ctx, s.Path())
		must(t, err)
		if _, err := r.CheckFacts(ctx); !errors.Is(err, disk.ErrFact) {
			t.Errorf("%s: who looks at all of them finds %v", set, err)
		}
		r.Close()
	}
}

func TestAFactOfBeforeThereWereChecksumsCountsAndIsCounted(t *testing.T) {
	s := fresh(t)
	id, _ := record(t, s, reading("creek", 14))
	spoil(t, s, "sum = NULL", id)
	n, err := s.CheckFacts(ctx)
	if got := facts(t, s); n != 1 || err != nil || len(got) != 1 || got[0].Paddock != "creek" {
		t.Errorf("%d without a checksum, %v: %+v", n, err, got)
	}
}

func TestEveryFactAgreesWithItsChecksum(t *testing.T) {
	s := fresh(t)
	checks(t, 100)
	rapid.Check(t, func(t *rapid.T) {
		f := diary.Fact{
			At: time.Unix(rapid.Int64Range(-1e9, 1e11).Draw(t, "at"), rapid.Int64Range(0, 999).Draw(t, "ns")), Day: day("2026-09-01"), Kind: diary.Later,
			Paddock: rapid.String().Draw(t, "paddock"), Herd: rapid.String().Draw(t, "herd"), By: rapid.String().Draw(t, "by"), Words: string(rapid.SliceOf(rapid.Byte()).Draw(t, "words")),
			Heights: rapid.SliceOf(rapid.Float64()).Draw(t, "heights"), Adds: rapid.Bool().Draw(t, "adds"), Wait: time.Duration(rapid.Int64Range(0, 1e15).Draw(t, "wait")),
			Plant: rapid.String().Draw(t, "plant"), Amount: rapid.Float64().Draw(t, "amount"),
		}
		if err := s.Update(ctx, sep1, func(x *Tx) error { _, _, err := x.Record(f); return err }); err != nil {
			t.Fatal(err)
		}
	})
	if n, err := s.CheckFacts(ctx); n != 0 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
}

// One byte of the file is another one: either somebody says so, or the diary is
// what was written.
func TestNoFlippedByteChangesTheDiarySilently(t *testing.T) {
	dir := t.TempDir()
	s := open(t, filepath.Join(dir, "farm.db"), "r")
	for i := range 60 {
		record(t, s, reading(fmt.Sprint("paddock", i%7), float64(i), 8.5))
	}
	want := facts(t, s)
	path := filepath.Join(dir, "copy.db")
	must(t, s.Backup(ctx, path))
	whole, err := os.ReadFile(path)
	must(t, err)
	r := rand.New(rand.NewPCG(7, 7))
	left := 0
	for range 200 {
		bad := []byte(string(whole))
		at := r.IntN(len(bad))
		bad[at] ^= 1 << r.IntN(8)
		must(t, os.WriteFile(path, bad, 0o600))
		d, err := OpenRead(ctx, path)
		if err != nil {
			continue
		}
		var got []diary.Fact
		read := d.EachFact(ctx, 0, func(f diary.Fact) error { got = append(got, f); return nil })
		said := errors.Join(read, d.Damaged(), d.db.Check(ctx))
		if errors.Is(said, disk.ErrFact) {
			left++
		}
		if said == nil && !reflect.DeepEqual(got, want) {
			t.Errorf("byte %d: nobody says that the diary changed", at)
		}
		d.Close()
	}
	if left == 0 {
		t.Error("no flip met a fact's row")
	}
}
