package herd

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAllowedFallUse(t *testing.T) {
	for _, c := range []struct {
		name           string
		native, grazed float64
		want           float64
	}{
		{"a fifth native: none", 20, 100, 0},
		{"less than a fifth: none", 10, 100, 0},
		{"just over a fifth", 26, 100, 26 * 0.2 / 3},
		{"35 %: half way, a sixth of the native acres", 35, 100, 35.0 / 6},
		{"half native: a third", 50, 100, 50.0 / 3},
		{"nothing but natives: a third", 90, 90, 30},
		{"no natives", 0, 100, 0},
		{"no ground", 0, 0, 0},
		{"native acres that are no number", math.NaN(), 100, 0},
		{"ground below nothing", 50, -1, 0},
	} {
		t.Run(c.name, func(t *testing.T) { near(t, "acres", AllowedFallUse(c.native, c.grazed), c.want, 1e-9) })
	}
	near(t, "share", NativeShare(26, 100), 0.26, 1e-12)
}

func TestRankFallUse(t *testing.T) {
	offers := func(native, grazed float64, cs ...Candidate) []Offer { return RankFallUse(native, grazed, cs) }
	ids := func(os []Offer) (s string) {
		for _, o := range os {
			s += o.ID + " "
		}
		return s
	}

	t.Run("longest unused first, then the better chance; last fall's never", func(t *testing.T) {
		os := offers(60, 100, Candidate{"last", 10, 1, 0.99}, Candidate{"two", 10, 2, 0.5}, Candidate{"three", 10, 3, 0.2},
			Candidate{"never, poor", 10, 0, 0.3}, Candidate{"never, good", 10, 0, 0.8})
		if got := ids(os); got != "never, good never, poor three two last " {
			t.Errorf("order %s", got)
		}
		if last := os[4]; last.Fit != LastOne || last.Use != 0 {
			t.Errorf("last fall's is offered: %+v", last)
		}
		if os[0].Fit != Fits || os[0].Use != 10 {
			t.Errorf("the best is not offered whole: %+v", os[0])
		}
	})
	t.Run("too big for the third, but the smallest is within half the native acres", func(t *testing.T) {
		os := offers(60, 100, Candidate{"big", 35, 0, 0.9}, Candidate{"small", 25, 2, 0.4}) // allowed 20, half 30
		if os[0].Fit != TooBig || os[1].Fit != Lone || os[1].Use != 25 {
			t.Errorf("%+v", os)
		}
	})
	t.Run("none within half: part of the best behind a temporary fence", func(t *testing.T) {
		os := offers(60, 100, Candidate{"only", 60, 2, 0.4})
		if os[0].Fit != PartOf || math.Abs(os[0].Use-20) > 1e-9 {
			t.Errorf("%+v", os)
		}
	})
	t.Run("under 30 % native and none fits: none", func(t *testing.T) {
		os := offers(26, 100, Candidate{"only", 13, 0, 0.9})
		if os[0].Fit != TooBig || os[0].Use != 0 {
			t.Errorf("%+v", os)
		}
	})
	t.Run("exactly 30 % native lets one small paddock through", func(t *testing.T) {
		if os := offers(30, 100, Candidate{"small", 15, 0, 0.9}); os[0].Fit != Lone {
			t.Errorf("%+v", os)
		}
	})
	t.Run("a fifth native: none, however small", func(t *testing.T) {
		if os := offers(20, 100, Candidate{"tiny", 0.1, 0, 1}); os[0].Use != 0 {
			t.Errorf("%+v", os)
		}
	})
	t.Run("only last fall's is left: none", func(t *testing.T) {
		if os := offers(60, 100, Candidate{"last", 60, 1, 1}); os[0].Fit != LastOne || os[0].Use != 0 {
			t.Errorf("%+v", os)
		}
	})
	t.Run("no candidates, no offers", func(t *testing.T) {
		if os := offers(60, 100); len(os) != 0 {
			t.Errorf("%+v", os)
		}
	})
}

func TestFallUseNeverOversteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grazed := rapid.Float64Range(1, 500).Draw(t, "grazed")
		native := rapid.Float64Range(0, grazed).Draw(t, "native")
		cs := make([]Candidate, rapid.IntRange(0, 6).Draw(t, "candidates"))
		for i := range cs {
			cs[i] = Candidate{string(rune('a' + i)), rapid.Float64Range(0, 200).Draw(t, "acres"), rapid.IntRange(0, 4).Draw(t, "since"), rapid.Float64Range(0, 1).Draw(t, "chance")}
		}
		allowed := AllowedFallUse(native, grazed)
		if more := AllowedFallUse(min(native*1.1, grazed), grazed); more < allowed-1e-9 {
			t.Fatalf("more native ground allows less: %g after %g", more, allowed)
		}
		for _, o := range RankFallUse(native, grazed, cs) {
			most := allowed
			if o.Fit == Lone {
				most = native / 2
			}
			if o.Use > most+1e-6 || o.Since == 1 && o.Use > 0 || o.Use > o.Acres+1e-9 {
				t.Fatalf("%+v of allowed %g, native %g of %g", o, allowed, native, grazed)
			}
		}
	})
}
