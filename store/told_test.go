package store

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// What the cache gives must be what a fresh reader of the file gives.
func TestTheRowsKeptInMemoryAreThoseOfTheFile(t *testing.T) {
	dir := t.TempDir()
	n := 0
	checks(t, 25)
	rapid.Check(t, func(t *rapid.T) {
		n++
		w := &world{t: t, path: filepath.Join(dir, fmt.Sprintf("%d.db", n)), now: sep1, retry: Unsafe,
			wanted: map[string]ladder.Notice{}, said: map[string][]saying{}, frozen: map[string]string{}, gone: map[int64]bool{}, frosty: map[string]bool{},
			stops: map[string]time.Time{}, oks: map[string]int{}, today: map[string]map[string]bool{}}
		w.open()
		defer func() { w.s.Close(); os.Remove(w.path) }()
		t.Repeat(map[string]func(*rapid.T){
			"plan":   w.plan,
			"claim":  w.claim,
			"settle": w.settle,
			"text":   func(t *rapid.T) { w.text(t, "Ana", ladder.AnswerVerdict) },
			"wait":   func(t *rapid.T) { w.now = w.now.Add(time.Hour) },
			"fail": func(t *rapid.T) {
				err := w.s.Update(ctx, w.now, func(x *Tx) error {
					if _, err := x.Reconcile(nil); err != nil {
						return err
					}
					if err := told(x); err != nil {
						return err
					}
					return os.ErrInvalid
				})
				if err == nil {
					t.Fatal("no error")
				}
			},
			"": func(t *rapid.T) {
				since := sep1.Add(time.Duration(rapid.SampledFrom([]int{0, 0, 0, 0, -1, 3, 8}).Draw(t, "since")) * time.Hour)
				w.must(w.s.Update(ctx, w.now, func(x *Tx) error {
					got, _, err := x.Told(since)
					w.must(err)
					kept := w.s.told
					w.s.told.forget()
					want, _, err := x.Told(since)
					w.s.told = kept
					if !reflect.DeepEqual(got, want) {
						t.Fatalf("kept\n%+v\nin the file\n%+v", got, want)
					}
					return err
				}))
			},
		})
	})
}

// The weather kept in memory is that of the file, however late, often or wrongly it came.
func TestTheWeatherKeptInMemoryIsThatOfTheFile(t *testing.T) {
	first := day("2026-09-01")
	checks(t, 25)
	rapid.Check(t, func(r *rapid.T) {
		s := fresh(t)
		defer s.Close()
		drawn := func(r *rapid.T) diary.Observation {
			n := rapid.IntRange(0, 3).Draw(r, "day")
			return diary.Observation{
				Source: diary.FromThermometer, Place: "barn", At: sep1.AddDate(0, 0, n), Day: first.AddDays(n + rapid.IntRange(0, 1).Draw(r, "clock")),
				MinC: float64(rapid.IntRange(-9, 20).Draw(r, "c")), Forecast: rapid.Bool().Draw(r, "forecast"),
			}
		}
		r.Repeat(map[string]func(*rapid.T){
			"observe": func(r *rapid.T) { must(t, s.Observe(ctx, []diary.Observation{drawn(r)}, sep1)) },
			"fail": func(r *rapid.T) {
				if err := s.Observe(ctx, []diary.Observation{drawn(r), {}}, sep1); err == nil {
					t.Fatal("an observation of no time is kept")
				}
			},
			"forget": func(r *rapid.T) {
				must(t, s.forget(ctx, sep1.AddDate(0, 0, rapid.SampledFrom([]int{0, 9, 95}).Draw(r, "later"))))
			},
			"": func(r *rapid.T) {
				from := first.AddDays(rapid.IntRange(0, 3).Draw(r, "from"))
				to := from.AddDays(rapid.IntRange(0, 8).Draw(r, "days"))
				got, err := s.observations(from, to)
				must(t, err)
				kept := s.air
				s.air = airCache{}
				want, err := s.observations(from, to)
				must(t, err)
				s.air = kept
				if !slices.EqualFunc(got, want, func(a, b diary.Observation) bool { return reflect.DeepEqual(a, b) }) {
					r.Fatalf("kept\n%+v\nin the file\n%+v", got, want)
				}
			},
		})
	})
}
