package daemon

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
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
		got := store.In{ID: fmt.Sprint(n), From: from.Phone, Contact: from.Name, Text: fmt.Sprintf("creek %d %d", 8+n%5, 9+n%4), Sent: clock.Time}
		start = time.Now()
		if err := d.turn(b.Context(), &brought{carrier: "console", got: []store.In{got}, now: clock.Time, kept: make(chan error, 1)}); err != nil {
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

// A chute takes every text at once, and the same twice as one.
type chute struct{}

func (chute) Name() string                                            { return "sms" }
func (chute) Medium() ladder.Medium                                   { return ladder.Text }
func (chute) Retry() notify.Retry                                     { return notify.Safe }
func (chute) Deliver(context.Context, notify.Envelope) notify.Outcome { return notify.Outcome{} }

// BenchmarkBurst is pages of 40 texts as a poll brings them, heard, answered and
// handed over by a safe carrier without a rate limit, against as many bare durable
// commits in the same database: texts/commit is how many texts go through in the
// time of one commit.
func BenchmarkBurst(b *testing.B) {
	const page = 40
	text := strings.Builder{}
	text.WriteString("farm: {name: Quail Fork, timezone: America/Chicago}\nfrost: {date: 10-16}\npaddocks:\n")
	for i := range 10 {
		fmt.Fprintf(&text, "  - {id: p%d, name: Pasture %d, area: 20 acres, grass: big bluestem}\n", i, i)
	}
	text.WriteString("herds:\n  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: p0}\ncontacts:\n")
	for i := range page {
		fmt.Fprintf(&text, "  - {name: Hand %d, role: helper, phone: \"+155555501%02d\", language: en}\n", i, i)
	}
	farm, err := config.Load(farmtest.File(b, text.String()))
	if err != nil {
		b.Fatal(err)
	}
	now := time.Date(2026, 7, 1, 15, 0, 0, 0, time.UTC)
	s, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "farm.db"), store.Options{RunID: "bench", Now: now})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	sched := scheduler.New(scheduler.Options{Store: s, Farm: farm})
	courier := notify.NewCourier(notify.CourierOptions{Outbox: s, Carriers: []notify.Carrier{chute{}}, Rules: carriers.Rules(farm)})
	drain := func() {
		if err := courier.Drain(b.Context(), now); err != nil {
			b.Fatal(err)
		}
	}
	var whole, bare time.Duration
	texts := 0
	for b.Loop() {
		now = now.Add(time.Hour)
		if _, err := sched.Pass(b.Context(), now); err != nil {
			b.Fatal(err)
		}
		drain()
		start := time.Now()
		for i := range page {
			at := now.Add(time.Duration(i-page) * time.Second)
			if err := s.Update(b.Context(), now, func(tx *store.Tx) error { return tx.SetSeen(at) }); err != nil {
				b.Fatal(err)
			}
		}
		bare += time.Since(start)
		got := make([]notify.Received, page)
		for i := range got {
			texts++
			from := farm.Contacts[i]
			got[i] = notify.Received{ID: fmt.Sprint(texts), From: from.Phone, Contact: from.Name, Text: fmt.Sprintf("p%d %d %d", i%10, 8+texts%7, 9+i%4), Sent: now}
		}
		start = time.Now()
		if _, err := sched.Accept(b.Context(), "sms", got, fmt.Sprint(texts), now); err != nil {
			b.Fatal(err)
		}
		drain()
		whole += time.Since(start)
	}
	b.ReportMetric(float64(bare)/float64(whole), "texts/commit")
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
