package grass

// Ask is what a forecast is made from.
type Ask struct {
	Start  float64 // leaf height read, inches
	Behind float64 // S between that reading and today; see Heat for what to put here
	// Ahead has one entry for each past fall of the station whose frost is later
	// than today: that fall's own S from today to its own frost.
	Ahead  []float64
	Target float64 // height wanted at frost, inches; 0 asks for no chance
	NoRain bool    // a manager reported drought: no promise is made
	Scant  bool    // the last 60 days on record were dry: this fall is likely a poor one
	Gone   float64 // S of the rest that was gone by the reading; 0 at the cutoff and before
}

// ScantYear is the mean of the year's effect where the last 60 days on record had
// less than half of their usual rain (assumption; without it a drought over the whole
// farm that nobody had named made a stated 80 % come true in 60 to 68 of 100 falls).
const ScantYear = -0.20

// Forecast is the leaf height expected at first frost, inches, over all falls
// of the record still to come, each counted once.
type Forecast struct {
	Falls     int     // how many falls it rests on; 0 where nothing can be told
	Mean      float64 // mean of the mixture
	Low, High float64 // its 10 and 90 % points
	Chance    float64 // chance of Target or more, 0 to 1; 0 where no target was asked
}

// Known reports whether the forecast carries numbers.
func (f Forecast) Known() bool { return f.Falls > 0 }

// Heat is the S already gone since a height was read, as far as a forecast may
// count it. Heat without rain grows less, not more: observed heat may lower but
// never raise the forecast above the mean year's heat for the same days, unless
// the last 60 days' rain is known to be at or above the station's median.
// Learning always uses what was observed. An observed value that is no number,
// or negative, counts as the mean year's, and a mean that is none as 0.
func Heat(observed, meanYear float64, rainEnough bool) float64 {
	if !(meanYear >= 0) || finite(meanYear, -1) < 0 {
		meanYear = 0
	}
	if !(observed >= 0) || finite(observed, -1) < 0 {
		return meanYear
	}
	if rainEnough {
		return observed
	}
	return min(observed, meanYear)
}

// DaysTaper is the S of the days from `from` to `to` before the frost where no
// station has heat: each day counts 1, tapering in a straight line over the last
// 45 days to 0 at the frost (the taper is an assumption; growth slows as nights
// cool). from is the larger number; days after the frost count nothing.
func DaysTaper(from, to int) float64 {
	const over = 45
	sum := 0.0
	for d := min(from, 3660); d > max(to, 0); d-- {
		sum += min(1, float64(d)/over)
	}
	return sum
}
