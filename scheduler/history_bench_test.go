package scheduler

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/store"
)

// A ranch is the demo farm with so many paddocks more, all alike.
func ranch(b *testing.B, paddocks int) *config.Farm {
	b.Helper()
	var rows strings.Builder
	for i := range paddocks {
		fmt.Fprintf(&rows, "  - {id: p%d, name: Paddock %d, area: 40 acres, grass: big bluestem}\n", i, i)
	}
	text := strings.Replace(string(config.Example()), "\npaddocks:\n", "\npaddocks:\n"+rows.String(), 1)
	farm, err := config.LoadText("farm.yaml", []byte(text), config.Opening(func(string) (io.ReadCloser, error) {
		return io.NopCloser(bytes.NewReader(config.ExampleStation())), nil
	}))
	if err != nil {
		b.Fatal(err)
	}
	return farm
}

// BenchmarkTextAfterYears is one text heard and answered on a farm of 200
// paddocks that was texted 5,000 times a year, on a file: what it costs must not
// grow with what was ever said.
func BenchmarkTextAfterYears(b *testing.B) {
	const paddocks, aYear = 200, 5000
	for _, years := range []int{0, 1, 10} {
		b.Run(fmt.Sprint(years), func(b *testing.B) {
			farm := ranch(b, paddocks)
			now := time.Date(2026, 8, 20, 15, 0, 0, 0, time.UTC)
			db := filepath.Join(b.TempDir(), "farm.db")
			s, err := store.Open(b.Context(), db, store.Options{RunID: "bench", Now: now, Volatile: true})
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			sched := New(Options{Store: s, Farm: farm})
			n := 0
			text := func(at time.Time) {
				n++
				from := farm.Contacts[n%2]
				in := store.In{ID: fmt.Sprint(n), From: from.Phone, Contact: from.Name, Text: fmt.Sprintf("p%d %d %d %d", n%paddocks, 9+n%3, 8+n%5, 10), Sent: at}
				if err := s.Accept(b.Context(), Keyboard, []store.In{in}, "", at); err != nil {
					b.Fatal(err)
				}
			}
			for y := years; y > 0; y-- {
				for i := range aYear / 40 {
					at := now.AddDate(-y, 0, 0).Add(time.Duration(i) * 365 * 24 * time.Hour * 40 / aYear)
					for range 40 {
						text(at)
					}
					if _, err := sched.Pass(b.Context(), at); err != nil {
						b.Fatal(err)
					}
				}
			}
			size, _ := s.Size()
			b.ReportMetric(float64(size)/1e6, "MB-file")
			sched = New(Options{Store: s, Farm: farm}) // as after a start
			if _, err := sched.Pass(b.Context(), now); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				now = now.Add(time.Second)
				text(now)
				if _, err := sched.Pass(b.Context(), now); err != nil {
					b.Fatal(err)
				}
			}
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-heap")
		})
	}
}
