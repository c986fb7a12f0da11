package reply

import (
	"strings"
	"testing"
	"time"

	"stubbled/notify/language"
)

// BenchmarkRead reads the sample over and over, on one core. It reports texts a
// second, and how many times as long a text takes as splitting it in words and
// looking each up in a map, which is the least that any reader has to do.
func BenchmarkRead(b *testing.B) {
	type job struct {
		text  string
		who   Who
		asked Asked
		r     *Reader
	}
	readers := map[string]*Reader{}
	for n, farm := range testFarms {
		readers[n] = New(farm.places, farm.herds, farm.units)
	}
	var jobs []job
	for _, l := range readSample(b, "testdata/sample.tsv") {
		var asked Asked
		if l.context != "-" {
			asked.Paddocks = strings.Split(l.context, ",")
		}
		jobs = append(jobs, job{l.text, testFarms[l.farm].people[l.who], asked, readers[l.farm]})
	}
	words := language.All()[0].Common()
	start, found := time.Now(), 0
	const rounds = 20
	for range rounds {
		for _, j := range jobs {
			for _, w := range strings.Fields(strings.ToLower(j.text)) {
				if words[w] {
					found++
				}
			}
		}
	}
	least := time.Since(start) / time.Duration(rounds*len(jobs))
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		j := &jobs[i%len(jobs)]
		j.r.Read(j.text, j.who, j.asked, testDay)
	}
	each := b.Elapsed() / time.Duration(b.N)
	b.ReportMetric(float64(time.Second)/float64(max(each, 1)), "texts/s")
	b.ReportMetric(float64(each)/float64(max(least, 1)), "x-split-and-look-up")
	_ = found
}

// BenchmarkLongest reads the texts that take longest of those within bounds.
func BenchmarkLongest(b *testing.B) {
	farm := testFarms["quail"]
	r := New(farm.places, farm.herds, farm.units)
	for name, text := range map[string]string{
		"names":   strings.Repeat("creek ", 299),
		"numbers": strings.Repeat("9 ", 299),
		"events":  strings.Repeat("cows off creek and ", 74),
		"pairs":   strings.Repeat("creek 9 ", 149),
		"unknown": strings.Repeat("xqzvb ", 299),
		"fill":    strings.Repeat("the ", 299),
		"letters": strings.Repeat("a", 4999),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				r.Read(text, farm.people["Ana"], Asked{}, testDay)
			}
		})
	}
}
