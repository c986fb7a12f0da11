package frost_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"stubbled/scheduler/frost"
)

// The example of Sen, Journal of the American Statistical Association 63, 1968.
// The slope is his; the interval at 93 % is what the tests of scipy.stats
// (test_theilslopes) and of the R package deming (theilsen) give for it, 26/7 to
// 35/8; the paper's own has slips in its list of slopes.
func TestTheSlopeOfSensOwnExample(t *testing.T) {
	x := []float64{1, 2, 3, 4, 10, 12, 18}
	y := []float64{9, 15, 19, 20, 45, 55, 78}
	slope, low, high := frost.TheilSen(x, y, 0.93)
	if slope != 4 || math.Abs(low-26.0/7) > 1e-12 || high != 35.0/8 {
		t.Errorf("slope %g (%g to %g), want 4 (26/7 to 35/8)", slope, low, high)
	}
}

// scipy.stats.theilslopes 1.10.1, alpha 0.95, on the counted first dates of
// expected.json, days after Aug 1 against years.
func TestTheTrendIsTheOneOfAnIndependentImplementation(t *testing.T) {
	for _, c := range []struct {
		file             string
		threshold        frost.Threshold
		frosts           int
		slope, low, high float64
	}{
		{"USW00094728.dly", frost.Frost36F, 151, 0.05263157894736842, 0.01282051282051282, 0.09090909090909091},
		{"USW00094728.dly", frost.Freeze32F, 151, 0.07317073170731707, 0.030927835051546393, 0.11764705882352941},
		{"USW00094728.dly", frost.KillingFreeze28F, 150, 0.06382978723404255, 0.023255813953488372, 0.10714285714285714},
		{"CRND0103-KS_Manhattan_6_SSW.txt", frost.Frost36F, 20, 0.26969696969696966, -0.42857142857142855, 1},
		{"CRND0103-KS_Manhattan_6_SSW.txt", frost.Freeze32F, 20, -0.08846153846153847, -0.8571428571428571, 0.6666666666666666},
		{"CRND0103-KS_Manhattan_6_SSW.txt", frost.KillingFreeze28F, 20, -0.041666666666666664, -0.7777777777777778, 0.9090909090909091},
	} {
		spread := readStation(t, c.file).Distribution(c.threshold, frost.Pick{})
		trend, ok := spread.Trend()
		if !ok || spread.Frosts() != c.frosts {
			t.Errorf("%s %v: %d frosts, want %d", c.file, c.threshold, spread.Frosts(), c.frosts)
		}
		for _, v := range []struct{ got, want float64 }{{trend.PerDecade, c.slope}, {trend.Low, c.low}, {trend.High, c.high}} {
			if math.Abs(v.got-v.want*10) > 1e-9 {
				t.Errorf("%s %v: %+v, want %g (%g to %g) a year", c.file, c.threshold, trend, c.slope, c.low, c.high)
			}
		}
	}
}

// kendall is Kendall's statistic of y - slope*x against x: the pairs that rise
// less those that fall.
func kendall(x, y []float64, slope float64) (s int) {
	for i := range x {
		for j := range i {
			rise := (y[i] - y[j]) - slope*(x[i]-x[j])
			switch {
			case rise > 1e-9:
				s++
			case rise < -1e-9:
				s--
			}
		}
	}
	return s
}

// The interval is where Kendall's statistic of what is left once a slope is
// taken out does not stand out. This goes the other way round than TheilSen:
// no slope is listed or sorted.
func TestTheIntervalIsWhereKendallsStatisticDoesNotStandOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(10, 40).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(1980 + i)
			y[i] = float64(rapid.IntRange(40, 120).Draw(t, "offset"))
		}
		slope, low, high := frost.TheilSen(x, y, 0.95)
		ties := map[float64]float64{}
		for _, v := range y {
			ties[v]++
		}
		variance := float64(n) * float64(n-1) * float64(2*n+5)
		for _, k := range ties {
			variance -= k * (k - 1) * (2*k + 5)
		}
		width := distuv.UnitNormal.Quantile(0.975) * math.Sqrt(variance/18)
		// Ranks are whole, so the statistic may miss the bound by two.
		if s := kendall(x, y, slope); math.Abs(float64(s)) > 1 && !tiedAt(x, y, slope, s) {
			t.Fatalf("at the slope %g the statistic is %d", slope, s)
		}
		for _, inside := range []float64{low + 1e-7, high - 1e-7} {
			if s := kendall(x, y, inside); low < high && math.Abs(float64(s)) > width+2 {
				t.Fatalf("inside, at %g, the statistic is %d, over %g", inside, s, width)
			}
		}
		for _, outside := range []float64{low - 1e-7, high + 1e-7} {
			if s := kendall(x, y, outside); math.Abs(float64(s)) < width-2 {
				t.Fatalf("outside, at %g, the statistic is %d, under %g", outside, s, width)
			}
		}
	})
}

// tiedAt says whether so many pairs have just this slope that the statistic can
// be off by them.
func tiedAt(x, y []float64, slope float64, s int) bool {
	same := 0
	for i := range x {
		for j := range i {
			if math.Abs((y[i]-y[j])-slope*(x[i]-x[j])) <= 1e-9 {
				same++
			}
		}
	}
	return same >= max(s, -s)-1
}

func TestNobodyIsTemptedToPlanOnNoise(t *testing.T) {
	steady, _ := spreadOf(60, 62, 64, 66, 68, 70, 72, 74, 76, 78).Trend()
	if !steady.Clear() || math.Abs(steady.PerDecade-20) > 1e-9 || !strings.HasPrefix(steady.String(), "20.0 days a decade later") {
		t.Errorf("two days a year: %v", steady)
	}
	noise, _ := spreadOf(70, 60, 72, 61, 75, 58, 71, 64, 69, 66, none).Trend()
	if noise.Clear() || !strings.Contains(noise.String(), "not clear, do not plan on it") {
		t.Errorf("noise: %v", noise)
	}
	earlier, _ := spreadOf(78, 76, 74, 72, 70, 68, 66, 64, 62, 60).Trend()
	if !strings.HasPrefix(earlier.String(), "20.0 days a decade earlier") {
		t.Errorf("earlier: %v", earlier)
	}
	if _, ok := spreadOf(60, 62, 64, 66, 68, 70, 72, 74, 76).Trend(); ok {
		t.Error("a trend out of nine frosts")
	}
	if flat, ok := spreadOf(60, 60, 60, 60, 60, 60, 60, 60, 60, 60).Trend(); !ok || flat.PerDecade != 0 || flat.Clear() {
		t.Errorf("the same day each year: %v", flat)
	}
	if slope, _, _ := frost.TheilSen([]float64{2000, 2000}, []float64{1, 2}, 0.95); !math.IsNaN(slope) {
		t.Errorf("two falls in one year have the slope %g", slope)
	}
}
