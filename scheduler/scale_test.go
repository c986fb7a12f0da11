package scheduler

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/store"
)

// bigFarm is an invented farm of n paddocks, in the middle of its season.
func bigFarm(b *testing.B, n int) *config.Farm {
	var y strings.Builder
	y.WriteString("farm: {name: Quail Fork, timezone: America/Chicago}\nfrost: {date: 10-16, spread: 10 days}\npaddocks:\n")
	for i := range n {
		fmt.Fprintf(&y, "  - {id: p%d, name: Pasture %d, area: 20 acres, grass: big bluestem}\n", i, i)
	}
	y.WriteString("herds:\n  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: p0}\n")
	y.WriteString("contacts:\n  - {name: Ana, role: manager, phone: \"+15555550142\", language: en}\n")
	path := filepath.Join(b.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(y.String()), 0o600); err != nil {
		b.Fatal(err)
	}
	farm, err := config.Load(path)
	if err != nil {
		b.Fatal(err)
	}
	return farm
}

// BenchmarkPass is one pass in which nothing new is due, over farms of growing
// size, each paddock read once a season for three years. perPaddock shows the
// growth: it stays about the same where the pass is linear.
func BenchmarkPass(b *testing.B) {
	now := time.Date(2026, 8, 25, 15, 0, 0, 0, time.UTC)
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			farm := bigFarm(b, n)
			s, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "farm.db"), store.Options{RunID: "bench", Now: now, Volatile: true})
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			err = s.Update(b.Context(), now, func(tx *store.Tx) error {
				for year := range 3 {
					for i := range n {
						f := diary.Fact{
							At: now.AddDate(year-3, 0, 0), Day: civil.DateOf(now.AddDate(year-3, 0, 0)), Kind: diary.Reading,
							Paddock: fmt.Sprintf("p%d", i), Heights: []float64{9, 8, 10}, By: "Ana", Source: diary.FromText,
						}
						if _, _, err := tx.Record(f); err != nil {
							return err
						}
					}
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
			sched := New(Options{Store: s, Farm: farm})
			if _, err := sched.Pass(b.Context(), now); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := sched.Pass(b.Context(), now.Add(time.Minute)); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/paddock")
		})
	}
}
