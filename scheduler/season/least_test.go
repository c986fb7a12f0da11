package season

import (
	"testing"

	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
)

// The shortest plants decide where plants kill because they are short; a tall mean
// hides them.
func TestOnGroundSownToSorghumKinTheShortestPlantDecides(t *testing.T) {
	went := 0
	rapid.Check(t, func(r *rapid.T) {
		p := newPlay(t)
		p.paddock("lane").Grass, p.paddock("lane").Hazards = species(t, "sorghum-sudangrass"), nil
		heights := rapid.SliceOfN(rapid.Float64Range(4, 60), 1, 20).Draw(r, "in")
		p.reads("2026-07-05", "lane", heights...)
		v := p.view("2026-07-05", "lane").Verdict
		least := heights[0]
		for _, h := range heights {
			least = min(least, h)
		}
		// 24 in: the larger of the published heights (Univ. of Nebraska 20-24).
		if (least < 24) != (v.Say == Wait) {
			r.Fatalf("%v: %s (%s)", heights, v.Say, v.Reason)
		}
		if v.Say == Go && (len(heights) < 10) != v.TodayOnly {
			r.Fatalf("%v: today only %v", heights, v.TodayOnly)
		}
		if v.Say == Go {
			went++
		}
	})
	if went == 0 {
		t.Error("a program that always says WAIT passes")
	}
}

func TestOnlyAReadingWithoutAShortPlantShowsNewShootsGrownOut(t *testing.T) {
	for _, tc := range []struct {
		name   string
		plants []float64
		want   Say
	}{
		{"ten of twenty inches", plants(10, 20), Go},
		{"four well above", []float64{30, 31, 29, 30}, Go},
		{"one of eighteen", []float64{18}, Wait},
		{"two as tall", []float64{30, 30}, Wait},
		{"three that straddle the safe height", []float64{18, 19, 24}, Wait},
		{"ten, one of them short", append(plants(9, 40), 6), Wait},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.tells("2026-07-01", diary.Regrowth, "lane")
			p.reads("2026-07-05", "lane", tc.plants...)
			if v := p.view("2026-07-05", "lane").Verdict; v.Say != tc.want {
				t.Errorf("%v: %s (%s), want %s", tc.plants, v.Say, v.Reason, tc.want)
			}
		})
	}
}

// Of tops that browned before any frost that is known nobody knows what browned them.
func TestTheFirstFrostAfterTopsThatBrownedWithoutOneHoldsAgain(t *testing.T) {
	for _, tc := range []struct {
		name  string
		write func(p *play)
		want  Say
	}{
		{"no frost, brown, and then the first frost", func(p *play) {
			p.tells("2026-10-30", diary.NoFrost, "")
			p.tells("2026-11-01", diary.Brown, "lane")
			p.tells("2026-11-20", diary.Frost, "")
		}, Wait},
		{"a frost, brown, and then another frost", func(p *play) {
			p.tells("2026-10-30", diary.Frost, "")
			p.tells("2026-11-01", diary.Brown, "lane")
			p.tells("2026-11-20", diary.Frost, "")
		}, Go},
		{"brown and no frost that anybody knows of, once its hold is over", func(p *play) { p.tells("2026-11-01", diary.Brown, "lane") }, Go},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			p.reads("2026-11-21", "lane", plants(20, 12)...)
			if v := p.view("2026-11-21", "lane"); v.Verdict.Say != tc.want {
				t.Errorf("%s (%s), shut by %+v; want %s", v.Verdict.Say, v.Verdict.Reason, v.Shut, tc.want)
			}
		})
	}
}
