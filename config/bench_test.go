package config

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"go.yaml.in/yaml/v3"
)

// manyPaddocks is a farm file with n paddocks.
func manyPaddocks(n int) []byte {
	var b bytes.Buffer
	b.WriteString("farm: {name: Wide Open, timezone: America/Chicago}\nfrost: {date: 10-18, spread: 10 days}\npaddocks:\n")
	for i := range n {
		fmt.Fprintf(&b, "  - {id: p%d, name: Pasture %d, aliases: [q%d], area: %d acres, grass: big bluestem, soil: dry, rest: {days: %d days}}\n", i, i, i, 10+i%90, 45+i%15)
	}
	b.WriteString("contacts: [{name: Ana, role: manager, phone: \"+15555550142\"}]\n")
	return b.Bytes()
}

// The baseline is the YAML parser alone on the same bytes: the ratio is what
// checking everything costs beside it.
func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{10, 10_000} {
		data := manyPaddocks(n)
		b.Run(fmt.Sprintf("%d paddocks", n), func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			parse := parseAlone(b, data)
			for b.Loop() {
				from := newSource("farm.yaml", []Option{WithoutEnvironment()})
				if _, err := from.load(data); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/parse, "x-yaml-parse")
		})
	}
}

// parseAlone is what the parser takes on the same bytes, ns.
func parseAlone(b *testing.B, data []byte) float64 {
	b.Helper()
	const least = 200 * time.Millisecond
	start, n := time.Now(), 0
	for ; time.Since(start) < least; n++ {
		var doc yaml.Node
		if err := yaml.Unmarshal(data, &doc); err != nil {
			b.Fatal(err)
		}
	}
	return float64(time.Since(start).Nanoseconds()) / float64(n)
}

// Each problem costs its own line and no more: a file in which every paddock
// is wrong is refused about as fast as a good one is read.
func BenchmarkRefuse(b *testing.B) {
	data := bytes.ReplaceAll(manyPaddocks(10_000), []byte(" acres"), nil)
	b.ReportAllocs()
	for b.Loop() {
		from := newSource("farm.yaml", []Option{WithoutEnvironment()})
		if _, err := from.load(data); err == nil {
			b.Fatal("let through")
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Demo(); err != nil {
			b.Fatal(err)
		}
	}
}
