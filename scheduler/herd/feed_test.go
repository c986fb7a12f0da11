package herd

import (
	"fmt"
	"math"
	"strings"
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
		Ground: []Ground{fescue("lane", 30, 20_000, 0.5)},
		Spare:  []Spare{{ID: "hill", Standing: 15_000}, {ID: "creek", Standing: 60_000}},
	}
}

// fescue is cool-season ground of which animals get a share of the growth.
func fescue(id string, acres, standing, share float64) Ground {
	g := Ground{ID: id, Cool: true, Standing: standing}
	for d := sep1; !d.After(oct30); d = d.AddDays(1) {
		g.Grows = append(g.Grows, acres*share*CoolSeasonGrowth(d))
	}
	return g
}

func TestFeedByHand(t *testing.T) {
	// No growth: a plain pool of 20,000 lb at 1,352 lb a day is 14 days and 1,072 lb.
	f := shortFall(t)
	f.Ground[0].Cool, f.Ground[0].Grows = false, nil
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

func TestOpenNativesAreEatenBeforeAnyStockpile(t *testing.T) {
	for _, at := range []string{"", "north", "lane"} {
		f := shortFall(t)
		f.Herds[0].Paddock = at
		f.Ground = append(f.Ground, Ground{ID: "north", Native: true, Standing: 8_000, Until: sep1.AddDays(4)})
		for i, d := range f.Plan().Herds[0].Days[:5] {
			want := "north"
			if i == 4 {
				want = "lane"
			}
			if len(d.Bites) != 1 || d.Bites[0].Ground != want {
				t.Errorf("standing on %q, %s: %v, want %s", at, d.Date, d.Bites, want)
			}
		}
	}
}

// told writes who goes where in a line.
func told(f Feed) string {
	s := ""
	for _, x := range f.Stops() {
		ground := x.Ground
		if ground == "" {
			ground = "hay"
		}
		s += fmt.Sprintf("%s %s %d d; ", strings.Join(x.Herds, "+"), ground, x.Out.DaysSince(x.In))
	}
	return s
}

// native has so many days of grass for the 40 cows, and no regrowth.
func native(id string, days float64, shutIn, need int) Ground {
	return Ground{ID: id, Native: true, Standing: days * 1352, Until: sep1.AddDays(shutIn), Need: need}
}

func TestTheOrderBeforeGroundShuts(t *testing.T) {
	heifers := Herd{ID: "heifers", Head: 20, Kind: kind(t, "cow with calf"), WeightLb: 1000, Calving: time.March, Paddock: "creek"}
	mill := Ground{ID: "mill", Cool: true, Standing: 1e6}
	for _, c := range []struct {
		name   string
		at     string
		days   int
		ground []Ground
		more   []Herd
		want   string
	}{
		{"three that shut together: the dry one first, then stockpile",
			"", 20, []Ground{native("creek", 5, 20, 3), native("hill", 4, 20, 1), native("north", 3, 20, 2), mill}, nil,
			"cows hill 4 d; cows north 3 d; cows creek 5 d; cows mill 8 d; "},
		{"the one that shuts first comes first, however moist",
			"", 20, []Ground{native("hill", 10, 20, 1), native("creek", 5, 5, 2), native("flat", 5, 20, 3)}, nil,
			"cows creek 5 d; cows hill 10 d; cows flat 5 d; "},
		{"where it stands is used up first",
			"creek", 20, []Ground{native("hill", 4, 20, 1), native("creek", 5, 20, 3), mill}, nil,
			"cows creek 5 d; cows hill 4 d; cows mill 11 d; "},
		{"unless grass that lacks later would be lost by that",
			"creek", 10, []Ground{native("hill", 5, 5, 1), native("creek", 5, 10, 2)}, nil,
			"cows hill 5 d; cows creek 5 d; "},
		{"two days of grass are no reason to move, as long as none lacks",
			"mill", 20, []Ground{native("hill", 0.9, 20, 1), mill}, nil, "cows mill 20 d; "},
		{"where it lacks they are eaten before they shut",
			"mill", 20, []Ground{native("hill", 2, 10, 1), {ID: "mill", Cool: true, Standing: 8 * 1352}}, nil,
			"cows mill 8 d; cows hill 2 d; cows hay 10 d; "},
		{"herds that stand apart go apart, those that stand together together",
			"hill", 10, []Ground{native("hill", 5, 10, 1), native("creek", 5, 10, 2), native("north", 5, 10, 3)}, []Herd{heifers},
			"cows hill 5 d; heifers creek 10 d; cows north 5 d; "},
		{"together",
			"creek", 10, []Ground{native("hill", 6, 10, 1), native("creek", 6, 10, 2), native("north", 6, 10, 3)}, []Herd{heifers},
			"cows+heifers creek 4 d; cows+heifers hill 4 d; cows+heifers north 2 d; "},
		{"ground whose rest failed is last of all",
			"", 10, []Ground{{ID: "poor", Native: true, Standing: 10 * 1352, Until: sep1.AddDays(10), Last: true}, native("creek", 4, 10, 2), mill}, nil,
			"cows creek 4 d; cows mill 6 d; "},
		{"who may not stand there never does",
			"", 10, []Ground{{ID: "sudan", Standing: 1e6, Until: sep1.AddDays(8), Barred: []string{"cows"}}, mill}, []Herd{heifers},
			"cows mill 10 d; heifers sudan 8 d; heifers mill 2 d; "},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := shortFall(t)
			f.Herds[0].Paddock, f.To, f.Ground = c.at, sep1.AddDays(c.days-1), c.ground
			f.Herds = append(f.Herds, c.more...)
			if got := told(f.Plan()); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// Told: creek for 5 days, then hill. By itself the plan goes to the hill first.
func TestAPlanThatWasToldIsKept(t *testing.T) {
	stop := func(ground string, in, out int) Stop {
		return Stop{ground, []string{"cows"}, sep1.AddDays(in), sep1.AddDays(out)}
	}
	told5 := []Stop{stop("creek", 0, 5), stop("hill", 5, 9)}
	for _, c := range []struct {
		name   string
		at     string
		kept   []Stop
		ground []Ground
		want   string
	}{
		{"nothing was told", "", nil, []Ground{native("creek", 5, 20, 2), native("hill", 4, 20, 1)}, "cows hill 4 d; cows creek 5 d; cows hay 11 d; "},
		{"it is kept", "", told5, []Ground{native("creek", 5, 20, 2), native("hill", 4, 20, 1)}, "cows creek 5 d; cows hill 4 d; cows hay 11 d; "},
		{"where the grass is down sooner they go on sooner", "creek", told5, []Ground{native("creek", 3, 20, 2), native("hill", 4, 20, 1)}, "cows creek 3 d; cows hill 4 d; cows hay 13 d; "},
		{"where there is more of it they leave on the day that was told", "creek", told5, []Ground{native("creek", 9, 20, 2), native("hill", 9, 20, 1), {ID: "mill", Cool: true, Standing: 1e6}}, "cows creek 5 d; cows hill 9 d; cows creek 4 d; cows mill 2 d; "},
		{"even if two days of grass are lost by it", "", told5, []Ground{native("creek", 5, 20, 2), native("hill", 4, 7, 1)}, "cows creek 5 d; cows hill 2 d; cows hay 13 d; "},
		{"not if four are", "", told5, []Ground{native("creek", 5, 20, 2), native("hill", 5, 6, 1)}, "cows hill 5 d; cows creek 5 d; cows hay 10 d; "},
		{"nor where somebody took them elsewhere", "mill", told5, []Ground{native("creek", 5, 20, 2), native("hill", 4, 20, 1), {ID: "mill", Cool: true, Standing: 2 * 1352}}, "cows hill 4 d; cows creek 5 d; cows mill 2 d; cows hay 9 d; "},
		{"it is where they have to go from bare ground", "mill", told5, []Ground{native("creek", 5, 20, 2), native("hill", 4, 20, 1), {ID: "mill", Cool: true, Standing: 1}}, "cows creek 5 d; cows hill 4 d; cows hay 11 d; "},
		{"nor on ground that is no more", "", told5, []Ground{native("hill", 4, 20, 1)}, "cows hill 4 d; cows hay 16 d; "},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := shortFall(t)
			f.Herds[0].Paddock, f.To, f.Ground, f.Kept = c.at, sep1.AddDays(19), c.ground, c.kept
			if got := told(f.Plan()); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func way(t *testing.T, f Feed, w Way) Close {
	t.Helper()
	for _, c := range f.Closes {
		if c.Way == w {
			return c
		}
	}
	t.Fatalf("no way %q in %+v", w, f.Closes)
	return Close{}
}

func TestWhatCloses(t *testing.T) {
	f := shortFall(t)
	f.Ground[0].Standing = 50_000
	feed := f.Plan()
	if feed.ShortDays == 0 {
		t.Fatal("not short: the case shows nothing")
	}
	hay := way(t, feed, FeedHay)
	near(t, "hay, as fed, 79 % of it eaten, 12 % of it water", hay.HayAsFed, feed.Short/0.79/0.88, 1e-6)
	near(t, "days of hay", hay.HayDays, feed.Short/1352, 1e-9)
	if hay.On != feed.FirstShort || !hay.Enough() {
		t.Errorf("hay %+v", hay)
	}

	fewer := way(t, feed, FewerHead)
	for gone, want := range map[int]bool{fewer.Head: true, fewer.Head - 1: false} {
		g := f.clone()
		g.Herds[0].Head -= gone
		if got := g.Plan().ShortDays == 0; got != want || fewer.Herd != "cows" {
			t.Errorf("%d fewer head: closed %v", gone, got)
		}
	}

	wean := way(t, feed, WeanNow)
	if wean.On != sep1 || wean.ShortDays > feed.ShortDays || wean.Herd != "cows" {
		t.Errorf("weaning: %+v of %g lb short", wean, feed.Short)
	}

	use := way(t, feed, UseNative)
	if use.Paddock != "hill" || !use.Enough() {
		t.Errorf("the first that closes it: %+v", use)
	}
	f.Spare[0].Standing = 1000
	if use = way(t, f.Plan(), UseNative); use.Paddock != "creek" || !use.Enough() {
		t.Errorf("the hill is not enough, the creek is: %+v", use)
	}
	f.Spare = f.Spare[:1]
	if use := way(t, f.Plan(), UseNative); use.Paddock != "hill" || use.Enough() {
		t.Errorf("only the hill: %+v", use)
	}
	for i, want := range []Way{FeedHay, WeanNow, FewerHead, UseNative} {
		if feed.Closes[i].Way != want {
			t.Errorf("way %d is %q, want %q: the smallest first", i, feed.Closes[i].Way, want)
		}
	}
}

func TestNobodyIsToldToSellWhereItMayBeWrong(t *testing.T) {
	for name, unread := range map[string]bool{"ground not read": true, "more than a third": false} {
		f := shortFall(t)
		f.Ground[0].Standing = 50_000
		if f.Unread = unread; !unread {
			f.Ground[0].Standing = 10_000
		}
		for _, c := range f.Plan().Closes {
			if c.Way == FewerHead {
				t.Errorf("%s: %+v", name, c)
			}
		}
	}
}

// One cow less is enough where the last of 60 days lacks 1,120 of 1,352 lb: she eats
// 33.8 lb a day.
func TestTheFewestHead(t *testing.T) {
	f := shortFall(t)
	f.Ground[0] = Ground{ID: "lane", Standing: 80_000}
	if c := way(t, f.Plan(), FewerHead); c.Head != 1 {
		t.Errorf("%+v", c)
	}
}

func TestHayOnHandIsTakenOff(t *testing.T) {
	f := shortFall(t)
	f.Ground[0].Grows = nil
	lack := f.Plan().Short
	// 60 bales of 1,000 lb in a ring: 60,000 x 0.88 x 0.79 = 41,712 lb eaten.
	f.Hay = Hay{OnHand: 60_000, BaleLb: 1000, Fed: "ring"}
	near(t, "what 60 bales feed", f.Hay.Feeds(), 41_712, 1e-6)
	near(t, "still to get", way(t, f.Plan(), FeedHay).HayAsFed, (lack-41_712)/0.79/0.88, 1e-6)
	f.Hay.Stored = "outside"
	near(t, "a fifth rots outside", f.Hay.Feeds(), 0.8*41_712, 1e-6)
	f.Hay.OnHand = 1e6
	for _, c := range f.Plan().Closes {
		if c.Way == FeedHay {
			t.Errorf("with hay for all of it: %+v", c)
		}
	}
}

// What a 1,200-lb bale loses by how it is fed (Univ. of Illinois worked example, 30
// cows and 180 bales: cone 63.6, sheeted ring 156, open ring 246 lb); the shares are
// kept in whole hundredths.
func TestWhatABaleLoses(t *testing.T) {
	for how, want := range map[string]float64{"cone": 63.6, "sheeted": 156, "ring": 246} {
		near(t, how, 1200*(1-Feeders[how].Value), want, 6.1)
	}
}

func TestWaysThatAreNone(t *testing.T) {
	f := shortFall(t)
	f.Spare = nil
	f.Herds = []Herd{{ID: "steers", Head: 60, Kind: kind(t, "yearlings"), Paddock: "lane"}}
	for _, c := range f.Plan().Closes {
		if c.Way == WeanNow || c.Way == UseNative {
			t.Errorf("steers with no spare paddock are offered %q", c.Way)
		}
	}
}

// A farm of nothing but natives is answered in hay: every day is short from the
// first, and no sale short of the whole herd helps.
func TestNothingButNatives(t *testing.T) {
	f := Fall{From: sep1, To: oct30, Herds: []Herd{pairs(t)}, Ground: []Ground{
		{ID: "creek", Native: true, Standing: 9_000, Until: sep1},
		{ID: "hill", Native: true, Standing: 9_000, Until: sep1},
	}}
	feed := f.Plan()
	h := feed.Herds[0]
	if h.FirstShort != sep1 || h.ShortDays != 60 || h.Supply != 0 {
		t.Errorf("%+v", h)
	}
	near(t, "days of hay", way(t, feed, FeedHay).HayDays, 60, 1e-9)
	for _, c := range feed.Closes {
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
		"standing no number": {From: sep1, To: sep1, Herds: []Herd{{}}, Ground: []Ground{{ID: "lane", Standing: math.NaN(), Grows: []float64{math.Inf(1)}, Cool: true}}},
	} {
		feed := g.Plan()
		for _, h := range feed.Herds {
			if h.ShortDays != 0 || len(feed.Closes) != 0 || math.IsNaN(h.Demand+h.Supply) {
				t.Errorf("%s: %+v", name, h)
			}
		}
		short := 0.0
		for _, h := range feed.Herds {
			short += h.Short
		}
		if left := feed.left(); short != 0 || math.IsNaN(left) {
			t.Errorf("%s: short %g, left %g", name, short, left)
		}
	}
	if n := len((Fall{From: sep1, To: sep1.AddDays(100_000), Herds: f.Herds}).Plan().Herds[0].Days); n != MostDaysAhead {
		t.Errorf("a plan of 100,000 days has %d", n)
	}
}

// Three days of 1,352 lb stand there, and hay for a day and a half lies in the barn:
// on the fifth day it runs out.
func TestHowLongItLasts(t *testing.T) {
	f := shortFall(t)
	f.Ground[0] = Ground{ID: "lane", Standing: 3 * 1352}
	feed := f.Plan()
	for more, want := range map[float64]civil.Date{0: sep1.AddDays(3), 1.5 * 1352: sep1.AddDays(4), 1e6: {}} {
		if got := feed.Lasts(more); got != want {
			t.Errorf("with %.0f lb more to %s, want %s", more, got, want)
		}
	}
}

// Nothing is eaten twice and nothing is lost: what the herds got, and what is
// left, is what stood there and what grew.
func TestFeedAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fall{From: sep1, To: sep1.AddDays(rapid.IntRange(0, 80).Draw(t, "days"))}
		pair, _ := Kinds.Find("cow with calf")
		for i := range rapid.IntRange(0, 3).Draw(t, "herds") {
			f.Herds = append(f.Herds, Herd{ID: string(rune('h' + i)), Head: rapid.IntRange(0, 60).Draw(t, "head"), Kind: pair, Calving: time.March,
				Paddock: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "at")})
		}
		stood := 0.0
		for i := range rapid.IntRange(0, 4).Draw(t, "ground") {
			g := Ground{ID: string(rune('a' + i)), Standing: rapid.Float64Range(0, 40_000).Draw(t, "standing")}
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
		if left := feed.left(); math.Abs(ate+left-stood) > 1e-5 {
			t.Fatalf("ate %g, left %g, stood %g", ate, left, stood)
		}
	})
}
