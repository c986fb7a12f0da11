package herd

import (
	"cmp"
	"slices"
)

// Bounds of fall use, all assumptions.
const (
	NoFallUse   = 0.20 // native share up to which none is allowed
	FullFallUse = 0.50 // native share from which a third of the native acres is
	LoneFallUse = 0.30 // native share from which one small paddock may exceed the allowance
)

// NativeShare is native acres over all grazed acres, 0 to 1; 0 where there are
// no acres.
func NativeShare(native, grazed float64) float64 { return min(over(native, grazed), 1) }

// AllowedFallUse is the native acres that may be grazed through their rest in
// one fall: none up to a native share of 20 %, a third of the native acres from
// 50 % up, and a straight line between.
func AllowedFallUse(native, grazed float64) float64 {
	s := NativeShare(native, grazed)
	part := min(max((s-NoFallUse)/(FullFallUse-NoFallUse), 0), 1)
	return finite(atLeast0(native) * part / 3)
}

// Candidate is a native paddock that could be used this fall.
type Candidate struct {
	ID     string
	Acres  float64
	Since  int     // falls since it was last used: 1 is last fall, 0 never
	Chance float64 // chance that it makes its height at frost
}

// Fit says how a candidate fits what is allowed.
type Fit uint8

const (
	Fits    Fit = iota + 1 // the whole paddock is within the allowance
	Lone                   // no paddock fits; this one, the smallest, is within half the native acres
	PartOf                 // no paddock fits: part of it, behind a temporary fence
	TooBig                 // more than is allowed
	LastOne                // used last fall: never two falls running
)

// Offer is a candidate with its rank's verdict.
type Offer struct {
	Candidate
	Fit Fit
	Use float64 // acres that may be used: all of it, a part, or 0. The whole paddock counts as used
}

// RankFallUse ranks the candidates for fall use, best first: longest unused
// (never used before all), then by chance of the height, then by file order;
// those used last fall come last and are never eligible.
//
// Where no eligible paddock fits the allowance and natives are 30 % or more of
// the ground, the smallest eligible is offered whole up to half the native
// acres, else part of the best one.
func RankFallUse(native, grazed float64, candidates []Candidate) []Offer {
	allowed := AllowedFallUse(native, grazed)
	out := make([]Offer, 0, len(candidates))
	fits := false
	for _, c := range candidates {
		o := Offer{Candidate: c, Fit: TooBig}
		switch {
		case c.Since == 1:
			o.Fit = LastOne
		case positive(c.Acres) && c.Acres <= allowed+1e-9:
			o.Fit, o.Use, fits = Fits, c.Acres, true
		}
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b Offer) int {
		return cmp.Or(idle(b.Since)-idle(a.Since), cmp.Compare(share(b.Chance), share(a.Chance)))
	})
	if !fits && allowed > 0 && NativeShare(native, grazed) >= LoneFallUse-1e-12 {
		offerOne(out, allowed, native/2)
	}
	return out
}

// offerOne offers the smallest eligible paddock up to most acres whole, or part
// of the best-ranked one.
func offerOne(out []Offer, allowed, most float64) {
	small, best := -1, -1
	for i, o := range out {
		if o.Fit != TooBig || !positive(o.Acres) {
			continue
		}
		if best < 0 {
			best = i
		}
		if o.Acres <= most+1e-9 && (small < 0 || o.Acres < out[small].Acres) {
			small = i
		}
	}
	switch {
	case small >= 0:
		out[small].Fit, out[small].Use = Lone, out[small].Acres
	case best >= 0:
		out[best].Fit, out[best].Use = PartOf, allowed
	}
}

// idle is falls unused, with never as the longest.
func idle(since int) int {
	if since <= 0 {
		return 1 << 30
	}
	return since
}
