package store

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"slices"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/store/disk"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// sumOf is the checksum of a fact's row. What a later schema adds to a fact is
// summed only where it is set, or no older row would agree any more.
func sumOf(f *diary.Fact, recordedAt int64) int64 {
	var temp []float64
	if f.TempC != nil {
		temp = []float64{*f.TempC}
	}
	adds := int64(0)
	if f.Adds {
		adds = 1
	}
	b := make([]byte, 0, 512)
	for _, n := range [...]int64{f.ID, f.At.Unix(), int64(f.Day.Year), int64(f.Day.Month), int64(f.Day.Day), adds, int64(f.Wait / time.Second),
		f.Inbox, f.Voids, recordedAt, int64(len(f.Heights)), int64(len(temp))} {
		b = binary.AppendVarint(b, n)
	}
	for _, s := range [...]string{string(f.Kind), f.Paddock, f.Herd, f.By, f.Source, f.Words, f.Plant} {
		b = append(binary.AppendUvarint(b, uint64(len(s))), s...)
	}
	for _, list := range [...][]float64{f.Heights, temp, {f.Amount}} {
		for _, x := range list {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x+0)) // SQLite keeps no -0
		}
	}
	return int64(crc32.Checksum(b, castagnoli))
}

// leaveOut notes a row of the diary that is not what was written.
func (s *Store) leaveOut(f diary.Fact, why error) {
	s.damage.Lock()
	defer s.damage.Unlock()
	if s.damaged[f.ID] == "" {
		s.log.Error("a fact is damaged and left out", "fact", f.ID, "err", why)
	}
	if s.damaged == nil {
		s.damaged = map[int64]string{}
	}
	s.damaged[f.ID] = fmt.Sprintf("fact %d (it reads: %s %s %s by %s): %v", f.ID, f.Day, f.Kind, f.Paddock, f.By, why)
}

// Damaged is ErrFact with every damaged fact that was met; nil where none was.
func (s *Store) Damaged() error {
	s.damage.Lock()
	defer s.damage.Unlock()
	var all []error
	for _, id := range slices.Sorted(maps.Keys(s.damaged)) {
		all = append(all, errors.New(s.damaged[id]))
	}
	if len(all) == 0 {
		return nil
	}
	return &disk.Error{Kind: disk.ErrFact, Op: "read the diary", Path: s.Path(), Err: errors.Join(all...)}
}

// CheckFacts reads every fact and gives Damaged, and how many are of before
// there were checksums.
func (s *Store) CheckFacts(ctx context.Context) (unsummed int, err error) {
	if err := s.EachFact(ctx, 0, func(diary.Fact) error { return nil }); err != nil {
		return 0, err
	}
	if err := s.db.Look(ctx, "read the diary").Row(`SELECT count(*) FROM facts WHERE sum IS NULL`).Scan(&unsummed); err != nil {
		return 0, err
	}
	return unsummed, s.Damaged()
}
