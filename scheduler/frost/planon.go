package frost

import (
	"fmt"
	"strconv"
	"strings"
)

// fewestFrosts is how many falls with a frost an average needs, and fewestFalls
// how many falls a level needs: under ten one fall in five is hardly more than
// one fall.
const (
	fewestFrosts = 5
	fewestFalls  = 10
)

// summerFrost is the last day of the first week of August, as an offset.
const summerFrost = 6

// PlanOn is which date of a distribution the farm counts back from: the average
// (the zero value, common practice) or an earlier, more careful level.
type PlanOn struct{ percent int }

// Average plans on the mean date.
var Average = PlanOn{}

// ParsePlanOn reads `average` or a level from `1%` to `50%`: the share of falls
// in which the frost has come by the date.
func ParsePlanOn(text string) (PlanOn, error) {
	bare := strings.ToLower(strings.TrimSpace(text))
	if bare == "average" {
		return Average, nil
	}
	number, isPercent := strings.CutSuffix(bare, "%")
	percent, err := strconv.Atoi(strings.TrimSpace(number))
	switch {
	case err != nil || !isPercent:
		return PlanOn{}, fmt.Errorf("plan_on %q is neither average nor a whole level such as 20%%", text)
	case percent < 1 || percent > 50:
		return PlanOn{}, fmt.Errorf("plan_on %q is no careful level; want 1%% to 50%%, where 20%% means that one fall in five is colder sooner", text)
	}
	return PlanOn{percent: percent}, nil
}

// Level is the plan at a percentage from 1 to 50; anything else is Average.
func Level(percent int) PlanOn {
	if percent < 1 || percent > 50 {
		return Average
	}
	return PlanOn{percent: percent}
}

// Percent is the level, 0 for the average.
func (p PlanOn) Percent() int { return p.percent }

// String is `average` or the level as `20%`.
func (p PlanOn) String() string {
	if p.percent == 0 {
		return "average"
	}
	return strconv.Itoa(p.percent) + "%"
}

// PlanOffset is the planning date as days after Aug 1. An average is refused
// with under 5 frosts or with frost in under half of the seasons, a level with
// under 10 seasons or where it lies past Dec 31, and anything of a record that
// freezes in the first days of August: it is of the southern half of the earth.
// The error says which other choice would do.
func (d Distribution) PlanOffset(on PlanOn) (float64, error) {
	if len(d.falls) == 0 {
		return 0, fmt.Errorf("no season on record counts, so there is no date to plan on; give the date by hand, as frost: {date: 10-18, spread: 10 days}")
	}
	if !d.byHand && d.came > 0 && d.falls[d.came/2].Offset <= summerFrost {
		return 0, fmt.Errorf("most of its first frosts are in the first days of August (the middle one on %s): it is of the southern half of the earth, or of a mountain with frost in summer, and every date here counts on frost coming in fall; take a station near the farm, or give the date by hand", MonthDay(float64(d.falls[d.came/2].Offset)))
	}
	if on.percent > 0 && !d.byHand && len(d.falls) < fewestFalls {
		return 0, fmt.Errorf("a level needs %d falls that count and the record has %d; %sgive the date by hand", fewestFalls, len(d.falls), d.orAverage())
	}
	if on.percent > 0 {
		offset, ok := d.Quantile(on.percent)
		if !ok {
			return 0, fmt.Errorf("the %s date lies past Dec 31: only %d of %d seasons had a frost; choose an earlier level or give the date by hand", on, d.came, len(d.falls))
		}
		return offset, nil
	}
	if !d.byHand && d.came < fewestFrosts {
		return 0, fmt.Errorf("an average needs %d falls with a frost and the record has %d; %sgive the date by hand", fewestFrosts, d.came, d.orLevel())
	}
	if !d.byHand && d.came*2 < len(d.falls) {
		return 0, fmt.Errorf("an average means nothing where only %d of %d falls had a frost; %sgive the date by hand", d.came, len(d.falls), d.orLevel())
	}
	mean, _ := d.Mean()
	return mean, nil
}

// Lately is how many falls stand for the climate of today, as many years as a
// climatological normal has (WMO-No. 1203, 2017).
const Lately = 30

// Lately is the date planned on by all falls and by the last 30 alone, in days
// after Aug 1; false where there are no more than these, or no such date.
func (r *Record) Lately(th Threshold, on PlanOn) (all, late float64, ok bool) {
	whole := r.Distribution(th, Pick{})
	all, errAll := whole.PlanOffset(on)
	late, errLate := r.Distribution(th, Pick{Last: Lately}).PlanOffset(on)
	return all, late, errAll == nil && errLate == nil && whole.Counted() > Lately
}

// orAverage names the other choice where there is one.
func (d Distribution) orAverage() string {
	if d.came < fewestFrosts {
		return ""
	}
	return "plan on the average, or "
}

// orLevel names the other choice where there is one.
func (d Distribution) orLevel() string {
	if len(d.falls) < fewestFalls {
		return ""
	}
	return "choose a level such as 20%, or "
}
