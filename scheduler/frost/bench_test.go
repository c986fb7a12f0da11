package frost_test

import (
	"bufio"
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"stubbled/scheduler/frost"
)

// BenchmarkReadAgainstALineScan reads a record from its file and, in the same
// run, scans the same file line by line with a bufio.Scanner. share-of-scan is
// the reader's speed over the scan's; the aim is at least 0.5.
func BenchmarkReadAgainstALineScan(b *testing.B) {
	for _, file := range []string{"USW00094728.dly", "CRND0103-KS_Manhattan_6_SSW.txt", "seattle-weather.csv"} {
		b.Run(file, func(b *testing.B) {
			path := filepath.Join(sharedData(b), file)
			info, err := os.Stat(path)
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(info.Size())
			// The best of all rounds each, since other work on the machine only
			// ever adds time.
			reading, scanning := time.Hour, time.Hour
			for b.Loop() {
				start := time.Now()
				if _, err := frost.ReadFile(path, frost.Options{}); err != nil {
					b.Fatal(err)
				}
				middle := time.Now()
				scanLines(b, path)
				reading = min(reading, middle.Sub(start))
				scanning = min(scanning, time.Since(middle))
			}
			mb := float64(info.Size()) / 1e6
			b.ReportMetric(mb/reading.Seconds(), "read-MB/s")
			b.ReportMetric(mb/scanning.Seconds(), "scan-MB/s")
			b.ReportMetric(scanning.Seconds()/reading.Seconds(), "share-of-scan")
		})
	}
}

// scanLines is the plain scan: every line of a file found, nothing done with it.
func scanLines(b *testing.B, path string) {
	f, err := os.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	lines := 0
	for scan := bufio.NewScanner(f); scan.Scan(); {
		lines++
	}
	if lines == 0 {
		b.Fatal("no lines")
	}
}

// BenchmarkA150YearRecordToItsDistribution includes the reading.
func BenchmarkA150YearRecordToItsDistribution(b *testing.B) {
	data, err := os.ReadFile(filepath.Join(sharedData(b), "USW00094728.dly"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		r, err := frost.Read("record", bytes.NewReader(data), frost.Options{})
		if err != nil {
			b.Fatal(err)
		}
		d := r.Distribution(frost.Freeze32F, frost.Pick{})
		if _, ok := d.Quantile(20); !ok {
			b.Fatal("no 20 % date")
		}
	}
}

// BenchmarkHeapAfterAFileRepeatedTenTimes reports the heap that is live after
// reading a record, and after reading the same record ten times over.
func BenchmarkHeapAfterAFileRepeatedTenTimes(b *testing.B) {
	data, err := os.ReadFile(filepath.Join(sharedData(b), "CRND0103-KS_Manhattan_6_SSW.txt"))
	if err != nil {
		b.Fatal(err)
	}
	ten := bytes.Repeat(data, 10)
	var once, tenfold float64
	for b.Loop() {
		once, tenfold = heapOf(b, data), heapOf(b, ten)
	}
	b.ReportMetric(once/1024, "KiB-once")
	b.ReportMetric(tenfold/1024, "KiB-tenfold")
}

// heapOf is the heap that a record of this text keeps alive.
func heapOf(b *testing.B, text []byte) float64 {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	r, err := frost.Read("record", bytes.NewReader(text), frost.Options{})
	if err != nil {
		b.Fatal(err)
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(r)
	return float64(after.HeapAlloc) - float64(before.HeapAlloc)
}

// BenchmarkOneSeasonsDegreeDays is one Between, whatever its length.
func BenchmarkOneSeasonsDegreeDays(b *testing.B) {
	r := readStation(b, "CRND0103-KS_Manhattan_6_SSW.txt")
	w, ok := r.Warmth(frost.GrowthMethod, 0)
	if !ok {
		b.Fatal("no mean year")
	}
	year := w.Year(2012)
	from, to := frost.DateIn(2012, 0), frost.DateIn(2012, 80)
	for b.Loop() {
		year.Between(from, to)
	}
}
