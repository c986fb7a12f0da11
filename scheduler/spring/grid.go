package spring

import (
	"math"

	"github.com/golang-sql/civil"
	"gonum.org/v1/gonum/floats"
)

// A frame has 5 by 5 cells of 15 cm; cells with a plant are counted, throw after throw (J.
// Range Manage. 54:653, 2001).
const (
	FrameCells = 25
	perM2      = 0.4 // plants a square metre for each percent of cells, on the low side (same)
	sure       = 1.96
)

// A Stand is what a frame count says of one: the share of cells with a plant, and plants a
// square metre with the range of 95 in 100 such counts.
type Stand struct {
	Percent float64    `json:"percent"`
	PerM2   float64    `json:"per_m2"`
	Low     float64    `json:"low"`
	High    float64    `json:"high"`
	Since   civil.Date `json:"since,omitzero"` // of the count before
	Was     float64    `json:"was,omitempty"`  // percent then
	Trend   string     `json:"trend,omitempty"`
}

// The trends since the count before.
const (
	Thicker = "thicker"
	Thinner = "thinner"
	Same    = "same" // by no more than two such counts differ by themselves
)

// A Thrown is one count of a paddock: cells with a plant, throw by throw.
type Thrown struct {
	Day   civil.Date
	Cells []float64
}

// Count is the stand by a count, beside the one before it; nil where there was none.
func Count(now Thrown, before *Thrown) Stand {
	share, n := now.share()
	low, high := wilson(share, n)
	s := Stand{Percent: 100 * share, PerM2: 100 * share * perM2, Low: 100 * low * perM2, High: 100 * high * perM2}
	if before == nil {
		return s
	}
	was, of := before.share()
	both := (share*n + was*of) / (n + of)
	s.Since, s.Was, s.Trend = before.Day, 100*was, Same
	switch z := (share - was) / math.Sqrt(both*(1-both)*(1/n+1/of)); {
	case z > sure:
		s.Trend = Thicker
	case z < -sure:
		s.Trend = Thinner
	}
	return s
}

// share is the share of cells with a plant, and of how many.
func (t *Thrown) share() (share, of float64) {
	of = float64(FrameCells * len(t.Cells))
	return floats.Sum(t.Cells) / of, of
}

// wilson is the 95 % interval of a share by E. B. Wilson's score (J. Am. Stat. Assoc. 22,
// 1927).
func wilson(p, n float64) (low, high float64) {
	z2 := sure * sure
	mid, reach := (p+z2/(2*n))/(1+z2/n), sure/(1+z2/n)*math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return max(0, mid-reach), min(1, mid+reach)
}
