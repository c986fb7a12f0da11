package spring

import (
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
)

func day(m time.Month, d int) civil.Date { return civil.Date{Year: 2026, Month: m, Day: d} }

// gama is an open paddock of eastern gamagrass that shuts on Sep 1, read at a height
// today.
func gama(today civil.Date, height float64, changes ...func(*season.View)) *season.View {
	sp, ok := grass.Grasses.Find("eastern gamagrass")
	if !ok {
		panic("no gamagrass")
	}
	v := &season.View{
		Paddock: &season.Paddock{ID: "creek", Name: "Creek", Grass: sp, Rule: season.Rule{Leave: 8, AtFrost: 18, Begin: 14}},
		Today:   today, Phase: season.Open, Begin: 14, Dates: season.Dates{Cutoff: day(9, 1)},
		Herds: season.Standing{Occupancy: season.Empty},
	}
	if height > 0 {
		v.Reading = &season.Visit{Day: today, Sample: grass.Sample{Mean: height}}
	}
	for _, change := range changes {
		change(v)
	}
	return v
}

// grows is a prospect of so many inches a day on ground that gives two days of grass
// an inch.
func grows(now, perDay float64) season.Prospect {
	return season.Prospect{
		Now:   now,
		Grown: func(h float64, from, to civil.Date) float64 { return h + perDay*float64(to.DaysSince(from)) },
		Days:  func(h float64) (float64, bool) { return min(14, max(0, 2*(h-8))), true },
	}
}

func grazed(v *season.View) { v.Herds.Occupancy = season.Grazed }

func TestWhatWillStandAtTheCutoffIsToldFromJulyOn(t *testing.T) {
	for _, tc := range []struct {
		says   string
		v      *season.View
		perDay float64
		passes int
		short  bool
		none   bool
	}{
		{"twelve inches a month ahead: two more passes", gama(day(8, 2), 12), 0.22, 2, false, false},
		{"the pass under way is one of them", gama(day(8, 2), 12, grazed), 0.22, 2, false, false},
		{"no pass is begun under B before the last month", gama(day(7, 1), 10), 0.05, 1, false, false},
		{"nothing regrows, so it is grazed once", gama(day(8, 2), 12), 0, 1, false, false},
		{"at what must be left there is no pass, and enough", gama(day(8, 20), 8), 0.05, 0, false, false},
		{"under it rest alone makes it", gama(day(8, 2), 6, grazed), 0.1, 0, false, false},
		{"or not even that", gama(day(8, 20), 6, grazed), 0.1, 0, true, false},
		{"in June nobody asks yet", gama(day(6, 30), 12), 0.2, 0, false, true},
		{"nor once it is shut", gama(day(9, 1), 12), 0.2, 0, false, true},
		{"nor on ground that is held", gama(day(8, 2), 12, func(v *season.View) { v.Shut = []shut.Cause{{}} }), 0.2, 0, false, true},
		{"nor where it is grazed through its rest", gama(day(8, 2), 12, func(v *season.View) { v.FallUse = true }), 0.2, 0, false, true},
	} {
		s := SteerOf(tc.v, grows(12, tc.perDay))
		if tc.v.Reading != nil {
			s = SteerOf(tc.v, grows(tc.v.Reading.Sample.Mean, tc.perDay))
		}
		switch {
		case (s == nil) != tc.none:
			t.Errorf("%s: got %+v", tc.says, s)
		case s != nil && (s.Passes != tc.passes || s.Short() != tc.short):
			t.Errorf("%s: got %d passes, %.1f in at the cutoff, short %v", tc.says, s.Passes, s.AtCutoff, s.Short())
		}
	}
}

func TestOfGroundThatNobodyReadNothingIsPromised(t *testing.T) {
	if s := SteerOf(gama(day(8, 2), 0), grows(0, 0.2)); s == nil || s.Fresh || s.Short() || s.Passes != 0 {
		t.Errorf("unread: %+v", s)
	}
	old := gama(day(8, 2), 12, func(v *season.View) { v.Verdict.Action = season.ReadIt })
	if s := SteerOf(old, grows(12, 0.2)); s == nil || s.Fresh || s.Passes != 0 {
		t.Errorf("an old reading: %+v", s)
	}
	herdless := grows(12, 0.2)
	herdless.Days = func(float64) (float64, bool) { return 0, false }
	if s := SteerOf(gama(day(8, 2), 12), herdless); s == nil || s.Counted || s.Short() {
		t.Errorf("no herd on file: %+v", s)
	}
}

func TestAMoveIsCountedOnlyWhereGrassDecides(t *testing.T) {
	five := 5.9
	stays := func(v *season.View) {
		grazed(v)
		v.Verdict = season.Verdict{Reason: season.GrazedEnough, Days: &five}
	}
	if m := MoveFrom(gama(day(6, 20), 11, stays)); m == nil || *m.Days != 5 || m.Stop != 8 {
		t.Errorf("animals in: %+v, want 5 days down to 8 in", m)
	}
	eaten := func(v *season.View) { grazed(v); v.Verdict.Reason = season.UnderLeave }
	if m := MoveFrom(gama(day(6, 20), 7, eaten)); m == nil || *m.Days != 0 {
		t.Errorf("eaten down: %+v, want today", m)
	}
	held := func(v *season.View) { grazed(v); v.Verdict.Reason = season.OnHold }
	for says, v := range map[string]*season.View{"a hold": gama(day(6, 20), 11, held), "nobody in": gama(day(6, 20), 11)} {
		if m := MoveFrom(v); m != nil {
			t.Errorf("%s: %+v, want none", says, m)
		}
	}
}
