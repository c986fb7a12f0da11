package scheduler

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/store"
)

// BenchmarkReply is one text from received to answer queued (the inbox, the
// grammar, the diary, the verdict, the reconciled queue) against the bare
// durable commits that it needs: one to accept it, one to hear it and plan.
func BenchmarkReply(b *testing.B) {
	farm, err := config.Demo()
	if err != nil {
		b.Fatal(err)
	}
	now := time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC)
	s, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "farm.db"), store.Options{RunID: "bench", Now: now})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	sched := New(Options{Store: s, Farm: farm})
	ana := farm.Contacts[0]
	var bare, whole time.Duration
	n := 0
	for b.Loop() {
		n++
		now = now.Add(25 * time.Minute) // each is answered: a machine that writes faster is not
		start := time.Now()
		for i := range 2 { // each another value: one that changes nothing is not written
			at := now.Add(time.Duration(i) * time.Second)
			if err := s.Update(b.Context(), now, func(tx *store.Tx) error { return tx.SetSeen(at) }); err != nil {
				b.Fatal(err)
			}
		}
		bare += time.Since(start)
		start = time.Now()
		in := store.In{ID: fmt.Sprint(n), From: ana.Phone, Contact: ana.Name, Text: fmt.Sprintf("creek %d %d %d", 9+n%3, 8+n%5, 10), Sent: now}
		if err := s.Accept(b.Context(), Keyboard, []store.In{in}, "", now); err != nil {
			b.Fatal(err)
		}
		if _, err := sched.Pass(b.Context(), now); err != nil {
			b.Fatal(err)
		}
		whole += time.Since(start)
	}
	b.ReportMetric(float64(whole.Microseconds())/float64(n)/1000, "ms/text")
	b.ReportMetric(float64(bare.Microseconds())/float64(n)/1000, "ms/2-commits")
	b.ReportMetric(float64(whole)/float64(bare), "ratio")
}
