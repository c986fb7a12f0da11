package store

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

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
