package daemon

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/store"
)

// BenchmarkTextsInABusyMinute is the time from a text accepted to its answer
// handed over, one after the other, as in a minute of 500 texts (120 ms each), and
// its slowest hundredth. The baseline is a bare durable commit
// in the same database.
func BenchmarkTextsInABusyMinute(b *testing.B) {
	farm, err := config.Load(farmtest.File(b, farmtest.Text))
	if err != nil {
		b.Fatal(err)
	}
	clock := &farmtest.Clock{Time: time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC)}
	d, err := Open(b.Context(), optionsOf(farm, io.Discard, clock))
	if err != nil {
		b.Fatal(err)
	}
	defer d.Close()
	accept := d.courier.Accept("console", clock.Now, nil)
	var took []time.Duration
	var bare time.Duration
	for b.Loop() {
		n := len(took)
		clock.Time = clock.Time.Add(25 * time.Minute) // each is answered: a machine that writes faster is not
		start := time.Now()
		if err := d.store.Update(b.Context(), clock.Time, func(tx *store.Tx) error { return tx.SetSeen(clock.Time) }); err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		from := farm.Contacts[n%len(farm.Contacts)]
		got := notify.Received{ID: fmt.Sprint(n), From: from.Phone, Text: fmt.Sprintf("creek %d %d", 8+n%5, 9+n%4), Sent: clock.Time}
		start = time.Now()
		if err := accept(b.Context(), []notify.Received{got}, ""); err != nil {
			b.Fatal(err)
		}
		if err := d.Turn(b.Context()); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	var sum time.Duration
	for _, t := range took {
		sum += t
	}
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "ms-p99")
	b.ReportMetric(float64(sum.Microseconds())/1000/float64(len(took)), "ms/answer")
	b.ReportMetric(float64(sum)/float64(bare), "commits/answer")
}

// BenchmarkStartToReady is from the farm file on disk to the first pass made,
// on a database that has seen a day, against opening that database alone.
func BenchmarkStartToReady(b *testing.B) {
	file := farmtest.File(b, farmtest.Text)
	db := filepath.Join(filepath.Dir(file), "stubbled.db")
	clock := &farmtest.Clock{Time: time.Date(2026, 8, 22, 15, 0, 0, 0, time.UTC)}
	var whole, bare time.Duration
	n := 0
	for b.Loop() {
		n++
		clock.Time = clock.Time.Add(time.Minute)
		start := time.Now()
		farm, err := config.Load(file)
		if err != nil {
			b.Fatal(err)
		}
		d, err := Open(b.Context(), optionsOf(farm, io.Discard, clock))
		if err != nil {
			b.Fatal(err)
		}
		if err := d.Turn(b.Context()); err != nil {
			b.Fatal(err)
		}
		whole += time.Since(start)
		d.Close()
		start = time.Now()
		s, err := store.Open(b.Context(), db, store.Options{RunID: "bench", Now: clock.Time})
		if err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		s.Close()
	}
	b.ReportMetric(float64(whole.Microseconds())/1000/float64(n), "ms-to-ready")
	b.ReportMetric(float64(whole)/float64(bare), "opens")
}
