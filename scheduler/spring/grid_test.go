package spring

import (
	"math"
	"testing"
)

// The worked examples: 15, 14, 20 and 21 of 25 cells are 70 % (Oklahoma State Univ.
// switchgrass site), which is 28.0 plants a square metre by J. Range Manage. 54:653; 40 and
// 25 %, the thresholds of Crop Science 46:157, are 16 and 10.
func TestAFrameCountIsThePublishedExamples(t *testing.T) {
	for _, tc := range []struct {
		cells          []float64
		percent, perM2 float64
	}{
		{[]float64{15, 14, 20, 21}, 70, 28}, {[]float64{10, 10, 10, 10}, 40, 16}, {[]float64{6, 7, 6, 6}, 25, 10}, {[]float64{0, 0}, 0, 0}, {[]float64{25}, 100, 40},
	} {
		s := Count(Thrown{Cells: tc.cells}, nil)
		if math.Abs(s.Percent-tc.percent) > 1e-9 || math.Abs(s.PerM2-tc.perM2) > 1e-9 || s.Low > s.PerM2 || s.High < s.PerM2 || s.Trend != "" {
			t.Errorf("%v: %+v", tc.cells, s)
		}
	}
	// 70 of 100 at 95 %: 60.4 to 78.1 by Wilson's score, 60.0 to 78.8 by the exact
	// binomial (both from memory).
	if s := Count(Thrown{Cells: []float64{15, 14, 20, 21}}, nil); math.Abs(s.Low-0.4*60.4) > 0.05 || math.Abs(s.High-0.4*78.1) > 0.05 {
		t.Errorf("its error: %+v", s)
	}
}

func TestAStandIsThinnerOnlyWhereCountsDifferMoreThanByChance(t *testing.T) {
	before := &Thrown{Day: day(6, 1), Cells: []float64{15, 14, 20, 21}}
	for want, cells := range map[string][]float64{Same: {14, 17, 15, 18}, Thinner: {8, 9, 10, 8}, Thicker: {24, 23, 22, 25}} {
		if s := Count(Thrown{Day: day(7, 1), Cells: cells}, before); s.Trend != want || s.Was != 70 || s.Since != day(6, 1) {
			t.Errorf("%v: %+v, want %s", cells, s, want)
		}
	}
}
