package frost

import (
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/golang-sql/civil"
)

// ByHandFalls is how many equally likely falls stand for a date typed by hand
// with a spread. Without a spread there is one.
const ByHandFalls = 100

// mostSpread is the widest standard deviation taken, in days. First-freeze
// dates of a station spread about 10 to 14 days (derived from the 10-90 %
// ranges of the records the tests read); 60 is no forecast any more.
const mostSpread = 60

// HandDistribution is a first-frost date typed by hand. Spread is the standard
// deviation in days, 0 to 60; 0 is that single date. The dates are taken as
// normal (assumption) and stand as equally likely falls, so that whoever
// integrates over a station's falls can integrate over these: fall i of n lies
// at the normal quantile (i - 1/2) / n, to the nearest day.
func HandDistribution(month time.Month, day int, spread float64) (Distribution, error) {
	date := civil.Date{Year: 2001, Month: month, Day: day}
	if !date.IsValid() || Offset(date) < 0 {
		return Distribution{}, fmt.Errorf("frost date %d-%02d is no day from 08-01 to 12-31; write it as 10-18", month, day)
	}
	if !(spread >= 0 && spread <= mostSpread) {
		return Distribution{}, fmt.Errorf("frost spread %g days is not from 0 to %d; about 10 days is usual", spread, mostSpread)
	}
	d := Distribution{byHand: true, mean: float64(Offset(date)), spread: spread}
	n := ByHandFalls
	if spread == 0 {
		n = 1
	}
	for i := range n {
		z := distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(n))
		// Halves go away from the mean on both sides, so the mean stays the date.
		d.falls = append(d.falls, Fall{Offset: Offset(date) + int(math.Round(z*spread))})
	}
	d.came = n
	return d, nil
}
