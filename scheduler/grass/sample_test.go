package grass

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func sample(t *testing.T, heights ...float64) Sample {
	t.Helper()
	s, err := NewSample(heights...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// 14, 8, 6, 8: mean 9; deviations 5, -1, -3, -1, squares 36, over 3 is 12, sd
// 3.4641; t(3) = 3.1824, half-width 3.1824 x 3.4641 / 2 = 5.5121.
func TestReadingByHand(t *testing.T) {
	s := sample(t, 14, 8, 6, 8)
	if s.Mean != 9 || math.Abs(s.SD-math.Sqrt(12)) > 1e-12 || s.Plants() != 4 {
		t.Errorf("mean %g, sd %g of %d", s.Mean, s.SD, s.Plants())
	}
	low, high, ok := s.Interval()
	if !ok || math.Abs(low-3.4879) > 1e-3 || math.Abs(high-14.5121) > 1e-3 {
		t.Errorf("interval %.4f-%.4f", low, high)
	}
}

// Two-sided 95 % t, upper critical values at 0.975 (NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.2), and those of gonum between them.
func TestIntervalAgreesWithTheTTable(t *testing.T) {
	for df, want := range map[int]float64{1: 12.706, 2: 4.303, 4: 2.776, 9: 2.262, 14: 2.145, 19: 2.093, 24: 2.064, 29: 2.045, 60: 2.000, 100: 1.984} {
		if got := tTwoSided(df); math.Abs(got-want) > 0.0005 {
			t.Errorf("t with %d degrees of freedom is %.4f, printed %.3f", df, got, want)
		}
	}
	for df := 1; df <= 500; df++ {
		if got, want := tTwoSided(df), (distuv.StudentsT{Sigma: 1, Nu: float64(df)}).Quantile(0.975); math.Abs(got-want) > 3e-7 {
			t.Errorf("t with %d degrees of freedom is %.8f, gonum says %.8f", df, got, want)
		}
	}
}

func TestWhatAReadingSettles(t *testing.T) {
	for _, c := range []struct {
		name      string
		heights   []float64
		height    float64
		settles   bool
		more      int
		todayOnly bool
	}{
		{"one plant settles nothing", []float64{14}, 8, false, 9, true},
		{"four plants from 6 to 14 in do not settle 8 in", []float64{14, 8, 6, 8}, 8, false, 20, true},
		{"four even plants settle 8 in", []float64{12, 12.5, 13, 12}, 8, true, 0, false},
		{"all plants equal are that height", []float64{9, 9, 9}, 8, true, 0, false},
		{"all plants equal at the deciding height settle it", []float64{8, 8, 8}, 8, true, 0, false},
		{"a mean right at the height is never settled", []float64{7, 9, 7, 9}, 8, false, 20, true},
		{"ten plants that straddle are not 'today only'", []float64{6, 12, 6, 12, 6, 12, 6, 12, 6, 12}, 8, false, 20, false},
		{"clearly under settles too", []float64{4, 5, 4, 5}, 8, true, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := sample(t, c.heights...)
			if got := s.Settles(c.height); got != c.settles {
				t.Errorf("settles %v", got)
			}
			if got := s.MoreToSettle(c.height); got != c.more {
				t.Errorf("%d more plants, want %d", got, c.more)
			}
			if got := s.TodayOnly(c.height); got != c.todayOnly {
				t.Errorf("today only %v", got)
			}
		})
	}
}

func TestPatchy(t *testing.T) {
	for _, c := range []struct {
		name    string
		heights []float64
		want    bool
	}{
		{"a quarter under is not more than a quarter", []float64{5, 8, 9, 10}, false},
		{"two of four under", []float64{5, 5, 9, 10}, true},
		{"one of three under", []float64{5, 9, 10}, true},
		{"a plant right at the lowest stubble is spared", []float64{6, 6, 6, 6}, false},
		{"one plant is no patch", []float64{3}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := sample(t, c.heights...).Patchy(6); got != c.want {
				t.Errorf("patchy %v", got)
			}
		})
	}
}

func TestHeightsNobodyBelieves(t *testing.T) {
	for _, hs := range [][]float64{nil, {0}, {-1}, {121}, {8, 500}, {math.NaN()}, {math.Inf(1)}} {
		if s, err := NewSample(hs...); err == nil {
			t.Errorf("%v makes a reading %+v", hs, s)
		}
	}
	if _, err := NewSample(120, 0.5); err != nil {
		t.Errorf("120 in and half an inch are heights: %v", err)
	}
}

func TestMorePlantsSettleAHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		walked, err := NewSample(rapid.SliceOfN(rapid.Float64Range(0.5, 120), 1, 24).Draw(t, "heights")...)
		if err != nil {
			t.Fatal(err)
		}
		height := rapid.Float64Range(1, 40).Draw(t, "height")
		more := walked.MoreToSettle(height)
		if more < 0 || more > MostToAsk || (more == 0) != walked.Settles(height) && walked.Plants() > 1 {
			t.Fatalf("%d more", more)
		}
		low, high, ok := walked.Interval()
		if ok != (walked.Plants() > 1) || ok && !(low <= walked.Mean && walked.Mean <= high) {
			t.Fatalf("interval %g-%g of mean %g", low, high, walked.Mean)
		}
	})
}

// The number of plants still to read is what it takes should the spread stay as
// it is: reading that many more with the same spread settles it, one less does not.
func TestMoreToSettleIsTheLeast(t *testing.T) {
	s := sample(t, 8, 10, 9, 12, 7)
	m := s.MoreToSettle(8)
	half := func(n int) float64 { return tTwoSided(n-1) * s.SD / math.Sqrt(float64(n)) }
	if gap := s.Mean - 8; half(5+m) > gap || half(5+m-1) <= gap {
		t.Errorf("%d more plants: half-width %.3f, one less %.3f, gap %.3f", m, half(5+m), half(5+m-1), gap)
	}
}
