package season

import (
	"testing"

	"stubbled/scheduler/frost"
)

// midFalls reads every paddock of a big farm on the way, in each finished fall.
func midFalls(p *play, height float64) *play {
	for _, year := range []string{"2023", "2024", "2025"} {
		for i := range p.farm.Paddocks {
			p.reads(year+"-09-15", p.farm.Paddocks[i].ID, plants(10, height)...)
		}
	}
	return p
}

func TestTheSpreadsAreTheFarmsOwnOnceItHasTenSeasons(t *testing.T) {
	if w := bigFarm(t, 3).look("2026-08-22").teachTogether(2026); w.Seasons != 0 || w.Paddocks != 0.22 || w.Falls != 0.20 {
		t.Errorf("nine seasons taught %+v", w)
	}
	w := bigFarm(t, 4).look("2026-08-22").teachTogether(2026)
	if w.Seasons != 12 || w.Paddocks >= 0.22 || w.Falls >= 0.20 || w.Falls < 0.08 {
		t.Errorf("twelve seasons that all grew alike taught %+v", w)
	}
}

// A farm on which growth comes early in a rest expects less from a reading on the way,
// and as much as ever from one at the cutoff.
func TestAReadingOnTheWayTeachesHowLateGrowthComes(t *testing.T) {
	ahead := func(p *play, today string) float64 {
		p.reads(today, "p0", plants(10, 12)...)
		v := p.view(today, "p0")
		if v.Ahead == nil {
			t.Fatalf("%s: nothing is expected", today)
		}
		return v.Ahead.Mean
	}
	at := func(today string, mid float64) float64 { return ahead(midFalls(bigFarm(t, 2), mid), today) }
	even, early, late := at("2026-09-25", 11), at("2026-09-25", 15), at("2026-09-25", 9)
	if early > even-0.3 || late < even+0.1 {
		t.Errorf("expected on the way: %.1f in as the heat comes, %.1f where growth comes early, %.1f where late", even, early, late)
	}
	near(t, "at the cutoff growth comes early or late all the same", at("2026-08-22", 15), at("2026-08-22", 11), 0.2)
}

// Without the word of a drought, a dry 60 days on record lower what is promised.
func TestADrySummerOnRecordPromisesLess(t *testing.T) {
	chance := func(mm float64) float64 {
		p := bigFarm(t, 1)
		var days []frost.Day
		for d := day("2026-06-01"); d.Before(day("2026-08-22")); d = d.AddDays(1) {
			days = append(days, frost.Day{Date: d, Min: frost.FromC(15), Max: frost.FromC(25), Rain: frost.Rain(mm * 1000)})
		}
		p.air = p.air.With(days...)
		p.reads("2026-08-21", "p0", plants(10, 9)...)
		return p.view("2026-08-22", "p0").Ahead.Chance
	}
	usual, short, half := chance(2), chance(1.1), chance(0.9)
	if usual != short || half > usual-0.1 {
		t.Errorf("chance %.2f with rain as usual, %.2f with over half of it, %.2f with under half", usual, short, half)
	}
}
