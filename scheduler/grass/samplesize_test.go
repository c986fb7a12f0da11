package grass

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

// Published worked examples.
func TestPublishedSampleSizes(t *testing.T) {
	// Colorado Division of Reclamation, Mining & Safety permit file (Cedar
	// Creek), 'Sample Adequacy': one-tailed 90 %, within 10 % of the mean.
	near(t, "mean 48.83, variance 188.06, 72 readings", Adequate(48.83, 188.06, 0.1, 0.9, 72), 13.20, 0.01)
	near(t, "mean 64.40, variance 134.67, 20 readings", Adequate(64.40, 134.67, 0.1, 0.9, 20), 5.72, 0.01)
	// Elzinga, Salzer & Willoughby, BLM TR 1730-1, App. 7, 1998 (from memory):
	// mean 25, sd 7, within 20 % at 95 %: 7.5, so 8; 15 after the correction for
	// small samples; 13 out of a population of 100 (13.04, rounded).
	z := SizeZ(7, 5, 0.95)
	near(t, "sd 7 within 5 at 95 %", z, 7.53, 0.01)
	if n := CorrectSize(int(math.Ceil(z)), 0.95); n != 15 {
		t.Errorf("corrected for a small sample: %d, want 15", n)
	}
	near(t, "15 of 100, exact", FinitePopulation(15, 100), 13.04, 0.01)
	// Ogle, NCMTH107 course: sigma 500, margin 10, 90 %.
	near(t, "sigma 500 within 10 at 90 %", SizeZ(500, 10, 0.90), 6764, 2)
	near(t, "the same with z = 1.645", sizeFrom(1.645, 500, 10), 6765.06, 0.01)
}

// The correction for small samples, by the rule of Kupper & Hafner (1989): our
// own table of it, of which only 95 %, 8 -> 15 matches a recalled printed cell.
func TestCorrectSizeTable(t *testing.T) {
	confidence := []float64{0.80, 0.90, 0.95, 0.99}
	for n, want := range map[int][4]int{
		2: {6, 6, 7, 8}, 3: {7, 8, 8, 9}, 4: {9, 9, 10, 11}, 5: {10, 11, 11, 12},
		6: {11, 12, 12, 14}, 7: {13, 13, 14, 15}, 8: {14, 15, 15, 16}, 9: {15, 16, 16, 18},
		10: {17, 17, 18, 19}, 12: {19, 20, 20, 21}, 15: {23, 23, 24, 25}, 20: {29, 29, 30, 31},
		25: {35, 35, 36, 37}, 30: {41, 41, 42, 43}, 40: {52, 53, 53, 55}, 50: {64, 64, 65, 66},
	} {
		for i, c := range confidence {
			if got := CorrectSize(n, c); got != want[i] {
				t.Errorf("%d readings at %.0f %%: %d, want %d", n, 100*c, got, want[i])
			}
		}
	}
}

func TestSizeForIsTheLeast(t *testing.T) {
	for _, c := range []struct{ sd, margin float64 }{{3, 1}, {3.5, 2}, {1, 5}, {10, 0.5}} {
		n := SizeFor(c.sd, c.margin, 0.95)
		half := func(n int) float64 { return tTwoSided(0.95, n-1) * c.sd / math.Sqrt(float64(n)) }
		if half(n) > c.margin || n > 2 && half(n-1) <= c.margin {
			t.Errorf("sd %g within %g: %d", c.sd, c.margin, n)
		}
	}
	near(t, "t form of 20 readings", SizeT(3, 1, 0.95, 20), math.Pow(2.093*3, 2), 0.01)
}

func TestSizesOfNonsense(t *testing.T) {
	nan := math.NaN()
	for _, got := range []float64{
		SizeZ(0, 1, 0.95), SizeZ(1, 0, 0.95), SizeZ(1, 1, 1), SizeZ(nan, 1, 0.95), SizeZ(math.Inf(1), 1, 0.95), SizeZ(1e300, 1e-300, 0.95),
		SizeT(1, 1, 0.95, 1), SizeT(1, nan, 0.95, 5), Adequate(0, 1, 0.1, 0.9, 9), Adequate(1, 1, 0, 0.9, 9), Adequate(1, 1, 0.1, 0.9, 1),
		FinitePopulation(0, 100), FinitePopulation(10, 0), float64(SizeFor(0, 1, 0.95)), float64(SizeFor(1, 1, 2)),
		float64(CorrectSize(0, 0.95)), float64(CorrectSize(8, nan)),
	} {
		if got != 0 {
			t.Errorf("nonsense gives %g, want 0", got)
		}
	}
}
