package frost

// ChanceBy is the share of counted falls that had a frost by the given day, in
// days after Aug 1; false where the distribution has no falls.
func (d Distribution) ChanceBy(day int) (float64, bool) {
	if len(d.falls) == 0 {
		return 0, false
	}
	return float64(d.by(day)) / float64(len(d.falls)), true
}

// ChanceByGiven is the chance that a frost has come by the end of a day, given
// that none has come up to and with today, both in days after Aug 1. It is
// false where no fall on record was still without a frost then, since nothing
// is known of such a year.
func (d Distribution) ChanceByGiven(day, today int) (float64, bool) {
	gone := d.by(today)
	left := len(d.falls) - gone
	if left == 0 {
		return 0, false
	}
	return float64(max(0, d.by(day)-gone)) / float64(left), true
}

// StillToCome is the falls whose frost came later than today, in days after
// Aug 1, and those without one, by date: what a forecast made today is averaged
// over, each fall as likely as any other.
func (d Distribution) StillToCome(today int) []Fall { return d.Falls()[d.by(today):] }

// by counts the falls with a frost on or before a day.
func (d Distribution) by(day int) int {
	n := 0
	for n < d.came && d.falls[n].Offset <= day {
		n++
	}
	return n
}
