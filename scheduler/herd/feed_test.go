package herd

import (
	"math"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

var (
	sep1  = day(2026, time.September, 1)
	oct30 = day(2026, time.October, 30)
)

// pairs are 40 cows of 1,000 lb with calves of March: 40 x 1.3 x 26 = 1,352 lb a day.
func pairs(t testing.TB) Herd {
	return Herd{ID: "cows", Head: 40, Kind: kind(t, "cow with calf"), WeightLb: 1000, Calving: time.March, Paddock: "lane"}
}

// shortFall is 60 days of that herd with less feed than it needs.
func shortFall(t testing.TB) Fall {
	return Fall{
		From: sep1, To: oct30, Herds: []Herd{pairs(t)},
		Ground: []Ground{{ID: "lane", Acres: 30, Cool: true, Standing: 20_000, Share: 0.5}},
		Spare:  []Ground{{ID: "hill", Acres: 20, Standing: 15_000}, {ID: "creek", Acres: 22, Standing: 60_000}},
	}
}

func TestFeedByHand(t *testing.T) {
	// No growth: a plain pool of 20,000 lb at 1,352 lb a day is 14 days and 1,072 lb.
	f := shortFall(t)
	f.Ground[0].Cool = false
	feed := f.Plan()
	h := feed.Herds[0]
	near(t, "demand", h.Demand, 60*1352, 1e-6)
	near(t, "supply", h.Supply, 20_000, 1e-6)
	near(t, "short", h.Short, 60*1352-20_000, 1e-6)
	if h.FirstShort != sep1.AddDays(14) || h.ShortDays != 46 || h.Stockpile != 0 {
		t.Errorf("first short %s, %d days, stockpile %g", h.FirstShort, h.ShortDays, h.Stockpile)
	}
	near(t, "the 15th day's bite", h.Days[14].Eaten, 20_000-14*1352, 1e-6)
}

func TestStockpileGivenUp(t *testing.T) {
	f := shortFall(t)
	f.From, f.To = day(2026, time.July, 30), day(2026, time.August, 3)
	h := f.Plan().Herds[0]
	if h.ShortDays != 0 {
		t.Fatalf("short %d days", h.ShortDays)
	}
	// Two days of July do not count, three of August do.
	near(t, "stockpile", h.Stockpile, 3*1352, 1e-6)
}

// What stands on cool-season grass for 97 days from mid-August without nitrogen
// is about 2,000 lb/ac (Univ. of Illinois Extension, 2016: about 2,000 lb DM/ac in
// 90-100 days).
func TestCoolSeasonGrowthAddsUpToAStockpile(t *testing.T) {
	sum := 0.0
	for d := day(2026, time.August, 15); d.Before(day(2026, time.November, 20)); d = d.AddDays(1) {
		sum += CoolSeasonGrowth(d)
	}
	near(t, "lb/ac", sum, 2000, 150)
	// 30-45 lb/ac/d mid-September to early November (Dankenbring, NRCS Indiana, 2025).
	if g := CoolSeasonGrowth(day(2026, time.October, 10)); g < 30 || g > 45 {
		t.Errorf("October grows %g", g)
	}
	if CoolSeasonGrowth(day(2027, time.January, 10)) != 0 {
		t.Error("January grows")
	}
}

func TestOpenNativesAreEatenBeforeTheyShut(t *testing.T) {
	f := shortFall(t)
	f.Herds[0].Paddock = ""
	f.Ground = append(f.Ground, Ground{ID: "north", Acres: 40, Native: true, Standing: 8_000, Until: sep1.AddDays(4)})
	feed := f.Plan()
	for i, d := range feed.Herds[0].Days[:5] {
		want := "north"
		if i == 4 {
			want = "lane"
		}
		if len(d.Bites) != 1 || d.Bites[0].Ground != want {
			t.Errorf("%s: %v, want %s", d.Date, d.Bites, want)
		}
	}
	// Standing on lane, the herd stays there while it carries the day.
	f.Herds[0].Paddock = "lane"
	if d := f.Plan().Herds[0].Days[0]; d.Bites[0].Ground != "lane" {
		t.Errorf("%v", d.Bites)
	}
}

func TestHerdsThatStandApartDoNotShareGround(t *testing.T) {
	f := shortFall(t)
	heifers := Herd{ID: "heifers", Head: 20, Kind: kind(t, "yearlings"), Paddock: "flat"}
	f.Herds = append(f.Herds, heifers)
	f.Ground = append(f.Ground, Ground{ID: "flat", Acres: 20, Cool: true, Standing: 30_000, Share: 0.5})
	for _, d := range f.Plan().Herds[1].Days[:10] {
		if len(d.Bites) != 1 || d.Bites[0].Ground != "flat" {
			t.Fatalf("heifers on %s: %v", d.Date, d.Bites)
		}
	}
	f.Ground[1].Standing = 0
	f.Ground[1].Cool = false
	if d := f.Plan().Herds[1].Days[0]; len(d.Bites) != 1 || d.Bites[0].Ground != "lane" {
		t.Errorf("with nothing else left they share: %v", d.Bites)
	}
}

func way(t *testing.T, h HerdFeed, w Way) Close {
	t.Helper()
	for _, c := range h.Closes {
		if c.Way == w {
			return c
		}
	}
	t.Fatalf("no way %q in %+v", w, h.Closes)
	return Close{}
}

func TestWhatCloses(t *testing.T) {
	f := shortFall(t)
	h := f.Plan().Herds[0]
	if h.ShortDays == 0 {
		t.Fatal("not short: the case shows nothing")
	}
	hay := way(t, h, FeedHay)
	near(t, "hay, dry", hay.HayDry, h.Short/0.7, 1e-6)
	near(t, "hay, as fed", hay.HayAsFed, h.Short/0.7/0.88, 1e-6)
	near(t, "days of hay", hay.HayDays, h.Short/1352, 1e-9)
	if hay.On != h.FirstShort || !hay.Enough() {
		t.Errorf("hay %+v", hay)
	}

	fewer := way(t, h, FewerHead)
	for gone, want := range map[int]bool{fewer.Head: true, fewer.Head - 1: false} {
		g := f.clone()
		g.Herds[0].Head -= gone
		if got := g.Plan().Herds[0].ShortDays == 0; got != want {
			t.Errorf("%d fewer head: closed %v", gone, got)
		}
	}

	wean := way(t, h, WeanNow)
	if wean.On != sep1 || !(wean.Short < h.Short) || wean.ShortDays > h.ShortDays {
		t.Errorf("weaning: %+v of %g lb short", wean, h.Short)
	}

	use := way(t, h, UseNative)
	if use.Paddock != "creek" || !use.Enough() {
		t.Errorf("the hill is not enough, the creek is: %+v", use)
	}
	f.Spare = f.Spare[:1]
	if use := way(t, f.Plan().Herds[0], UseNative); use.Paddock != "hill" || use.Enough() || use.Short >= h.Short {
		t.Errorf("only the hill: %+v", use)
	}
}

func TestWaysThatAreNone(t *testing.T) {
	f := shortFall(t)
	f.Spare = nil
	f.Herds = []Herd{{ID: "steers", Head: 60, Kind: kind(t, "yearlings"), Paddock: "lane"}}
	for _, c := range f.Plan().Herds[0].Closes {
		if c.Way == WeanNow || c.Way == UseNative {
			t.Errorf("steers with no spare paddock are offered %q", c.Way)
		}
	}
}

// A farm of nothing but natives is answered in hay: every day is short from the
// first, and no sale short of the whole herd helps.
func TestNothingButNatives(t *testing.T) {
	f := Fall{From: sep1, To: oct30, Herds: []Herd{pairs(t)}, Ground: []Ground{
		{ID: "creek", Acres: 22, Native: true, Standing: 9_000, Until: sep1},
		{ID: "hill", Acres: 30, Native: true, Standing: 9_000, Until: sep1},
	}}
	feed := f.Plan()
	h := feed.Herds[0]
	if !feed.OnlyRest || h.FirstShort != sep1 || h.ShortDays != 60 || h.Supply != 0 {
		t.Errorf("%+v", h)
	}
	hay := way(t, h, FeedHay)
	near(t, "days of hay", hay.HayDays, 60, 1e-9)
	near(t, "hay, dry", hay.HayDry, 60*1352/0.7, 1e-6)
	for _, c := range h.Closes {
		if c.Way == FewerHead {
			t.Errorf("selling is offered: %+v", c)
		}
	}
}

func TestFeedOfNothing(t *testing.T) {
	f := shortFall(t)
	for name, g := range map[string]Fall{
		"no herds":           {From: sep1, To: oct30, Ground: f.Ground},
		"no days":            {From: oct30, To: sep1, Herds: f.Herds, Ground: f.Ground},
		"a herd of 0":        {From: sep1, To: oct30, Herds: []Herd{{ID: "cows", Kind: kind(t, "cows")}}},
		"enough for all":     {From: sep1, To: oct30, Herds: f.Herds, Ground: []Ground{{ID: "lane", Standing: 1e6}}},
		"standing no number": {From: sep1, To: sep1, Herds: []Herd{{}}, Ground: []Ground{{ID: "lane", Standing: math.NaN(), Acres: math.Inf(1), Cool: true, Share: 1}}},
	} {
		feed := g.Plan()
		for _, h := range feed.Herds {
			if h.ShortDays != 0 || len(h.Closes) != 0 || math.IsNaN(h.Demand+h.Supply) {
				t.Errorf("%s: %+v", name, h)
			}
		}
		short := 0.0
		for _, h := range feed.Herds {
			short += h.Short
		}
		if short != 0 || math.IsNaN(feed.Left) {
			t.Errorf("%s: short %g, left %g", name, short, feed.Left)
		}
	}
	if n := len((Fall{From: sep1, To: sep1.AddDays(100_000), Herds: f.Herds}).Plan().Herds[0].Days); n != MostDaysAhead {
		t.Errorf("a plan of 100,000 days has %d", n)
	}
}

// Nothing is eaten twice and nothing is lost: what the herds got, and what is
// left, is what stood there and what grew.
func TestFeedAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fall{From: sep1, To: sep1.AddDays(rapid.IntRange(0, 80).Draw(t, "days"))}
		pair, _ := LookupKind("cow with calf")
		for i := range rapid.IntRange(0, 3).Draw(t, "herds") {
			f.Herds = append(f.Herds, Herd{ID: string(rune('h' + i)), Head: rapid.IntRange(0, 60).Draw(t, "head"), Kind: pair, Calving: time.March,
				Paddock: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "at")})
		}
		stood := 0.0
		for i := range rapid.IntRange(0, 4).Draw(t, "ground") {
			g := Ground{ID: string(rune('a' + i)), Acres: 10, Standing: rapid.Float64Range(0, 40_000).Draw(t, "standing"), Share: 0.5}
			stood += g.Standing
			f.Ground = append(f.Ground, g)
		}
		feed := f.Plan()
		ate := 0.0
		for _, h := range feed.Herds {
			bites, short := 0.0, 0
			for _, d := range h.Days {
				for _, b := range d.Bites {
					bites += b.Lb
				}
				if d.Short() > 0 {
					short++
				}
			}
			if math.Abs(bites-h.Supply) > 1e-6 || short != h.ShortDays || h.Supply > h.Demand+1e-6 || (h.ShortDays > 0) != (h.FirstShort != civil.Date{}) {
				t.Fatalf("%+v", h)
			}
			ate += h.Supply
		}
		if math.Abs(ate+feed.Left-stood) > 1e-5 {
			t.Fatalf("ate %g, left %g, stood %g", ate, feed.Left, stood)
		}
	})
}
