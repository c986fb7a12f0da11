package scheduler

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

func TestNobodyIsSentToPlantsThatPoisonWhileOtherGroundWillDo(t *testing.T) {
	ground := func(id string, atRisk bool, say season.Say) season.View {
		v := season.View{Paddock: &season.Paddock{ID: id, Name: id}, Phase: season.Open, Verdict: season.Verdict{Say: say, Action: season.ReadIt}}
		if atRisk {
			v.AtRisk = []string{"johnsongrass"}
		}
		return v
	}
	slough, draw, cedar := ground("slough", false, season.Wait), ground("draw", true, season.Wait), ground("cedar", false, season.Go)
	for _, tc := range []struct {
		name  string
		views []season.View
		want  []string
	}{
		{"unread johnsongrass beside clean ground", []season.View{slough, draw, cedar}, []string{"cedar"}},
		{"johnsongrass that was read tall beside it", []season.View{slough, ground("draw", true, season.Go), cedar}, []string{"draw", "cedar"}},
		{"nothing else there is", []season.View{slough, draw}, []string{"draw"}},
	} {
		if got := moveTo(tc.views, nil, "slough", false, false); !slices.Equal(got, tc.want) {
			t.Errorf("%s: they go to %q, want %q", tc.name, got, tc.want)
		}
	}
}

func TestNoHorseIsSentToSorghumKinNorWhoeverStandsWithOne(t *testing.T) {
	ground := func(id string, barred ...string) season.View {
		return season.View{Paddock: &season.Paddock{ID: id, Name: id}, Phase: season.Open, Barred: barred, Verdict: season.Verdict{Action: season.ReadIt}}
	}
	stands := func(herds ...string) season.View {
		v := ground("lane")
		v.Herds = season.Standing{Occupancy: season.Grazed, Herds: herds}
		return v
	}
	unknown := ground("lane")
	unknown.Herds.Occupancy = season.Unknown
	for _, tc := range []struct {
		name string
		from season.View
		want []string
	}{
		{"mares", stands("mares"), []string{"switch"}},
		{"goats with mares among them", stands("goats", "mares"), []string{"switch"}},
		{"goats alone", stands("goats"), []string{"strip", "switch"}},
		{"nobody knows who", unknown, []string{"switch"}},
	} {
		if got := moveTo([]season.View{tc.from, ground("strip", "mares"), ground("switch")}, nil, "lane", false, false); !slices.Equal(got, tc.want) {
			t.Errorf("%s: they go to %q, want %q", tc.name, got, tc.want)
		}
	}
}

// The word that rest is over asks for a walk before anybody grazes: ground that nobody
// read since takes no herd that morning, as long as other ground will do.
func TestNobodyIsSentToDormantGroundThatNobodyReadWhileOtherGroundWillDo(t *testing.T) {
	today := civil.Date{Year: 2026, Month: time.October, Day: 16}
	gama := season.View{Paddock: &season.Paddock{ID: "gama", Name: "Gama"}, Today: today, Phase: season.Dormant, Verdict: season.Verdict{Action: season.ReadIt, Reason: season.NeverRead}}
	fescue := season.View{Paddock: &season.Paddock{ID: "fescue", Name: "Fescue"}, Today: today, Phase: season.Open, Verdict: season.Verdict{Action: season.ReadIt}}
	if got := moveTo([]season.View{gama, fescue}, nil, "north", true, false); !slices.Equal(got, []string{"Fescue"}) {
		t.Errorf("beside open ground they go to %q", got)
	}
	if got := moveTo([]season.View{gama}, nil, "north", true, false); !slices.Equal(got, []string{"Gama"}) {
		t.Errorf("where there is nothing else they go to %q", got)
	}
}

// Ground read at 3 in eleven days ago has no grass because its height has become old.
func TestGroundReadEatenDownIsNoPlaceToGoForAMonth(t *testing.T) {
	today := civil.Date{Year: 2026, Month: time.December, Day: 17}
	bermuda, ok := grass.Grasses.Find("bermudagrass")
	if !ok {
		t.Fatal("no bermudagrass")
	}
	read := func(days int, in float64) season.View {
		return season.View{Paddock: &season.Paddock{ID: "coastal", Name: "Coastal", Grass: bermuda}, Today: today, Phase: season.Open, Verdict: season.Verdict{Action: season.ReadIt},
			Reading: &season.Visit{Day: today.AddDays(-days), Sample: grass.Sample{Mean: in}}}
	}
	for _, tc := range []struct {
		name    string
		coastal season.View
		planned []string
		want    int
	}{
		{"3 in eleven days ago", read(11, 3), nil, 0}, {"3 in a month ago", read(30, 3), nil, 1}, {"8 in eleven days ago", read(11, 8), nil, 1},
		{"3 in eleven days ago, and the plan reckons with its growth", read(11, 3), []string{"coastal"}, 1},
	} {
		if got := moveTo([]season.View{tc.coastal}, tc.planned, "draw", false, false); len(got) != tc.want {
			t.Errorf("%s: they go to %q", tc.name, got)
		}
	}
}

func TestNobodyIsSentToGroundWhoseFallUseHasRunOut(t *testing.T) {
	today := civil.Date{Year: 2026, Month: time.September, Day: 17}
	used := func(out civil.Date) season.View {
		return season.View{Paddock: &season.Paddock{ID: "draw", Name: "Draw"}, Today: today, Phase: season.Rest, FallUse: true, RunsOut: out,
			Verdict: season.Verdict{Action: season.ReadIt}}
	}
	mill := season.View{Paddock: &season.Paddock{ID: "mill", Name: "Mill"}, Today: today}
	for _, tc := range []struct {
		name string
		out  civil.Date
		want []string
	}{
		{"its days ran out on Sep 12, and nobody read it since", today.AddDays(-5), []string{"Mill"}},
		{"they run out today", today, []string{"Mill"}},
		{"it has days left", today.AddDays(3), []string{"Draw", "Mill"}},
		{"nobody read it yet", civil.Date{}, []string{"Draw", "Mill"}},
	} {
		if got := moveTo([]season.View{used(tc.out), mill}, nil, "hill", false, false); !slices.Equal(got, tc.want) {
			t.Errorf("%s: they go to %q, want %q", tc.name, got, tc.want)
		}
	}
}

// A hold that the calendar ended is told as 'look before you graze': nobody is sent
// there while other ground will do, and where nothing else is the place goes with that
// caution.
func TestNobodyIsSentToGroundThatTheCalendarReleasedWhileOtherGroundWillDo(t *testing.T) {
	clover := season.View{Paddock: &season.Paddock{ID: "clover", Name: "Clover"}, Verdict: season.Verdict{Action: season.ReadIt},
		Caution: []grass.Hazard{{Name: "clover"}}, Cautions: []season.Caution{{Why: season.RiskHeld, Plants: []string{"clover"}}}}
	lot := season.View{Paddock: &season.Paddock{ID: "lot", Name: "Lot"}, Verdict: season.Verdict{Action: season.ReadIt}}
	barn := season.View{Paddock: &season.Paddock{ID: "barn", Name: "Barn"}, Herds: season.Standing{Occupancy: season.Grazed, Herds: []string{"goats"}}}
	if got := moveTo([]season.View{clover, barn, lot}, []string{"clover"}, "barn", false, false); !slices.Equal(got, []string{"Lot"}) {
		t.Errorf("beside other ground they go to %q", got)
	}
	if got := moveTo([]season.View{clover, barn}, nil, "barn", false, false); !slices.Equal(got, []string{"Clover"}) {
		t.Errorf("where there is nothing else they go to %q", got)
	}
	if got := warned([]season.View{clover, barn}, "barn", ladder.Sends{MoveTo: []string{"Clover"}}).Cautions; len(got) != 1 || got[0].Why != season.RiskHeld {
		t.Errorf("they go there with %v", got)
	}
}

// P-24: switchgrass harms sheep, goats and horses; legumes bloat.
func TestAPlaceIsNamedWithWhatMayHarmThoseWhoGoThere(t *testing.T) {
	ground := func(id string, cautions ...season.Caution) season.View {
		v := season.View{Paddock: &season.Paddock{ID: id, Name: id}, Verdict: season.Verdict{Action: season.ReadIt}, Cautions: cautions}
		if len(cautions) > 0 && cautions[0].Why == season.RiskLiver {
			v.Liver = []string{"goats"}
		}
		return v
	}
	from := func(herd string) season.View {
		v := ground("lane")
		v.Herds = season.Standing{Occupancy: season.Grazed, Herds: []string{herd}}
		return v
	}
	unknown := ground("lane")
	unknown.Herds.Occupancy = season.Unknown
	switchgrass, clover, mill := ground("switch", season.Caution{Why: season.RiskLiver}), ground("clover", season.Caution{Why: season.RiskBloat}), ground("mill")
	for _, tc := range []struct {
		name        string
		from        season.View
		others      []season.View
		want        []string
		wantCaution season.Risk
	}{
		{"goats go to clean ground alone", from("goats"), []season.View{switchgrass, clover, mill}, []string{"mill"}, ""},
		{"goats where there is only switchgrass", from("goats"), []season.View{switchgrass}, []string{"switch"}, season.RiskLiver},
		{"cows on switchgrass", from("cows"), []season.View{switchgrass, mill}, []string{"switch", "mill"}, ""},
		{"cows where there is only clover", from("cows"), []season.View{clover}, []string{"clover"}, season.RiskBloat},
		{"nobody knows who", unknown, []season.View{switchgrass}, []string{"switch"}, season.RiskLiver},
	} {
		views := append([]season.View{tc.from}, tc.others...)
		got := warned(views, "lane", ladder.Sends{MoveTo: moveTo(views, nil, "lane", false, false)})
		var why season.Risk
		if len(got.Cautions) > 0 {
			why = got.Cautions[0].Why
		}
		if !slices.Equal(got.MoveTo, tc.want) || why != tc.wantCaution {
			t.Errorf("%s: to %q with %q, want %q with %q", tc.name, got.MoveTo, why, tc.want, tc.wantCaution)
		}
	}
}

// Who turns a herd in without a height hears what a GO would say beside it.
func TestWhoIsTurnedInHearsWhatMayHarmThemThere(t *testing.T) {
	k := newTalk(t, talkFarm)
	said := func(at, words string) (risks []season.Risk) {
		answers := 0
		for _, l := range k.text(at, "Ana", words) {
			if f, ok := l.Facts.(*ladder.RecordedFacts); ok {
				answers++
				for _, c := range f.Cautions {
					risks = append(risks, c.Why)
				}
			}
		}
		if answers != 1 {
			t.Errorf("%q has %d answers", words, answers)
		}
		return risks
	}
	if got := said("2026-07-10 12:00", "moved cows to lane"); !slices.Equal(got, []season.Risk{season.RiskKin}) {
		t.Errorf("into johnsongrass with %v", got)
	}
	if got := said("2026-07-11 12:00", "moved cows to mill"); len(got) > 0 {
		t.Errorf("into bluestem with %v", got)
	}
}

// Where next is asked by who is about to move them: ground that may harm them is named
// with its caution there too.
func TestWhereNextNamesWhatMayHarmThemThere(t *testing.T) {
	k := newTalk(t, strings.Replace(talkFarm, "grass: tall fescue, hazard_plants: [johnsongrass]", "grass: clover", 1))
	k.turn("2026-07-10 06:30")
	warned := false
	for _, l := range k.text("2026-07-10 12:00", "Ana", "where next") {
		f, ok := l.Facts.(*ladder.AskedFacts)
		if !ok {
			continue
		}
		for _, s := range f.Pass {
			if (s.Paddock == "lane") != (len(s.Cautions) > 0) {
				t.Errorf("%s with %v", s.Paddock, s.Cautions)
			}
			warned = warned || len(s.Cautions) > 0
		}
	}
	if !warned {
		t.Error("nobody is sent to the clover")
	}
}
