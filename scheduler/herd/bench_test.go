package herd

import (
	"testing"
	"time"
)

// BenchmarkLastPass: every order of 8 paddocks for two herds, against the rule of
// thumb on the same farm in the same run.
func BenchmarkLastPass(b *testing.B) {
	var ps []Ahead
	for i := range ExactPaddocks {
		ps = append(ps, paddock(string(rune('a'+i)), 3+float64(i%3), 20+i, i%3))
	}
	bunches := []Bunch{cows("a"), {Herds: []string{"heifers"}, Demand: 600, At: "b"}}
	p := newPlan(aug1, bunches, ps)
	const runs = 1000
	began := time.Now()
	for range runs {
		p.byCutoff()
	}
	thumb := float64(time.Since(began).Nanoseconds()) / runs
	for b.Loop() {
		LastPass(aug1, bunches, ps)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/thumb, "x-rule-of-thumb")
}

// BenchmarkDays: days of grass for one paddock.
func BenchmarkDays(b *testing.B) {
	g := Grass{Acres: 22, Eaten: 75, Height: 11, Floor: 8, Regrowth: 0.15}
	b.ReportAllocs()
	for b.Loop() {
		g.Days(990)
	}
}

// BenchmarkFeed: two herds over 90 days on ten pieces of ground, with every way
// to close the gap, against following them once.
func BenchmarkFeed(b *testing.B) {
	f := shortFall(b)
	for i := range 8 {
		f.Ground = append(f.Ground, Ground{ID: string(rune('a' + i)), Acres: 5, Cool: true, Standing: 500, Share: 0.5})
	}
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
