package herd

import (
	"math/rand/v2"
	"strconv"
	"testing"
	"time"
)

// BenchmarkDays: days of grass for one paddock.
func BenchmarkDays(b *testing.B) {
	g := Grass{Acres: 22, Eaten: 75, Height: 11, Floor: 8, Regrowth: 0.15}
	b.ReportAllocs()
	for b.Loop() {
		g.Days(990)
	}
}

// BenchmarkFeed: plans with every way to close the gap, of more and more paddocks,
// some of which bar a herd, against following the herds once over 12.
func BenchmarkFeed(b *testing.B) {
	farm := func(paddocks int) Fall {
		f := randomFall(rand.New(rand.NewPCG(3, 4)), paddocks, true)
		for _, g := range f.Ground {
			f.Spare = append(f.Spare, Spare{g.ID, 10})
		}
		return f
	}
	const runs = 50
	small, began := farm(12), time.Now()
	for range runs {
		small.follow()
	}
	once := float64(time.Since(began).Nanoseconds()) / runs
	for _, paddocks := range []int{12, 200, 10_000} {
		f := farm(paddocks)
		b.Run(strconv.Itoa(paddocks), func(b *testing.B) {
			for b.Loop() {
				f.Plan()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/once, "x-once")
		})
	}
}
