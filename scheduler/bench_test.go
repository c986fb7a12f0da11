package scheduler

import (
	"fmt"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A bench is a farm's scheduler on a file, whose answers and reminders are handed
// over.
type bench struct {
	b     *testing.B
	farm  *config.Farm
	store *store.Store
	sched *Scheduler
	now   time.Time
	n     int
}

func newBench(b *testing.B, farm *config.Farm, volatile bool) *bench {
	k := &bench{b: b, farm: farm, now: time.Date(2026, 8, 25, 15, 0, 0, 0, time.UTC)}
	s, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "farm.db"), store.Options{RunID: "bench", Now: k.now, Volatile: volatile})
	k.must(err)
	b.Cleanup(func() { s.Close() })
	k.store, k.sched = s, New(Options{Store: s, Farm: farm})
	return k
}

func (k *bench) must(err error) {
	if err != nil {
		k.b.Helper()
		k.b.Fatal(err)
	}
}

// commits are some bare durable ones; each changes the row, or nothing is written.
func (k *bench) commits(n int) {
	for i := range n {
		at := k.now.Add(time.Duration(i-n) * time.Second)
		k.must(k.store.Update(k.b.Context(), k.now, func(tx *store.Tx) error { return tx.SetSeen(at) }))
	}
}

// text is one, from received to answer queued.
func (k *bench) text(from ladder.Contact, words string) {
	k.n++
	in := store.In{ID: fmt.Sprint(k.n), From: from.Phone, Contact: from.Name, Text: words, Sent: k.now}
	heard, err := k.sched.Accept(k.b.Context(), "sms", []store.In{in}, fmt.Sprint(k.n), k.now)
	k.must(err)
	if !heard {
		k.b.Fatal("a text waits for a pass")
	}
}

func (k *bench) pass() {
	_, err := k.sched.Pass(k.b.Context(), k.now)
	k.must(err)
}

// drain hands over what is due.
func (k *bench) drain() {
	for _, medium := range []ladder.Medium{ladder.Text, ladder.Mail} {
		claim := store.ClaimFor{Medium: medium, Carrier: string(medium), Retry: store.Safe, Address: func(name string) string {
			c, _ := k.farm.Contact(name)
			return c.Address(medium)
		}}
		for {
			all, err := k.store.Claim(k.b.Context(), k.now, claim, func(e *store.Envelope) error { e.Text = "words"; return nil })
			k.must(err)
			if len(all) == 0 {
				break
			}
			k.must(k.store.Settle(k.b.Context(), all[0].Attempt, store.Outcome{}, k.now))
		}
	}
}

// BenchmarkReply is one text from received to answer queued (the inbox, the
// grammar, the diary, the verdict, the reconciled queue) against the bare
// durable commits that it needs: one to accept it, one to hear it and plan. What
// is answered and due is handed over between the texts.
func BenchmarkReply(b *testing.B) {
	farm, err := config.Demo()
	if err != nil {
		b.Fatal(err)
	}
	k := newBench(b, farm, false)
	ana := farm.Contacts[0]
	next := func() string {
		k.now = k.now.Add(25 * time.Minute) // each is answered: a machine that writes faster is not
		k.pass()
		k.drain()
		return fmt.Sprintf("creek %d %d %d", 9+k.n%3, 8+k.n%5, 10)
	}
	for range 40 { // so that the first is as good as any
		k.text(ana, next())
	}
	var bare, whole, processor time.Duration
	for b.Loop() {
		words := next()
		start := time.Now()
		k.commits(2)
		bare += time.Since(start)
		start, processor = time.Now(), processor-used()
		k.text(ana, words)
		whole, processor = whole+time.Since(start), processor+used()
	}
	b.ReportMetric(float64(whole)/float64(bare), "ratio")
	b.ReportMetric(float64(processor.Microseconds())/1000/float64(b.N), "ms-processor")
}

// history is so many years of a farm's readings and moves, in the middle of its
// season: each paddock is grazed and read every month from April to August.
func (k *bench) history(years int) {
	k.must(k.store.Update(k.b.Context(), k.now, func(tx *store.Tx) error {
		for year := 2026 - years; year < 2026; year++ {
			for month := time.April; month <= time.August; month++ {
				for i, p := range k.farm.Paddocks {
					day := civil.Date{Year: year, Month: month, Day: 1 + i%20}
					at := ladder.Instant(day, 7*60, k.farm.Zone)
					for _, f := range []diary.Fact{
						{Kind: diary.Reading, Heights: []float64{14, 16, 15}}, {Kind: diary.On, Herd: "cows"}, {Kind: diary.Off, Herd: "cows"},
						{Kind: diary.Reading, Heights: []float64{8, 9, 8}},
					} {
						f.At, f.Day, f.Paddock, f.By, f.Source = at, day, p.ID, "Ana", diary.FromText
						if f.Kind == diary.Off {
							f.Day = day.AddDays(1)
						}
						if _, _, err := tx.Record(f); err != nil {
							return err
						}
					}
				}
			}
		}
		return nil
	}))
}

// used is the processor's time of this process so far: what a machine that is
// shared makes no slower.
func used() time.Duration {
	var r syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

// BenchmarkReplyAfterYears is a text on 200 paddocks after one and after ten years:
// x-of-1-year is how much more of the
// processor it takes after ten.
func BenchmarkReplyAfterYears(b *testing.B) {
	var one float64
	for _, years := range []int{1, 10} {
		b.Run(fmt.Sprint(years), func(b *testing.B) {
			k := newBench(b, bigFarm(b, 200), true)
			k.history(years)
			next := func() string {
				k.now = k.now.Add(25 * time.Minute)
				k.pass()
				k.drain()
				return fmt.Sprintf("p%d %d %d", k.n%200, 9+k.n%3, 8+k.n%5)
			}
			for range 20 {
				k.text(k.farm.Contacts[0], next())
			}
			var whole time.Duration
			for b.Loop() {
				words := next()
				start := used()
				k.text(k.farm.Contacts[0], words)
				whole += used() - start
			}
			each := float64(whole) / float64(b.N)
			if one == 0 {
				one = each
			}
			b.ReportMetric(each/1e6, "ms/text")
			b.ReportMetric(each/one, "x-of-1-year")
		})
	}
}
