package spring

import (
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
)

// read is a spring of readings: days after the year's turn by heights.
func read(year int, failed bool, heights ...[2]float64) season.Spring {
	turn := civil.Date{Year: year, Month: 4, Day: 1}
	s := season.Spring{Year: year, Turn: turn, Before: &season.Finished{Year: year - 1, RealRest: 45}}
	if failed {
		s.Before.Failed, s.Before.RealRest = "rested 12 days, under 30", 12
	}
	for _, h := range heights {
		s.Read = append(s.Read, season.Visit{Day: turn.AddDays(int(h[0])), Sample: grass.Sample{Mean: h[1]}})
	}
	return s
}

// inSpring is a paddock of gamagrass in April, read at a height today where it is above 0.
func inSpring(today civil.Date, height float64, changes ...func(*season.View)) *season.View {
	v := gama(today, height, changes...)
	v.Year, v.Dates.Turn = 2026, day(4, 1)
	return v
}

// Eastern gamagrass grows fast from mid-April, the bluestems from early in May (Univ.
// of Tennessee SP731-C); big bluestem is grazed from mid to late May (Agron. J. 95:1240).
func TestBeforeAnySpringOfItsOwnAPaddockIsExpectedByPublishedDates(t *testing.T) {
	for _, tc := range []struct {
		grass       string
		from, until civil.Date
	}{
		{"eastern gamagrass", day(4, 25), day(5, 10)}, {"switchgrass", day(5, 5), day(5, 20)}, {"big bluestem", day(5, 15), day(5, 31)},
	} {
		sp, _ := grass.Grasses.Find(tc.grass)
		v := inSpring(day(4, 6), 0)
		v.Paddock.Grass = sp
		x := Turn(v, []season.Spring{read(2026, false)})
		if x == nil || x.About.Before(tc.from) || x.About.After(tc.until) || !x.Early.Before(x.About) || !x.Late.After(x.About) || x.Springs != 0 || !x.Rested {
			t.Errorf("%s: %+v", tc.grass, x)
		}
	}
}

func TestItsOwnSpringsCountBeforePublishedDates(t *testing.T) {
	past := []season.Spring{
		read(2023, false, [2]float64{30, 10}, [2]float64{50, 16}), // 14 in on day 43
		read(2024, false, [2]float64{40, 13}),                     // two or three days more
		read(2025, false),                                         // nobody read it
	}
	x := Turn(inSpring(day(4, 6), 0), append(past, read(2026, false)))
	if about := x.About.DaysSince(day(4, 1)); x.Springs != 2 || about < 42 || about > 44 || x.Late.DaysSince(x.Early) < 14 {
		t.Errorf("two springs: %+v, day %d", x, about)
	}
	past[1].Burned = true
	if x := Turn(inSpring(day(4, 6), 0), append(past, read(2026, false))); x.Springs != 1 {
		t.Errorf("a burned spring is no other's measure: %+v", x)
	}
}

func TestThisSpringsReadingCountsBeforeBoth(t *testing.T) {
	now := read(2026, false, [2]float64{20, 8})
	x := Turn(inSpring(day(4, 21), 8), []season.Spring{now})
	if !x.ByReading || x.Ready || x.About.DaysSince(day(4, 21)) < 10 || x.About.DaysSince(day(4, 21)) > 24 {
		t.Errorf("six inches to go: %+v", x)
	}
	if x := Turn(inSpring(day(4, 21), 14), []season.Spring{now}); !x.Ready || x.Stale {
		t.Errorf("at the height to begin: %+v", x)
	}
}

func TestWhatFailedItsRestIsBegunLaterAndLast(t *testing.T) {
	fails := func(v *season.View) { v.Failed, v.Begin = true, v.Paddock.BeginsAt(true) }
	good, bad := Turn(inSpring(day(4, 6), 0), []season.Spring{read(2026, false)}), Turn(inSpring(day(4, 6), 0, fails), []season.Spring{read(2026, true)})
	if !bad.Failed || bad.Rested || bad.Begin != good.Begin+4 || !bad.About.After(good.About) {
		t.Errorf("failed %+v, rested %+v", bad, good)
	}
}

func TestNothingIsSaidOfTurningInWhereSomethingElseDecides(t *testing.T) {
	begun := read(2026, false)
	begun.Grazed = day(5, 1)
	for says, x := range map[string]*TurnIn{
		"animals are in":    Turn(inSpring(day(5, 4), 0, grazed), []season.Spring{read(2026, false)}),
		"it was begun":      Turn(inSpring(day(5, 20), 0), []season.Spring{begun}),
		"in summer":         Turn(inSpring(day(7, 1), 0), []season.Spring{read(2026, false)}),
		"nobody knows it":   Turn(inSpring(day(4, 6), 0), nil),
		"it is at rest":     Turn(inSpring(day(4, 6), 0, func(v *season.View) { v.Phase = season.Rest }), []season.Spring{read(2026, false)}),
		"it is no native's": Turn(inSpring(day(4, 6), 0, func(v *season.View) { v.Paddock.Grass.Native = false }), []season.Spring{read(2026, false)}),
	} {
		if x != nil {
			t.Errorf("%s: %+v", says, x)
		}
	}
}

func TestGrazedTooEarlyIsToldOnlyWhereItIsKnown(t *testing.T) {
	in := func(on civil.Date, readings ...season.Visit) (*season.View, []season.Spring) {
		v := inSpring(on.AddDays(4), 0, grazed)
		v.Herds.Since, v.Visits = on, readings
		if n := len(readings); n > 0 {
			v.Reading = &readings[n-1]
		}
		s := read(2026, false)
		s.Grazed = on
		return v, []season.Spring{s}
	}
	at := func(on civil.Date, h float64) season.Visit {
		return season.Visit{Day: on, Sample: grass.Sample{Mean: h}}
	}
	for _, tc := range []struct {
		says  string
		on    civil.Date
		read  []season.Visit
		early bool
	}{
		{"nine inches two days before", day(4, 20), []season.Visit{at(day(4, 18), 9)}, true},
		{"fifteen inches", day(5, 10), []season.Visit{at(day(5, 8), 15)}, false},
		{"nobody read it, and it cannot stand that tall yet", day(4, 5), nil, true},
		{"nobody read it, and it may", day(5, 1), nil, false},
		{"five inches two weeks before, however fast it grew", day(4, 24), []season.Visit{at(day(4, 10), 5)}, true},
		{"nine inches two weeks before: it may have made it", day(5, 4), []season.Visit{at(day(4, 20), 9)}, false},
		{"it stands tall enough by now", day(4, 20), []season.Visit{at(day(4, 18), 9), at(day(4, 23), 14)}, false},
	} {
		if e := TooEarly(in(tc.on, tc.read...)); (e != nil) != tc.early {
			t.Errorf("%s: %+v", tc.says, e)
		}
	}
	v, s := in(day(4, 20), at(day(4, 18), 9))
	v.Today = day(5, 20)
	if e := TooEarly(v, s); e != nil {
		t.Errorf("a month later: %+v", e)
	}
}
