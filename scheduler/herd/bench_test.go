package herd

import (
	"math/rand/v2"
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

// BenchmarkFeed: a plan of 200 paddocks with every way to close the gap, against
// following the herds once.
func BenchmarkFeed(b *testing.B) {
	f := randomFall(rand.New(rand.NewPCG(3, 4)), 200, false)
	const runs = 50
	began := time.Now()
	for range runs {
		f.follow()
	}
	once := float64(time.Since(began).Nanoseconds()) / runs
	for b.Loop() {
		f.Plan()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/once, "x-once")
}
