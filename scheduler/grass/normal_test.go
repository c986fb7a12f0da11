package grass

import (
	"math"
	"testing"
)

// exactPhi and exactDensity are the standard normal distribution, not tabulated.
func exactPhi(z float64) float64     { return 0.5 * math.Erfc(-z/math.Sqrt2) }
func exactDensity(z float64) float64 { return math.Exp(-0.5*z*z) / math.Sqrt(2*math.Pi) }

// exactCapped is E[min(c, X)] for X ~ Normal(m, s).
func exactCapped(m, s, c float64) float64 {
	d := (m - c) / s
	return m - (s*exactDensity(d) + (m-c)*exactPhi(d))
}

// Abramowitz and Stegun (1964), table 26.1: P(x) and Z(x).
func TestTheNormalAgreesWithThePrintedTable(t *testing.T) {
	for _, c := range []struct{ x, p, z float64 }{
		{0, 0.5, 0.398942280401433},
		{0.5, 0.691462461274013, 0.352065326764300},
		{1, 0.841344746068543, 0.241970724519143},
		{1.5, 0.933192798731142, 0.129517595665892},
		{2, 0.977249868051821, 0.053990966513188},
		{3, 0.998650101968370, 0.004431848411938},
	} {
		if p, z := phi(c.x); math.Abs(p-c.p) > 1e-14 || math.Abs(z-c.z) > 1e-14 {
			t.Errorf("at %g: %.15f and %.15f, printed %.15f and %.15f", c.x, p, z, c.p, c.z)
		}
		if p, z := phi(-c.x); math.Abs(p-(1-c.p)) > 1e-14 || math.Abs(z-c.z) > 1e-14 {
			t.Errorf("at %g: %.15f and %.15f", -c.x, p, z)
		}
	}
}

func TestTheNormalIsRightBetweenTheStepsOfItsTable(t *testing.T) {
	for z := -10.0; z <= 10; z += 0.00071 {
		cum, den := phi(z)
		if math.Abs(cum-exactPhi(z)) > 4e-9 || math.Abs(den-exactDensity(z)) > 1e-8 || den != phiDen(z) || cum != phiCum(z) {
			t.Fatalf("at %g: %g and %g, want %g and %g", z, cum, den, exactPhi(z), exactDensity(z))
		}
	}
	for _, z := range []float64{math.Inf(1), normalEnd, 1e300} {
		if cum, den := phi(z); cum != 1 || den != 0 || phiCum(-z) != 0 || phiDen(-z) != 0 {
			t.Errorf("at %g: %g and %g", z, cum, den)
		}
	}
	if cum, den := phi(math.NaN()); cum != 0 || den != 0 || phiDen(math.NaN()) != 0 {
		t.Error("what is no number has a chance")
	}
}
