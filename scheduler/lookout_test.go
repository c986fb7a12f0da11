package scheduler

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// A twin is one of two machines of a farm to which the same happens.
type twin struct {
	r     *rapid.T
	farm  *config.Farm
	clock *wall
	store *store.Store
	sched *Scheduler
	whole bool // it looks at everything anew, and plans it, in each pass
}

// drawFarm is an invented farm with some of what makes paddocks differ.
func drawFarm(r *rapid.T, t *testing.T) *config.Farm {
	some := func(label, text string) string {
		if rapid.Bool().Draw(r, label) {
			return text
		}
		return ""
	}
	text := talkFarm
	text = strings.Replace(text, "grass: eastern gamagrass", "grass: eastern gamagrass"+some("weed", ", hazard_plants: [johnsongrass]")+some("given back", ", out_by: 10-05"), 1)
	text = strings.Replace(text, "{id: mill, name: Mill, area: 20 acres, grass: big bluestem", "{id: mill, name: Mill, area: 20 acres, grass: big bluestem"+some("pocket", ", frost_offset: -6 days")+some("cherry", ", hazard_plants: [wild cherry]"), 1)
	if rapid.IntRange(0, 4).Draw(r, "herds") == 0 {
		from, to := strings.Index(text, "herds:"), strings.Index(text, "contacts:")
		text = text[:from] + text[to:]
	}
	path := filepath.Join(t.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	farm, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return farm
}

func newTwin(r *rapid.T, farm *config.Farm, path string, now time.Time, whole bool) *twin {
	w := &twin{r: r, farm: farm, clock: &wall{now: now, boot: 40 * 24 * time.Hour}, whole: whole}
	s, err := store.Open(r.Context(), path, store.Options{RunID: "twin", Now: now, Volatile: true})
	w.must(err)
	w.store = s
	w.sched = New(Options{Store: s, Farm: farm, Clock: w.clock})
	return w
}

func (w *twin) must(err error) {
	if err != nil {
		w.r.Fatal(err)
	}
}

// pass is one, and what is queued, said and withdrawn after it.
func (w *twin) pass() (fates []store.Fate, next time.Time) {
	if o := &w.sched.lookout; w.whole && o.book != nil { // the plan of where the herds eat apart, which is made once for each fact
		w.sched.left, w.sched.cache, o.memo = nil, &season.Cache{}, &ladder.Memo{}
		o.land = w.sched.sight(o.book, o.day).Land()
		o.views = o.land.Look()
	}
	next, err := w.sched.Pass(w.r.Context(), w.clock.now)
	w.must(err)
	fates, err = w.store.Fates(w.r.Context())
	w.must(err)
	return fates, next
}

// drain hands over what is due by a medium, with some outcome.
func (w *twin) drain(medium ladder.Medium, o store.Outcome) {
	now := w.clock.now
	claim := store.ClaimFor{Medium: medium, Carrier: string(medium), Retry: store.Unsafe, Address: func(name string) string {
		c, _ := w.farm.Contact(name)
		return c.Address(medium)
	}, Quiet: func(name string, at time.Time) bool {
		c, _ := w.farm.Contact(name)
		return c.Quiet(at, w.farm.Zone)
	}}
	for {
		all, err := w.store.Claim(w.r.Context(), now, claim, func(e *store.Envelope) error { e.Text = "words"; return nil })
		w.must(err)
		if len(all) == 0 {
			return
		}
		w.must(w.store.Settle(w.r.Context(), all[0].Attempt, o, now))
	}
}

// An event is what happens to both machines alike.
type event func(w *twin)

var twinTexts = []string{
	"off creek", "on creek cows", "on hill cows", "on lane", "off", "off hill yesterday", "creek 9 8 10", "hill 7", "mill 15 14", "later", "later creek 4h",
	"ok", "frost", "no frost", "brown", "brown hill", "undo", "undo frost", "clear lane", "on lane cows", "hayed mill 4", "dry", "rain 1.2", "dead cow in lane",
	"two cows down", "regrowth lane", "weaned", "status", "stop", "start", "9", "a",
}

func drawEvent(r *rapid.T, n int) event {
	switch rapid.SampledFrom([]string{"text", "text", "text", "night", "forecast", "drain", "drain", "drain", "trouble", "health", "jump"}).Draw(r, "event") {
	case "text":
		who, words := rapid.IntRange(0, 2).Draw(r, "who"), rapid.SampledFrom(twinTexts).Draw(r, "words")
		return func(w *twin) {
			c := w.farm.Contacts[who]
			w.must(w.store.Accept(w.r.Context(), "sms", []store.In{{ID: fmt.Sprint(n), From: c.Phone, Contact: c.Name, Text: words, Sent: w.clock.now}}, "", w.clock.now))
		}
	case "night":
		back, min := rapid.IntRange(0, 2).Draw(r, "days back"), float64(rapid.IntRange(-6, 9).Draw(r, "minimum"))
		return func(w *twin) { w.observe(diary.Observation{Source: diary.FromThermometer, MinC: min}, -back) }
	case "forecast":
		ahead, min := rapid.IntRange(0, 2).Draw(r, "days ahead"), float64(rapid.IntRange(-4, 8).Draw(r, "minimum"))
		return func(w *twin) {
			w.observe(diary.Observation{Source: diary.FromService, Forecast: true, Issued: w.clock.now, MinC: min}, ahead)
		}
	case "drain":
		o := rapid.SampledFrom([]store.Outcome{{}, {}, {}, {State: store.TryAgain, After: time.Hour}, {State: store.WasRefused}, {State: store.NotKnown, After: time.Hour}}).Draw(r, "outcome")
		medium := rapid.SampledFrom([]ladder.Medium{ladder.Text, ladder.Text, ladder.Mail}).Draw(r, "medium")
		return func(w *twin) { w.drain(medium, o) }
	case "trouble":
		detail := rapid.SampledFrom([]string{"", "no signal"}).Draw(r, "detail")
		return func(w *twin) { w.sched.Fails(ladder.AlarmSMSDown, ladder.Text, detail, w.clock.now) }
	case "health":
		unsent := rapid.IntRange(0, 2).Draw(r, "unsent")
		return func(w *twin) { w.sched.SetHealth(ladder.Health{OK: unsent == 0, Unsent: unsent}) }
	}
	off := time.Duration(rapid.SampledFrom([]int{-90, -5, 5, 90}).Draw(r, "minutes off")) * time.Minute
	return func(w *twin) { w.clock.now = w.clock.now.Add(off) }
}

func (w *twin) observe(o diary.Observation, days int) {
	o.Day = civil.DateOf(w.clock.now.In(w.farm.Zone)).AddDays(days)
	o.At = ladder.Instant(o.Day, 7*60, w.farm.Zone)
	w.must(w.store.Observe(w.r.Context(), []diary.Observation{o}, w.clock.now))
}

// An incremental pass and a full one say the same: whatever is texted, measured,
// forecast, handed over or fails, and however the clock runs.
func TestAPassThatLooksOnlyAtWhatWasTouchedSaysTheSameAsAWholeOne(t *testing.T) {
	if checks := flag.Lookup("rapid.checks"); checks.Value.String() == checks.DefValue {
		defer flag.Set("rapid.checks", checks.DefValue)
		flag.Set("rapid.checks", "40") // each is two farms on a disk
	}
	rapid.Check(t, func(r *rapid.T) {
		farm, dir := drawFarm(r, t), t.TempDir()
		day := rapid.IntRange(0, 190).Draw(r, "day")
		now := time.Date(2026, time.July, 20+day, 5, 0, 0, 0, time.UTC)
		some, whole := newTwin(r, farm, filepath.Join(dir, "some.db"), now, false), newTwin(r, farm, filepath.Join(dir, "whole.db"), now, true)
		defer some.store.Close()
		defer whole.store.Close()
		for i := range rapid.IntRange(5, 25).Draw(r, "events") {
			happens := drawEvent(r, i)
			run := time.Duration(rapid.SampledFrom([]int{0, 1, 1, 1, 7, 60, 200, 600, 1440, 3 * 1440}).Draw(r, "minutes")) * time.Minute
			for _, w := range []*twin{some, whole} {
				w.clock.run(run)
				happens(w)
			}
			for range 2 {
				got, next := some.pass()
				want, after := whole.pass()
				if !reflect.DeepEqual(got, want) {
					r.Fatalf("at %s\n%s", some.clock.now, differ(got, want))
				}
				if !next.Equal(after) {
					r.Fatalf("at %s the next moment is %s, of a whole pass %s", some.clock.now, next, after)
				}
				some.clock.run(time.Minute)
				whole.clock.run(time.Minute)
			}
		}
	})
}

func differ(got, want []store.Fate) string {
	for i := range want {
		if i >= len(got) || got[i].Notice.Key != want[i].Notice.Key {
			return fmt.Sprintf("%d rows, a whole pass has %d, the first of its own %+v", len(got), len(want), want[i])
		}
	}
	for i := range want {
		if !reflect.DeepEqual(got[i], want[i]) {
			return fmt.Sprintf("%+v\n%+v\na whole pass has\n%+v\n%+v", got[i], got[i].Notice.Facts, want[i], want[i].Notice.Facts)
		}
	}
	return ""
}
