package scheduler

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/store"
)

// bigFarm is an invented farm of n paddocks, in the middle of its season.
func bigFarm(b *testing.B, n int) *config.Farm {
	var y strings.Builder
	y.WriteString("farm: {name: Quail Fork, timezone: America/Chicago}\nfrost: {date: 10-16, spread: 10 days}\npaddocks:\n")
	for i := range n {
		fmt.Fprintf(&y, "  - {id: p%d, name: Pasture %d, area: 20 acres, grass: big bluestem}\n", i, i)
	}
	y.WriteString("herds:\n  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: p0}\n")
	y.WriteString("contacts:\n  - {name: Ana, role: manager, phone: \"+15555550142\", language: en}\n")
	path := filepath.Join(b.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(y.String()), 0o600); err != nil {
		b.Fatal(err)
	}
	farm, err := config.Load(path)
	if err != nil {
		b.Fatal(err)
	}
	return farm
}

// readFarm is a farm of n paddocks, each read once a season for three years,
// planned and drained.
func readFarm(b *testing.B, n int) *bench {
	k := newBench(b, bigFarm(b, n), true)
	k.must(k.store.Update(b.Context(), k.now, func(tx *store.Tx) error {
		for year := range 3 {
			for i := range n {
				if _, _, err := tx.Record(k.reading(i, k.now.AddDate(year-3, 0, 0))); err != nil {
					return err
				}
			}
		}
		return nil
	}))
	k.pass()
	k.drain()
	k.pass()
	return k
}

func (k *bench) reading(i int, at time.Time) diary.Fact {
	return diary.Fact{
		At: at, Day: civil.DateOf(at), Kind: diary.Reading, Paddock: fmt.Sprintf("p%d", i), Heights: []float64{9, 8, 10}, By: "Ana", Source: diary.FromText,
	}
}

// growing runs a pass on farms of growing size, and tells what it costs a paddock.
func growing(b *testing.B, turn func(k *bench)) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			k := readFarm(b, n)
			k.now = k.now.Add(time.Minute)
			k.pass()
			start := used()
			for b.Loop() {
				turn(k)
			}
			each := float64((used() - start).Microseconds()) / float64(b.N)
			b.ReportMetric(each/float64(n), "us/paddock")
			b.ReportMetric(each/1000, "ms-processor")
		})
	}
}

// BenchmarkPass is one in which nothing changed, before the next moment at which
// anything can: what it costs does not grow with the farm.
func BenchmarkPass(b *testing.B) { growing(b, (*bench).pass) }

// BenchmarkPassAfterAReading looks at one paddock.
func BenchmarkPassAfterAReading(b *testing.B) {
	growing(b, func(k *bench) {
		k.n++
		k.must(k.store.Update(b.Context(), k.now, func(tx *store.Tx) error {
			_, _, err := tx.Record(k.reading(k.n%len(k.farm.Paddocks), k.now))
			return err
		}))
		k.pass()
	})
}

// BenchmarkWholePass is one that looks at every paddock, as each morning's does.
func BenchmarkWholePass(b *testing.B) {
	growing(b, func(k *bench) {
		k.sched.left, k.sched.lookout = nil, lookout{}
		k.pass()
	})
}

// BenchmarkWhatIf is a text that supposes something on a farm of 100 paddocks, from
// received to answered, against one that asks for the status of the same paddock.
func BenchmarkWhatIf(b *testing.B) {
	for _, words := range []string{"what if p7 5 more days", "what if cows to p9 tomorrow", "what if I leave 10 in p7", "what if I sell 8 cows", "how low p7"} {
		b.Run(words, func(b *testing.B) {
			k := readFarm(b, 100)
			at := k.now
			for i := range k.farm.Paddocks {
				k.must(k.store.Update(b.Context(), k.now, func(tx *store.Tx) error { _, _, err := tx.Record(k.reading(i, at)); return err }))
			}
			k.text(k.farm.Contacts[0], "on p7 cows")
			ask := func(words string) (took time.Duration) {
				k.now = k.now.Add(25 * time.Minute)
				k.pass()
				k.drain()
				took = -used()
				k.text(k.farm.Contacts[0], words)
				return took + used()
			}
			var plain, supposed time.Duration
			for b.Loop() {
				plain += ask("status p7")
				supposed += ask(words)
			}
			b.ReportMetric(float64(supposed)/float64(plain), "ratio")
			b.ReportMetric(float64((supposed-plain).Microseconds())/1000/float64(b.N), "ms-more")
		})
	}
}
