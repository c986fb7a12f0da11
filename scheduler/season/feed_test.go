package season

import (
	"slices"
	"testing"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// feedFarm is the farm with a clean lane: 30 acres of fescue of average stand,
// 225 lb an acre-inch, half of the layer above 4 in eaten on three paddocks:
// 3,375 lb an inch. Both natives shut on Sep 1, and the killing freeze is
// looked for 11 days after Oct 16.
func feedFarm(t *testing.T) *play {
	p := newPlay(t)
	p.paddock("lane").Hazards = nil
	return p
}

func (p *play) feed(today string) FeedPlan {
	p.t.Helper()
	plan, ok := Feed(p.sight(today))
	if !ok {
		p.t.Fatal("nothing to plan")
	}
	return plan
}

// grounds are where a herd eats on a day of a plan.
func grounds(plan FeedPlan, herd, on string) []string {
	var out []string
	for _, h := range plan.Feed.Herds {
		for _, d := range h.Days {
			if h.ID == herd && d.Date == day(on) {
				for _, b := range d.Bites {
					out = append(out, b.Ground)
				}
			}
		}
	}
	return out
}

// TestTheFeedByHand: 9 in of fescue on Aug 25 are 5 x 3,375 = 16,875 lb. Animals get
// half of what it grows, 30 x 12 / 2 = 180 lb a day until Sep 14 and 450 lb from then
// on: on Sep 1 there are 18,135 lb. A day takes 1,284.4. Fourteen days leave
// 18135 - 14 x 1104.4 = 2673.4, Sep 15 and 16 leave 1839 and 1004.6; on Sep 17 they
// are short, and from then on find 450 lb a day until Oct 27.
func TestTheFeedByHand(t *testing.T) {
	p := feedFarm(t)
	p.reads("2026-08-25", "lane", plants(20, 9)...)
	plan := p.feed("2026-09-01")
	if plan.From != day("2026-09-01") || plan.To != day("2026-10-27") || plan.Year != 2026 || len(plan.Guessed) != 0 {
		t.Fatalf("plan %s to %s of %d, guessed %v", plan.From, plan.To, plan.Year, plan.Guessed)
	}
	cows := plan.Feed.Herds[0]
	if cows.FirstShort != day("2026-09-17") || cows.ShortDays != 41 {
		t.Errorf("first short on %s, %d days; want Sep 17 and 41", cows.FirstShort, cows.ShortDays)
	}
	near(t, "demand of 57 days", cows.Demand, 57*1284.4, 0.01)
	near(t, "supply", cows.Supply, 16*1284.4+1004.6+40*450, 0.01)
	near(t, "stockpile given up: all of it is fescue after Aug 1", cows.Stockpile, cows.Supply, 0.01)
	var ways []herd.Way
	for _, c := range plan.Feed.Closes {
		ways = append(ways, c.Way)
	}
	// 30 of 60 acres are native: a third of them, 10 acres, may be used. The hill
	// has just that. There is no calf to wean, and a third of the cows is too few.
	if !slices.Equal(ways, []herd.Way{herd.FeedHay, herd.UseNative}) {
		t.Errorf("closed by %v; want hay and a native paddock", ways)
	}
}

func TestWhatTheFeedPlanRestsOn(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(*play)
		today string
		check func(*testing.T, FeedPlan)
	}{
		{"an unread paddock is taken at the height to begin grazing, and named", func(*play) {}, "2026-09-01", func(t *testing.T, plan FeedPlan) {
			if !slices.Equal(plan.Guessed, []string{"Lane"}) {
				t.Errorf("guessed %v, want Lane alone: creek and hill are shut", plan.Guessed)
			}
			// 8 in: 4 x 3375 = 13500; twelve days leave 13500 - 12 x 1104.4 = 247.2.
			if got := plan.Feed.Herds[0].FirstShort; got != day("2026-09-13") {
				t.Errorf("first short on %s, want Sep 13", got)
			}
		}},
		{"a reading of spring says nothing of September", func(p *play) { p.reads("2026-05-01", "lane", plants(20, 20)...) }, "2026-08-25", func(t *testing.T, plan FeedPlan) {
			if !slices.Contains(plan.Guessed, "Lane") {
				t.Error("the 20 in of May are taken for September's")
			}
		}},
		{"ground that may turn poisonous is out from the first cold night", func(p *play) {
			p.paddock("lane").Hazards = []grass.Hazard{hazard(p.t, "johnsongrass")}
			p.reads("2026-08-25", "lane", plants(20, 24)...)
		}, "2026-08-25", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "cows", "2026-10-05"); !slices.Contains(got, "lane") {
				t.Errorf("Oct 5 on %v", got)
			}
			if got := grounds(plan, "cows", "2026-10-06"); len(got) != 0 {
				t.Errorf("Oct 6 on %v: 36 F is looked for on that day, ten before 32 F", got)
			}
		}},
		{"ground on hold is no feed", func(p *play) {
			p.paddock("lane").Hazards = []grass.Hazard{hazard(p.t, "johnsongrass")}
			p.reads("2026-09-20", "lane", plants(20, 24)...)
			p.freeze("2026-09-22", 35)
		}, "2026-09-24", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "cows", "2026-09-24"); len(got) != 0 {
				t.Errorf("the herd is sent to %v two days after a frost on johnsongrass", got)
			}
		}},
		{"ground that is given back is out from that day", func(p *play) {
			p.paddock("lane").OutBy = MonthDay{9, 20}
			p.reads("2026-08-25", "lane", plants(20, 24)...)
		}, "2026-08-25", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "cows", "2026-09-19"); !slices.Contains(got, "lane") {
				t.Errorf("Sep 19 on %v", got)
			}
			if got := grounds(plan, "cows", "2026-09-20"); len(got) != 0 {
				t.Errorf("Sep 20 on %v, the day it is given back", got)
			}
		}},
		{"a native that shuts later is eaten first", func(p *play) {
			p.paddock("hill").Rule.RestDays = 30 // Sep 16
			p.reads("2026-08-25", "hill", plants(20, 14)...)
			p.reads("2026-08-25", "lane", plants(20, 9)...)
		}, "2026-08-25", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "cows", "2026-09-01"); !slices.Equal(got, []string{"hill"}) {
				t.Errorf("Sep 1 on %v, want the hill: it shuts on Sep 16 and its grass is lost", got)
			}
		}},
		// 14 in on Sep 1 grow 10 in to frost: down to 8 it still makes 18. 6 x 1,250
		// = 7,500 lb are 5.8 days.
		{"a paddock used on purpose feeds them down to what still makes its height", func(p *play) {
			p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek"}}
			p.reads("2026-08-25", "creek", plants(20, 14)...)
			p.reads("2026-08-25", "lane", plants(20, 9)...)
			p.moves("2026-08-24", diary.On, "creek", "cows")
		}, "2026-08-25", func(t *testing.T, plan FeedPlan) {
			near(t, "eaten of the creek", eatenOf(plan, "creek"), 7500, 5)
		}},
		{"of part of it that part", func(p *play) {
			p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek", Acres: 8}}
			p.reads("2026-08-25", "creek", plants(20, 14)...)
		}, "2026-08-25", func(t *testing.T, plan FeedPlan) { near(t, "eaten of the creek", eatenOf(plan, "creek"), 3000, 5) }},
		{"in summer it begins 60 days before the first cutoff; a paddock used on purpose shuts nobody out", func(p *play) {
			p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek"}}
			p.paddock("hill").Rule.RestDays = 30
		}, "2026-06-25", func(t *testing.T, plan FeedPlan) {
			if plan.From != day("2026-07-18") {
				t.Errorf("from %s, want 60 days before the hill's cutoff on Sep 16", plan.From)
			}
		}},
		{"in mid-rest it begins today", func(p *play) { p.reads("2026-09-20", "lane", plants(20, 9)...) }, "2026-09-20", func(t *testing.T, plan FeedPlan) {
			if plan.From != day("2026-09-20") || plan.To != day("2026-10-27") {
				t.Errorf("%s to %s", plan.From, plan.To)
			}
		}},
		{"past the usual end it goes on to tomorrow, and not back to the cutoff", func(*play) {}, "2026-11-10", func(t *testing.T, plan FeedPlan) {
			if plan.From != day("2026-11-10") || plan.To != day("2026-11-11") {
				t.Errorf("%s to %s", plan.From, plan.To)
			}
		}},
		{"once rest is over it is next fall's", func(p *play) { p.freeze("2026-11-03", 27) }, "2026-11-10", func(t *testing.T, plan FeedPlan) {
			if plan.From != day("2027-07-03") || plan.To != day("2027-10-27") || plan.Year != 2027 {
				t.Errorf("%s to %s of %d", plan.From, plan.To, plan.Year)
			}
		}},
		{"one paddock brown before the other keeps the plan in this fall", func(p *play) {
			p.freeze("2026-10-08", 31)
			p.tells("2026-10-10", diary.Brown, "creek")
			p.reads("2026-10-12", "creek", plants(20, 16)...)
		}, "2026-10-12", func(t *testing.T, plan FeedPlan) {
			if plan.Year != 2026 || plan.To != day("2026-10-27") {
				t.Errorf("to %s of %d", plan.To, plan.Year)
			}
			// It fell short, so 8 in of cover stay: 8 x 1,250 lb.
			near(t, "eaten of the dormant creek", eatenOf(plan, "creek"), 10000, 5)
		}},
		{"a lease that ended last November feeds next fall all the same", func(p *play) {
			p.paddock("lane").OutBy = MonthDay{11, 15}
			p.freeze("2026-11-03", 27)
		}, "2027-02-10", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "cows", "2027-09-01"); !slices.Contains(got, "lane") {
				t.Errorf("Sep 1 on %v", got)
			}
		}},
		{"each herd starts where the diary has it, not where the farm file had it", func(p *play) {
			p.farm.Herds = []herd.Herd{cows("cows", "lane"), cows("bulls", "lane")}
			meadow := *p.paddock("lane")
			meadow.ID, meadow.Name = "meadow", "Meadow"
			p.farm.Paddocks = append(p.farm.Paddocks, meadow)
			p.moves("2026-08-20", diary.On, "meadow", "bulls")
		}, "2026-09-01", func(t *testing.T, plan FeedPlan) {
			if got := grounds(plan, "bulls", "2026-09-01"); !slices.Equal(got, []string{"meadow"}) {
				t.Errorf("the bulls are on %v, and the diary has them on the meadow", got)
			}
		}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := feedFarm(t)
			tc.write(p)
			tc.check(t, p.feed(tc.today))
		})
	}
	t.Run("a farm with nothing but natives is answered in hay", func(t *testing.T) {
		p := feedFarm(t)
		p.farm.Paddocks = p.farm.Paddocks[:2]
		plan := p.feed("2026-09-01")
		if c := plan.Feed.Closes; len(c) == 0 || c[0].Way != herd.FeedHay || c[0].HayAsFed <= 0 {
			t.Errorf("closes %+v", c)
		}
	})
	t.Run("without a herd, or without a native, there is nothing to plan", func(t *testing.T) {
		p := feedFarm(t)
		p.farm.Herds = nil
		if _, ok := Feed(p.sight("2026-08-25")); ok {
			t.Error("planned without a herd")
		}
		p = feedFarm(t)
		p.farm.Paddocks = p.farm.Paddocks[2:]
		if _, ok := Feed(p.sight("2026-08-25")); ok {
			t.Error("planned without a native")
		}
	})
}

// The lane is 30 acres of fescue: 14 to 24 days of grass hang on its height.
func TestWhatNobodyReadIsARange(t *testing.T) {
	p := feedFarm(t)
	meadow := *p.paddock("lane")
	meadow.ID, meadow.Name, meadow.Acres = "meadow", "Meadow", 5
	p.farm.Paddocks = append(p.farm.Paddocks, meadow)
	plan := p.feed("2026-09-01")
	low, middle, high := plan.ShortDays()
	if !(low < middle && middle < high) || plan.Settle != "Lane" {
		t.Errorf("short %d, %d, %d days, settled by %q", low, middle, high, plan.Settle)
	}
	p.reads("2026-08-25", "lane", plants(20, 8)...)
	if lo, mid, hi := p.feed("2026-09-01").ShortDays(); hi-lo >= high-low || lo > mid || mid > hi {
		t.Errorf("with the lane read %d, %d, %d days, and %d to %d before", lo, mid, hi, low, high)
	}
	p.reads("2026-08-25", "meadow", plants(20, 8)...)
	plan = p.feed("2026-09-01")
	if lo, mid, hi := plan.ShortDays(); lo != mid || mid != hi || plan.Settle != "" {
		t.Errorf("all is read: %d, %d, %d days, settled by %q", lo, mid, hi, plan.Settle)
	}
}

func TestNobodyIsToldToSellBeforeAllIsRead(t *testing.T) {
	sells := func(p *play) bool {
		return slices.ContainsFunc(p.feed("2026-09-01").Feed.Closes, func(c herd.Close) bool { return c.Way == herd.FewerHead })
	}
	p := feedFarm(t)
	p.reads("2026-08-20", "lane", plants(20, 15)...)
	if !sells(p) {
		t.Error("all that matters is read, a few head are too many, and nobody says so")
	}
	meadow := *p.paddock("lane")
	meadow.ID, meadow.Name, meadow.Acres = "meadow", "Meadow", 1
	p.farm.Paddocks, p.cache = append(p.farm.Paddocks, meadow), &Cache{}
	if sells(p) {
		t.Error("the meadow was not read")
	}
}

func TestADroughtGrowsNothingAndSavesNothing(t *testing.T) {
	p := feedFarm(t)
	p.reads("2026-08-25", "lane", plants(20, 9)...)
	before := p.feed("2026-09-01").Feed
	p.tells("2026-08-30", diary.Dry, "")
	after := p.feed("2026-09-01").Feed
	if after.Demand != before.Demand || after.Supply >= before.Supply {
		t.Errorf("dry: wants %.0f of %.0f, finds %.0f of %.0f", after.Demand, before.Demand, after.Supply, before.Supply)
	}
	near(t, "what stood there when it was read", after.Supply, 16875, 0.01)
}

func TestHorsesAreNeverSentToSorghumKin(t *testing.T) {
	p := feedFarm(t)
	p.paddock("lane").Hazards = []grass.Hazard{hazard(t, "johnsongrass")}
	horse, _ := herd.Kinds.Find("horse")
	p.farm.Herds = []herd.Herd{{ID: "horses", Head: 20, Kind: horse}, cows("cows", "")}
	p.reads("2026-08-25", "lane", plants(20, 24)...)
	plan := p.feed("2026-09-01")
	if got := grounds(plan, "horses", "2026-09-01"); len(got) > 0 {
		t.Errorf("horses on %v", got)
	}
	if got := grounds(plan, "cows", "2026-09-01"); !slices.Equal(got, []string{"lane"}) {
		t.Errorf("cows on %v: GO still", got)
	}
}

// By hand: 20 acres of gamagrass and 10 more grow from 8 to 18 in, and keep 6: 12 in of
// 20 x 62.5 and 10 x 62.5 lb, less a quarter, are 16,875 lb, 13 days of 1,284.4. The
// fall eats all the fescue but for what it grows in November, 8 x 30 x 0.5 = 120 lb a
// day, and leaves none of 20 bales.
func TestHowLongTheWinterFeedLasts(t *testing.T) {
	p := feedFarm(t)
	p.reads("2026-08-25", "lane", plants(20, 9)...)
	plan := p.feed("2026-09-01")
	if plan.Winter.GreenUp != day("2027-04-01") || plan.Winter.RunsOut.Before(day("2026-11-10")) || plan.Winter.RunsOut.After(day("2026-11-14")) {
		t.Errorf("runs out on %s, greens up on %s", plan.Winter.RunsOut, plan.Winter.GreenUp)
	}
	p.farm.Hay, p.cache = herd.Hay{OnHand: 20 * 1000, BaleLb: 1000}, &Cache{}
	if got := p.feed("2026-09-01").Winter.RunsOut; got != plan.Winter.RunsOut {
		t.Errorf("20 bales are eaten by then, and it runs out on %s", got)
	}
	p.farm.Hay, p.cache = herd.Hay{OnHand: 1e6, BaleLb: 1000}, &Cache{}
	if got := p.feed("2026-09-01").Winter.RunsOut; !got.IsZero() {
		t.Errorf("1,000 bales run out on %s", got)
	}
}

// Where the rest is over the ledger is of today: what stands, read since it is dormant
// and not grazed, however long ago; days of each part, one after the other.
func TestTheWinterLedgerIsOfWhatStandsAndLies(t *testing.T) {
	p := feedFarm(t)
	p.freeze("2026-10-28", 20)
	p.reads("2026-11-01", "creek", plants(20, 18)...)
	p.farm.Hay = herd.Hay{OnHand: 20 * 1000, BaleLb: 1000, Fed: "cone"}
	w := p.feed("2027-01-10").Winter
	if w.From != day("2027-01-10") || w.Native < 1 || w.Stockpile < 1 || !slices.Equal(w.Unread, []string{"Hill"}) || !slices.Equal(w.Guessed, []string{"Lane"}) {
		t.Fatalf("%+v", w)
	}
	if sum := w.Stockpile + w.Native + w.Hay; w.RunsOut != w.From.AddDays(sum) {
		t.Errorf("%d + %d + %d days from %s, and it runs out on %s", w.Stockpile, w.Native, w.Hay, w.From, w.RunsOut)
	}
	before := w.Hay
	p.farm.Hay.OnHand, p.cache = 40*1000, &Cache{}
	if w = p.feed("2027-01-10").Winter; w.Hay < 2*before-1 || w.Hay > 2*before+1 {
		t.Errorf("twice the hay is %d days, once %d", w.Hay, before)
	}
	p.moves("2027-01-02", diary.On, "creek", "cows")
	if w = p.feed("2027-01-10").Winter; w.Native != 0 || !slices.Contains(w.Unread, "Creek Bottom") && !slices.Contains(w.Unread, "Creek") {
		t.Errorf("grazed for eight days and not read since: %+v", w)
	}
}

func eatenOf(plan FeedPlan, ground string) float64 {
	var lb float64
	for _, h := range plan.Feed.Herds {
		for _, d := range h.Days {
			for _, b := range d.Bites {
				if b.Ground == ground {
					lb += b.Lb
				}
			}
		}
	}
	return lb
}

// offered is the native paddock that a plan says to use on purpose.
func offered(plan FeedPlan) string {
	for _, c := range plan.Feed.Closes {
		if c.Way == herd.UseNative {
			return c.Paddock
		}
	}
	return ""
}

// Ten native acres may be used: the hill whole, or a part of the creek behind a
// temporary fence.
func TestNoPaddockIsOfferedTwoFallsRunning(t *testing.T) {
	for _, tc := range []struct {
		name  string
		uses  []FallUse
		today string
		want  string
	}{
		{"never used: the hill, which is all that is allowed", nil, "2026-08-25", "hill"},
		{"in mid-rest still", nil, "2026-09-05", "hill"},
		{"used last fall: not the hill", []FallUse{{Year: 2025, Paddock: "hill"}}, "2026-08-25", "creek"},
		{"nor in mid-rest, when the next fall to plan a rule for is another", []FallUse{{Year: 2025, Paddock: "hill"}}, "2026-09-05", "creek"},
		{"used two falls ago: again", []FallUse{{Year: 2024, Paddock: "hill"}}, "2026-08-25", "hill"},
		{"already chosen for next fall: not this one", []FallUse{{Year: 2027, Paddock: "hill"}}, "2026-08-25", "creek"},
		{"already used this fall: it is all that is allowed", []FallUse{{Year: 2026, Paddock: "hill"}}, "2026-08-25", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := feedFarm(t)
			p.farm.FallUse = tc.uses
			p.reads("2026-08-25", "hill", plants(20, 16)...)
			if got := offered(p.feed(tc.today)); got != tc.want {
				t.Errorf("offered %q, want %q", got, tc.want)
			}
		})
	}
}

// 40 of 70 acres are native, a third of them may be used: 13.3 acres. The hill's
// 10 are already, and the glen's 10 would be too many.
func TestWhatIsUsedAlreadyCountsAgainstWhatIsAllowed(t *testing.T) {
	p := feedFarm(t)
	glen := *p.paddock("hill")
	glen.ID, glen.Name = "glen", "Glen"
	p.farm.Paddocks = append(p.farm.Paddocks, glen)
	p.reads("2026-08-25", "glen", plants(20, 16)...)
	if got := offered(p.feed("2026-08-25")); got != "glen" {
		t.Fatalf("offered %q, want the glen", got)
	}
	p.farm.FallUse, p.cache = []FallUse{{Year: 2026, Paddock: "hill", Acres: 2}}, &Cache{}
	if got := offered(p.feed("2026-08-25")); got != "" {
		t.Errorf("offered %q beside the hill, all of which counts as used", got)
	}
}

func TestFallUseIsRankedForTheComingFall(t *testing.T) {
	p := newPlay(t)
	p.paddock("creek").Acres = 8
	p.farm.FallUse = []FallUse{{Year: 2024, Paddock: "creek"}, {Year: 2025, Paddock: "hill"}}
	offers := Uses(p.sight("2026-07-01"))
	// 18 of 48 acres, 37.5 %: a third x 17.5 / 30 of 18 = 3.5 acres. Neither fits;
	// the creek, the smaller that was not used last fall, is within half of 18.
	if len(offers) != 2 || offers[0].ID != "creek" || offers[0].Fit != herd.Lone || offers[0].Since != 2 || offers[1].Fit != herd.LastOne {
		t.Errorf("%+v", offers)
	}
	near(t, "chance of the creek under its rule", offers[0].Chance, 0.5, 0.002)
	// After the cutoff it is next fall that is chosen for.
	if offers = Uses(p.sight("2026-09-05")); offers[1].Since != 2 && offers[0].Since != 2 {
		t.Errorf("for 2027: %+v", offers)
	}
}
