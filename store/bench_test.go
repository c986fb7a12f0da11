package store

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// bareCommit is the baseline: the smallest durable commit on this disk, one
// row changed and synced.
func bareCommit(b *testing.B, s *Store) {
	b.Helper()
	if _, err := s.db.Write.ExecContext(ctx, `UPDATE clock SET beat = beat + 1 WHERE id = 1`); err != nil {
		b.Fatal(err)
	}
}

func BenchmarkCommit(b *testing.B) {
	s := fresh(b)
	for b.Loop() {
		bareCommit(b, s)
	}
}

// BenchmarkReply is one text from received to settled, against the four bare
// commits that its four transactions need at least.
func BenchmarkReply(b *testing.B) {
	s := fresh(b)
	n := 0
	var ours, bare time.Duration
	for b.Loop() {
		n++
		start := time.Now()
		for range 4 {
			bareCommit(b, s)
		}
		bare += time.Since(start)
		start = time.Now()
		oneReply(b, s, n)
		ours += time.Since(start)
	}
	b.ReportMetric(float64(ours)/float64(bare), "x-bare")
	b.ReportMetric(float64(ours.Microseconds())/float64(n), "µs/reply")
}

func oneReply(b *testing.B, s *Store, n int) {
	now := sep1.Add(time.Duration(n) * time.Second)
	must(b, s.Accept(ctx, "sms", []In{{ID: fmt.Sprint(n), From: phones["Ana"], Contact: "Ana", Text: "creek 14 8 6"}}, fmt.Sprint(n), now))
	rows, err := s.Pending(ctx)
	must(b, err)
	must(b, s.Update(ctx, now, func(x *Tx) error {
		f := reading("creek", 14, 8, 6)
		f.Inbox = rows[0].Row
		if _, _, err := x.Record(f); err != nil {
			return err
		}
		if _, err := x.Answer(answer(ladder.AnswerVerdict, rows[0])); err != nil {
			return err
		}
		_, err := x.Heard(rows[0].Row)
		return err
	}))
	m := claim(b, s, now, bySMS(Unsafe))
	must(b, s.Settle(ctx, m.Attempt, Outcome{State: WasSent, Ref: "r"}, now))
}

// wantedOf is what a farm of so many paddocks wants to say: one notice each.
func wantedOf(n int) []ladder.Notice {
	all := make([]ladder.Notice, n)
	for i := range all {
		all[i] = notice(ladder.HeadsUp, fmt.Sprint("paddock-", i), "Ana")
		all[i].NotBefore = sep1.AddDate(0, 0, i%60)
		all[i].GoodUntil = all[i].NotBefore.AddDate(0, 0, 2)
	}
	return all
}

// BenchmarkReconcile is a pass in which nothing changed, the ordinary one.
func BenchmarkReconcile(b *testing.B) {
	for _, n := range []int{100, 1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("queued=%d", n), func(b *testing.B) {
			s := fresh(b)
			wanted := wantedOf(n)
			reconcileB(b, s, wanted)
			var ours, bare time.Duration
			for b.Loop() {
				start := time.Now()
				bareCommit(b, s)
				bare += time.Since(start)
				start = time.Now()
				reconcileB(b, s, wanted)
				ours += time.Since(start)
			}
			b.ReportMetric(float64(ours)/float64(bare), "x-bare")
		})
		b.Run(fmt.Sprintf("said=%d", n), func(b *testing.B) {
			s := fresh(b)
			wanted := wantedOf(n)
			reconcileB(b, s, wanted)
			_, err := s.db.Write.ExecContext(ctx, `UPDATE outbox SET state = 'sent'`)
			must(b, err)
			for b.Loop() {
				reconcileB(b, s, wanted)
			}
		})
		b.Run(fmt.Sprintf("first=%d", n), func(b *testing.B) {
			wanted := wantedOf(n)
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				s := open(b, filepath.Join(b.TempDir(), fmt.Sprint(i)), "r")
				b.StartTimer()
				reconcileB(b, s, wanted)
				b.StopTimer()
				s.Close()
				b.StartTimer()
			}
		})
	}
}

func reconcileB(b *testing.B, s *Store, wanted []ladder.Notice) {
	must(b, s.Update(ctx, sep1, func(x *Tx) error { _, err := x.Reconcile(wanted); return err }))
}

// BenchmarkSaid reads what was said, as each pass does: with nothing changed.
func BenchmarkSaid(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := fresh(b)
			reconcileB(b, s, wantedOf(n))
			read := func() {
				must(b, s.Update(ctx, sep1, func(x *Tx) error { return told(x) }))
			}
			read()
			for b.Loop() {
				read()
			}
		})
	}
}

// BenchmarkDiary reads a diary of a million facts, whole and only what is new.
func BenchmarkDiary(b *testing.B) {
	const n = 1_000_000
	s := fresh(b)
	must(b, s.Update(ctx, sep1, func(x *Tx) error {
		_, err := x.db.Exec(`WITH RECURSIVE c(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM c WHERE i < ?)
			INSERT INTO facts (at, day, kind, paddock, heights, said_by, source, recorded_at)
			SELECT i, '2026-09-01', 'reading', 'paddock-' || i % 10000, '[14,8.5,6]', 'Ana', 'text', i FROM c`, n)
		return err
	}))
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			count := 0
			must(b, s.EachFact(ctx, 0, func(diary.Fact) error { count++; return nil }))
			if count != n {
				b.Fatal(count)
			}
		}
	})
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			if got, err := s.factsAfter(n - 10); err != nil || len(got) != 10 {
				b.Fatal(len(got), err)
			}
		}
	})
	b.Run("reply", func(b *testing.B) {
		n := 0
		for b.Loop() {
			n++
			oneReply(b, s, n)
		}
	})
	b.Run("start", func(b *testing.B) {
		must(b, s.Close())
		for b.Loop() {
			s, err := Open(ctx, s.Path(), Options{RunID: "r", Now: sep1})
			must(b, err)
			must(b, s.Close())
		}
	})
}
