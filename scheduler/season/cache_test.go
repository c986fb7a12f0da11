package season

import (
	"reflect"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
)

// TestACacheNeverChangesAnAnswer: over a diary that grows, is corrected and is
// looked at on one day after the other, what is kept from look to look gives
// just what is worked out anew.
func TestACacheNeverChangesAnAnswer(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := newPlay(t)
		oddFarm(r, p)
		if p.farm.Plan.Record != nil {
			p.air = p.farm.Plan.Record
		}
		today := day("2025-06-01")
		for range rapid.IntRange(1, 6).Draw(r, "looks") {
			oddDiary(r, p)
			today = today.AddDays(rapid.IntRange(0, 200).Draw(r, "days"))
			kept, anew := p.sight(today.String()), p.sight(today.String())
			anew.Cache = nil
			if a, b := Look(kept), Look(anew); !reflect.DeepEqual(a, b) {
				for i := range a {
					if !reflect.DeepEqual(a[i], b[i]) {
						r.Fatalf("%s, %s:\n%+v\nanew\n%+v", today, a[i].Paddock.ID, a[i], b[i])
					}
				}
			}
			if a, b := Lessons(kept), Lessons(anew); !reflect.DeepEqual(a, b) {
				r.Fatalf("%s: lessons\n%+v\nanew\n%+v", today, a, b)
			}
			if a, ok := Feed(kept); ok {
				if b, _ := Feed(anew); !reflect.DeepEqual(a, b) {
					r.Fatalf("%s: feed from %s to %s, anew from %s to %s", today, a.From, a.To, b.From, b.To)
				}
			}
		}
	})
}

// What a finished season came to is kept from look to look, and worked out anew where
// its weather comes late, or something is told of it.
func TestAFinishedSeasonIsKeptUntilSomethingComesOfIt(t *testing.T) {
	p := newPlay(t)
	p.onStation(sevenFalls...)
	rested(p)
	p.air = p.farm.Plan.Record
	late := record(fall{2025, "10-16"})
	was := Lessons(p.sight("2026-06-01"))
	for _, came := range []struct {
		what  string
		comes func()
		news  bool
	}{
		{"weather of this year", func() { p.air = p.air.With(frost.Day{Date: day("2026-06-02"), Min: 0, Max: 0, Rain: 3000}) }, false},
		{"a frost of this year", func() { p.tells("2026-04-20", diary.Frost, "") }, false},
		{"the rain of that fall", func() {
			for d := day("2025-05-01"); d.Year == 2025; d = d.AddDays(1) {
				p.air = p.air.With(late.Day(d))
			}
		}, true},
		{"the height at its end", func() { p.reads("2025-11-05", "creek", plants(20, 18)...) }, true},
		{"a herd that was in", func() {
			p.moves("2025-09-10", diary.On, "creek", "cows")
			p.moves("2025-09-12", diary.Off, "creek", "cows")
		}, true},
	} {
		came.comes()
		kept, anew := p.sight("2026-06-20"), p.sight("2026-06-20")
		anew.Cache = nil
		now := Lessons(kept)
		if !reflect.DeepEqual(now, Lessons(anew)) {
			t.Errorf("%s: not as it is worked out anew", came.what)
		}
		if news := !reflect.DeepEqual(now[0].Seasons, was[0].Seasons); news != came.news {
			t.Errorf("%s: another season than before: %v", came.what, news)
		}
		was = now
	}
}

// Several looks at once, as a pass and a command may take them.
func TestACacheIsSafeForManyAtOnce(t *testing.T) {
	p := bigFarm(t, 20)
	want := Look(p.sight("2026-08-22"))
	p.cache = &Cache{}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if got := Look(p.sight("2026-08-22")); !reflect.DeepEqual(got, want) {
				t.Error("another answer than alone")
			}
			Lessons(p.sight("2026-11-20"))
		})
	}
	all.Wait()
}

func TestWhatWasKnownBeforeASeasonOfYearsAgoIsLetGoOf(t *testing.T) {
	p := newPlay(t)
	creek := p.paddock("creek")
	for year := 2017; year <= 2026; year++ {
		p.look("2026-06-01").learn(creek, year)
	}
	pasts, known := 0, len(tableOf[learnedOf, kept[learnedFrom, learned]](p.cache))
	for k := range tableOf[learnedOf, kept[pastFrom, pastKept]](p.cache) {
		if k.paddock == creek.ID { // others teach it too
			pasts++
		}
	}
	if pasts != seasonsKept || known != seasonsKept {
		t.Errorf("of %d seasons is kept what was known before, and of %d what it taught, want %d", pasts, known, seasonsKept)
	}
}
