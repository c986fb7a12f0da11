package rehearsal

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

func TestJumpingAndSteppingByTheMinuteSayTheSame(t *testing.T) {
	for _, tc := range []struct{ name, from, to, replies string }{
		{"over the cutoff, with answers", "2026-08-30", "2026-09-02",
			"2026-08-30T09:15 Ana: creek 14 8 6 8\n2026-08-31T12:00 Luis: fuera creek\n2026-09-01T08:00 Ana: on creek cows\n2026-09-01T08:01 Ana: undo\n"},
		{"over a rung put off", "2026-08-22", "2026-08-23", "2026-08-22T08:00 Ana: later creek 4h\n"},
		{"over the night of 25 hours", "2026-10-31", "2026-11-01", "2026-11-01T01:30 Ana: frost\n"},
		{"over the night of 23 hours", "2027-03-13", "2027-03-14", "2027-03-14T03:10 Ana: status\n"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			jumped := played(t, tc.from, tc.to, tc.replies, false)
			stepped := played(t, tc.from, tc.to, tc.replies, true)
			if jumped != stepped {
				t.Errorf("jumping says\n%s\nstepping says\n%s", jumped, stepped)
			}
			if strings.TrimSpace(jumped) == "" {
				t.Error("nothing was said at all")
			}
		})
	}
}

// played is a rehearsal of the test's farm, jumping or stepping.
func played(t *testing.T, from, to, replies string, minutely bool) string {
	t.Helper()
	file := farmtest.File(t, farmtest.Text)
	script := filepath.Join(filepath.Dir(file), "replies.txt")
	if err := os.WriteFile(script, []byte(replies), 0o600); err != nil {
		t.Fatal(err)
	}
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	p, err := newPlay(t.Context(), Options{Farm: farm, From: from, To: to, Replies: script, JSON: true, Out: &out})
	if err != nil {
		t.Fatal(err)
	}
	defer p.close()
	p.minutely = minutely
	if err := p.run(t.Context()); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// BenchmarkYearsUnattended plays years in a row and tells how the heap grows
// from the first to the last.
func BenchmarkYearsUnattended(b *testing.B) {
	years := 2
	if os.Getenv("STUBBLED_LONG") != "" {
		years = 10
	}
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc) / 1e6
	}
	for b.Loop() {
		farm, err := config.Demo()
		if err != nil {
			b.Fatal(err)
		}
		to := fmt.Sprintf("%d-06-19", 2026+years)
		p, err := newPlay(b.Context(), Options{Farm: farm, Demo: true, From: "2026-06-20", To: to, Out: io.Discard})
		if err != nil {
			b.Fatal(err)
		}
		until := p.until
		p.until = p.from.AddDate(1, 0, 0)
		if err := p.run(b.Context()); err != nil {
			b.Fatal(err)
		}
		first := heap()
		p.from, p.until = p.until, until
		if err := p.run(b.Context()); err != nil {
			b.Fatal(err)
		}
		last := heap()
		p.close()
		b.ReportMetric(first, "MB-after-1-year")
		b.ReportMetric(last, fmt.Sprintf("MB-after-%d-years", years))
	}
}
