package season

import (
	"testing"

	"stubbled/scheduler/diary"
)

// TestAVerdictFromTheDiary: creek is 20 acres of gamagrass of average stand on a
// farm of three paddocks. 125 lb stand on an acre-inch and half of the offered
// layer is eaten, so an inch is 20 x 125 x 0.5 = 1,250 lb, and 38 cows of 1,300
// lb take 1,284.4 lb a day.
func TestAVerdictFromTheDiary(t *testing.T) {
	for _, tc := range []struct {
		name   string
		write  func(*play)
		today  string
		say    Say
		action Action
		reason Reason
		days   float64 // -1: none told
		outBy  string
	}{
		// On Aug 22, 55 days before frost, a day still counts whole: the grass grows
		// 10 / 23 = 0.4348 in a day, half of it credited to animals that stand on it:
		// (11 - 8) x 1250 / (1284.4 - 0.5 x 0.4348 x 1250) = 3750 / 1012.7 = 3.70
		// days, so they are out on the third.
		{"cows in, three inches to go", func(p *play) {
			p.moves("2026-08-18", diary.On, "creek", "cows")
			p.reads("2026-08-22", "creek", plants(20, 11)...)
		}, "2026-08-22", Go, Stay, GrazedEnough, 3.70, "2026-08-25"},
		// Two days to the cutoff beat the 3.70 days of grass.
		{"never past the cutoff", func(p *play) {
			p.moves("2026-08-28", diary.On, "creek", "cows")
			p.reads("2026-08-30", "creek", plants(20, 11)...)
		}, "2026-08-30", Go, Stay, GrazedEnough, 2, "2026-09-01"},
		{"a reading of before a week's grazing is not gone by in an empty paddock", func(p *play) {
			p.reads("2026-08-10", "creek", plants(20, 15)...)
			p.moves("2026-08-11", diary.On, "creek", "cows")
			p.moves("2026-08-18", diary.Off, "creek", "cows")
		}, "2026-08-19", Wait, ReadIt, OldReading, -1, ""},
		{"four days of grazing are still borne", func(p *play) {
			p.reads("2026-08-10", "creek", plants(20, 15)...)
			p.moves("2026-08-11", diary.On, "creek", "cows")
			p.moves("2026-08-15", diary.Off, "creek", "cows")
		}, "2026-08-19", Go, TurnIn, ReadyToGraze, -2, ""},
		{"a dormant paddock that made its height is grazed to the growing point", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 18)...)
			p.reads("2026-12-10", "creek", plants(20, 8)...)
		}, "2026-12-10", Go, TurnIn, DormantGrass, 2 * 1250 / 1284.4, "2026-12-11"},
		{"one that fell short keeps its cover", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-11-05", "creek", plants(20, 16)...)
			p.reads("2026-12-10", "creek", plants(20, 8)...)
		}, "2026-12-10", Wait, KeepShut, LeaveCover, -1, ""},
		{"an end that was never read keeps it too", func(p *play) {
			p.freeze("2026-11-03", 27)
			p.reads("2026-12-10", "creek", plants(20, 8)...)
		}, "2026-12-10", Wait, KeepShut, LeaveCover, -1, ""},
		{"ground that is no native is grazed to its residual, 4 in of fescue", func(p *play) {
			p.paddock("lane").Hazards = nil
			p.paddock("lane").ID = "creek" // 30 acres of 225 lb: 3,375 lb an inch
			p.farm.Paddocks = p.farm.Paddocks[1:]
			p.moves("2026-06-01", diary.On, "creek", "cows")
			p.reads("2026-06-02", "creek", plants(20, 5)...)
			// two paddocks now: 35 % eaten, 30 x 225 x 0.35 = 2,362.5 lb for the inch
		}, "2026-06-02", Go, Stay, GrazedEnough, 2362.5 / 1284.4, "2026-06-03"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v := p.view(tc.today, "creek").Verdict
			if v.Say != tc.say || v.Action != tc.action || v.Reason != tc.reason {
				t.Fatalf("%s %s (%s), want %s %s (%s)", v.Say, v.Action, v.Reason, tc.say, tc.action, tc.reason)
			}
			switch {
			case tc.days == -1 && v.Days != nil:
				t.Errorf("%.2f days told", *v.Days)
			case tc.days >= 0 && v.Days == nil:
				t.Error("no days told")
			case tc.days >= 0:
				near(t, "days", *v.Days, tc.days, 0.02)
			}
			if tc.outBy != "" && v.OutBy != day(tc.outBy) {
				t.Errorf("out by %s, want %s", v.OutBy, tc.outBy)
			}
		})
	}
}

// TestFallUse: creek is used on purpose in 2026, 18 in wanted on Oct 16. On Sep
// 21, 25 days before, the taper leaves (25 + 24 + ... + 1) / 45 = 7.22 days of
// full growth, 7.22 x 10 / 23 = 3.14 in.
func TestFallUse(t *testing.T) {
	use := func(acres float64, heights ...float64) *play {
		p := newPlay(t)
		p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek", Acres: acres}}
		p.moves("2026-09-15", diary.On, "creek", "cows")
		p.reads("2026-09-21", "creek", heights...)
		return p
	}
	t.Run("what will be above the height at frost may be eaten", func(t *testing.T) {
		// 18 + 3.14 - 18 = 3.14 in to spare. A day now is 25/45 of full growth,
		// 0.2415 in: 3.14 x 1250 / (1284.4 - 0.5 x 0.2415 x 1250) = 3.46 days.
		v := use(0, plants(20, 18)...).view("2026-09-21", "creek")
		if v.Verdict.Reason != UseGrass || v.Verdict.Action != Stay {
			t.Fatalf("%s (%s)", v.Verdict.Action, v.Verdict.Reason)
		}
		near(t, "days", *v.Verdict.Days, 3.46, 0.02)
		if v.RunsOut != day("2026-09-24") {
			t.Errorf("runs out on %s, want Sep 24", v.RunsOut)
		}
	})
	t.Run("and once it is eaten they come off, by verdict and ladder alike", func(t *testing.T) {
		p := use(0, plants(20, 18)...)
		for d := day("2026-09-21"); d.Before(day("2026-09-26")); d = d.AddDays(1) {
			v := p.view(d.String(), "creek")
			if off := !v.RunsOut.After(d); off != (v.Verdict.Action == TakeOff) || off != !d.Before(day("2026-09-24")) {
				t.Errorf("%s: %s (%s), runs out on %s", d, v.Verdict.Action, v.Verdict.Reason, v.RunsOut)
			}
		}
		if v := p.view("2026-09-24", "creek"); v.Verdict.Reason != UseEaten || v.Verdict.Lacks != 0 {
			t.Errorf("%+v", v.Verdict)
		}
	})
	t.Run("under a day of it goes today and is out tomorrow", func(t *testing.T) {
		p := use(0, plants(20, 15.3)...)
		if v := p.view("2026-09-21", "creek"); v.Verdict.Say != Go || *v.Verdict.Days >= 1 || v.RunsOut != day("2026-09-22") {
			t.Errorf("%+v, runs out on %s", v.Verdict, v.RunsOut)
		}
	})
	t.Run("of part of it only that part", func(t *testing.T) {
		// 8 of 20 acres: 500 lb an inch, 3.14 x 500 / (1284.4 - 60.4) = 1.28 days.
		v := use(8, plants(20, 18)...).view("2026-09-21", "creek")
		near(t, "days", *v.Verdict.Days, 1.28, 0.02)
	})
	t.Run("under it they come off", func(t *testing.T) {
		v := use(0, plants(20, 14)...).view("2026-09-21", "creek")
		if v.Verdict.Reason != UseLacks || v.Verdict.Action != TakeOff {
			t.Fatalf("%s (%s)", v.Verdict.Action, v.Verdict.Reason)
		}
		near(t, "lacks", v.Verdict.Lacks, 18-14-3.14, 0.02)
		if v.RunsOut != day("2026-09-21") {
			t.Errorf("runs out on %s, want the day it was read", v.RunsOut)
		}
	})
	t.Run("a drought promises no growth", func(t *testing.T) {
		p := use(0, plants(20, 17)...)
		if v := p.view("2026-09-21", "creek"); v.Verdict.Say != Go {
			t.Fatalf("17 in and 3 in to come: %s", v.Verdict.Say)
		}
		p.tells("2026-09-21", diary.Dry, "creek")
		if v := p.view("2026-09-21", "creek"); v.Verdict.Reason != UseLacks {
			t.Errorf("%s (%s): a drought was called, and the growth is still counted on", v.Verdict.Say, v.Verdict.Reason)
		}
	})
	t.Run("nor does a fall whose frost has come", func(t *testing.T) {
		p := use(0, plants(20, 17)...)
		p.tells("2026-09-22", diary.Frost, "")
		if v := p.view("2026-09-23", "creek"); v.Verdict.Reason != UseLacks {
			t.Errorf("%s (%s): growth ended with the frost of the day before", v.Verdict.Say, v.Verdict.Reason)
		}
	})
	t.Run("and what is left then is eaten without regrowth", func(t *testing.T) {
		p := use(0, plants(20, 20)...)
		p.tells("2026-09-22", diary.Frost, "")
		if v := p.view("2026-09-23", "creek"); v.Verdict.Reason != UseEaten {
			t.Errorf("%s (%s): 2 in are eaten in two days", v.Verdict.Say, v.Verdict.Reason)
		}
		p.reads("2026-09-23", "creek", plants(20, 20)...)
		near(t, "days", *p.view("2026-09-23", "creek").Verdict.Days, 2*1250/1284.4, 0.01)
	})
	t.Run("the day that it runs out does not move as the days go by", func(t *testing.T) {
		p := use(0, plants(20, 18)...)
		for _, today := range []string{"2026-09-22", "2026-09-24", "2026-10-10", "2026-10-20"} {
			if got := p.view(today, "creek").RunsOut; got != day("2026-09-24") {
				t.Errorf("on %s it runs out on %s, and by its reading that was Sep 24", today, got)
			}
		}
	})
	t.Run("a reading of before the cutoff says nothing of it", func(t *testing.T) {
		p := newPlay(t)
		p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek"}}
		p.reads("2026-08-20", "creek", plants(20, 12)...)
		if got := p.view("2026-09-05", "creek").RunsOut; !got.IsZero() {
			t.Errorf("runs out on %s", got)
		}
	})
	t.Run("before the cutoff that is no day to be out", func(t *testing.T) {
		p := newPlay(t)
		p.moves("2026-08-28", diary.On, "creek", "cows")
		p.reads("2026-08-30", "creek", plants(20, 12)...)
		if v := p.view("2026-08-30", "creek"); v.Verdict.OutBy != day("2026-09-01") {
			t.Fatalf("an ordinary paddock is out by %s", v.Verdict.OutBy)
		}
		p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek"}}
		if v := p.view("2026-08-30", "creek"); v.Verdict.Say != Go || v.Verdict.OutBy != day("2026-09-03") {
			t.Errorf("%s, out by %s; 4.9 days of grass end on Sep 3, and it is grazed on through its rest", v.Verdict.Say, v.Verdict.OutBy)
		}
	})
	t.Run("last fall's use is over", func(t *testing.T) {
		p := use(0, plants(20, 18)...)
		p.farm.FallUse[0].Year = 2025
		if v := p.view("2026-09-21", "creek"); v.FallUse || v.Verdict.Reason != InRest {
			t.Errorf("used %v, %s", v.FallUse, v.Verdict.Reason)
		}
	})
}

func TestWhatIsAlwaysSaidOfTheSample(t *testing.T) {
	for _, tc := range []struct {
		name      string
		heights   []float64
		todayOnly bool
		more      int
		patchy    bool
	}{
		{"a single plant has no interval: today only", []float64{20}, true, 9, false},
		// 14 8 6 8: mean 9, sd 3.46, 95 % interval 9 -+ 5.5 straddles 8.
		{"four plants about the height to leave settle nothing", []float64{14, 8, 6, 8}, true, 20, false},
		{"four plants far above it do", []float64{20, 21, 19, 20}, false, 0, false},
		{"ten plants hold for more than today", plants(10, 8.1), false, 0, false},
		{"more than a quarter under the growing point is patchy", []float64{5, 5, 14, 14, 14, 14, 14}, true, 20, true},
		{"a quarter is not", []float64{5, 14, 14, 14}, true, 20, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.reads("2026-08-22", "creek", tc.heights...)
			v := p.view("2026-08-22", "creek").Verdict
			if v.TodayOnly != tc.todayOnly || v.Patchy != tc.patchy || tc.more < 20 && v.ReadMore != tc.more || tc.more == 20 && !(v.ReadMore >= 1 && v.ReadMore <= 20) {
				t.Errorf("today only %v, read %d more, patchy %v", v.TodayOnly, v.ReadMore, v.Patchy)
			}
		})
	}
}
