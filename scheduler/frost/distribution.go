package frost

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Fall is one fall of a distribution, each as likely as any other.
type Fall struct {
	// Year is the season it was observed in; 0 where the date was typed by hand.
	Year int
	// Offset is the frost's days after Aug 1. It means nothing where None is
	// set.
	Offset int
	// None marks a fall that reached Dec 31 without a frost: later than all.
	None bool
}

// Pick says which seasons make a distribution. The zero value takes every
// counted season.
type Pick struct {
	// Before leaves out the season of that year and all later ones: planning for
	// a season uses only seasons finished before it. 0 is no bound.
	Before int
	// From and To bound the years, both included; 0 is no bound.
	From, To int
	// Last keeps only so many of the latest of what is left; 0 is all.
	Last int
	// EvenUncounted takes seasons with too many missing days too.
	EvenUncounted bool
}

func (p Pick) takes(s Season) bool {
	return (p.Before == 0 || s.Year < p.Before) &&
		(p.From == 0 || s.Year >= p.From) && (p.To == 0 || s.Year <= p.To) &&
		(s.Counted || p.EvenUncounted)
}

// Distribution is the spread of first-frost dates, either of a station's
// counted seasons or typed by hand. The zero value knows nothing.
type Distribution struct {
	falls []Fall // by date, those without a frost last
	came  int    // how many of them had a frost

	// A date typed by hand, with its standard deviation in days.
	byHand       bool
	mean, spread float64
}

// Distribute makes the distribution of the picked seasons.
func Distribute(seasons []Season, pick Pick) Distribution {
	var falls []Fall
	for _, s := range seasons {
		if pick.takes(s) {
			f := Fall{Year: s.Year, None: !s.Came()}
			if s.Came() {
				f.Offset = s.Offset()
			}
			falls = append(falls, f)
		}
	}
	if pick.Last > 0 && len(falls) > pick.Last {
		falls = falls[len(falls)-pick.Last:] // seasons come by year
	}
	slices.SortFunc(falls, func(a, b Fall) int { return cmp.Or(a.later()-b.later(), a.Year-b.Year) })
	came := len(falls)
	for came > 0 && falls[came-1].None {
		came--
	}
	return Distribution{falls: falls, came: came}
}

// Distribution is the record's spread at a threshold.
func (r *Record) Distribution(th Threshold, pick Pick) Distribution {
	return Distribute(r.Seasons(th), pick)
}

// later is when a fall lies among others: one without a frost after all.
func (f Fall) later() int {
	if f.None {
		return seasonOf
	}
	return f.Offset
}

// Falls is every fall, by frost date, those without a frost last. A date typed
// by hand has ByHandFalls equally likely ones.
func (d Distribution) Falls() []Fall { return slices.Clone(d.falls) }

// Counted is the number of falls, Frosts of those that had a frost.
func (d Distribution) Counted() int { return len(d.falls) }

// Frosts is the number of falls that had a frost.
func (d Distribution) Frosts() int { return d.came }

// ByHand says whether the date was typed and not taken from a record.
func (d Distribution) ByHand() bool { return d.byHand }

// StillToCome is the falls whose frost came later than today, in days after
// Aug 1, and those without one, by date: what a forecast made today is averaged
// over, each fall as likely as any other.
func (d Distribution) StillToCome(today int) []Fall {
	return slices.DeleteFunc(d.Falls(), func(f Fall) bool { return f.later() <= today })
}

// Mean is the mean offset over the falls that had a frost; false where none
// had.
func (d Distribution) Mean() (float64, bool) {
	if d.byHand {
		return d.mean, true
	}
	if d.came == 0 {
		return 0, false
	}
	sum := 0
	for _, f := range d.falls[:d.came] {
		sum += f.Offset
	}
	return float64(sum) / float64(d.came), true
}

// Unsure is by how many days either way the mean may be off, twice its standard
// error, and the number of falls that count.
func (d Distribution) Unsure() (days float64, falls int) {
	var offsets []float64
	for _, f := range d.falls[:d.came] {
		offsets = append(offsets, float64(f.Offset))
	}
	if d.came > 1 {
		days = 2 * stat.StdErr(stat.StdDev(offsets, nil), float64(d.came))
	}
	return days, len(d.falls)
}

// Quantile is the offset by which a frost has come in percent of 100 falls,
// over all counted seasons: Hyndman and Fan (1996) type 7, with
// h = (n-1) x percent / 100 kept in whole numbers. It is false where a
// neighbour that carries weight is a fall without a frost, or percent is not
// within 1 and 99.
func (d Distribution) Quantile(percent int) (float64, bool) {
	n := len(d.falls)
	if n == 0 || percent < 1 || percent > 99 {
		return 0, false
	}
	if d.byHand {
		if d.spread == 0 || percent == 50 {
			return d.mean, true
		}
		return d.mean + d.spread*distuv.UnitNormal.Quantile(float64(percent)/100), true // not that of the falls
	}
	h := (n - 1) * percent
	low, part := h/100, h%100
	if low >= d.came || part > 0 && low+1 >= d.came {
		return 0, false
	}
	x := d.falls[low].Offset
	if part == 0 {
		return float64(x), true
	}
	// One division at the end keeps 104.9 from becoming 104.90000000000001.
	return float64(x*100+part*(d.falls[low+1].Offset-x)) / 100, true
}

// NearestRank is the plain order statistic: the earliest observed offset by
// which at least percent of the falls had a frost. False as for Quantile.
func (d Distribution) NearestRank(percent int) (int, bool) {
	n := len(d.falls)
	if n == 0 || percent < 1 || percent > 99 {
		return 0, false
	}
	rank := (n*percent + 99) / 100
	if rank > d.came {
		return 0, false
	}
	return d.falls[rank-1].Offset, true
}
