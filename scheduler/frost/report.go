package frost

import (
	"math"
	"slices"
	"strconv"

	"github.com/golang-sql/civil"
)

// Levels are the levels that dates are given at, in percent, those of NOAA's
// freeze and frost probabilities (NOAA NCEI, readme of the 1981-2010
// Supplemental Normals): the chance that the threshold is reached on or before
// the date, so 10 % is the early and careful one.
func Levels() []int { return []int{10, 20, 30, 40, 50, 60, 70, 80, 90} }

// RestChoices are the rest days that a cutoff is shown for, the usual 45 to 60
// (common practice).
func RestChoices() []int { return []int{45, 60} }

// PlanChoices are the dates that a farm is shown to choose among.
func PlanChoices() []PlanOn { return []PlanOn{Average, Level(50), Level(20), Level(10)} }

// Report is what a station's record says of the first fall frost, at several
// thresholds side by side.
type Report struct {
	Record  *Record
	Pick    Pick
	Plan    Threshold // the one that cutoffs are counted back from
	Columns []Column  // warmest threshold first
}

// Column is one threshold of a report.
type Column struct {
	Threshold    Threshold
	Seasons      []Season // every one in the picked years, counted or not
	Distribution Distribution
}

// NewReport looks at a record at 36, 32 and 28 F, and at the planning threshold
// where it is none of these. Pick bounds the years.
func NewReport(r *Record, plan Threshold, pick Pick) Report {
	rep := Report{Record: r, Pick: pick, Plan: plan}
	thresholds := []Threshold{Frost36F, Freeze32F, KillingFreeze28F}
	if !slices.ContainsFunc(thresholds, func(th Threshold) bool { return th.limit == plan.limit }) {
		thresholds = append(thresholds, plan)
	}
	slices.SortFunc(thresholds, func(a, b Threshold) int { return int(b.limit - a.limit) })
	for _, th := range thresholds {
		rep.Columns = append(rep.Columns, rep.column(th))
	}
	return rep
}

func (rep Report) column(th Threshold) Column {
	c := Column{Threshold: th}
	all := rep.Pick
	all.EvenUncounted = true
	for _, s := range rep.Record.Seasons(th) {
		if all.takes(s) {
			c.Seasons = append(c.Seasons, s)
		}
	}
	c.Distribution = Distribute(c.Seasons, rep.Pick)
	return c
}

// Planned is the column of the planning threshold.
func (rep Report) Planned() Column {
	for _, c := range rep.Columns {
		if c.Threshold.limit == rep.Plan.limit {
			return c
		}
	}
	return Column{}
}

// Cutoff is the first day of rest, in the year given, that a choice and a
// number of rest days make, and the frost date it is counted back from.
func (rep Report) Cutoff(year int, on PlanOn, rest int) (cutoff, frostDate civil.Date, err error) {
	offset, err := rep.Planned().Distribution.PlanOffset(on)
	if err != nil {
		return civil.Date{}, civil.Date{}, err
	}
	frostDate = DateIn(year, offset)
	return frostDate.AddDays(-rest), frostDate, nil
}

// Summary is one threshold of a report in the form that other programs read.
// What is not known is null.
type Summary struct {
	Station   string          `json:"station,omitempty"`
	Threshold string          `json:"threshold"`
	Units     string          `json:"units,omitempty"` // where only the values told them
	Seasons   []SeasonSummary `json:"seasons"`
	// Mean and Quantiles are MM-DD, the quantiles by level.
	Mean      *string            `json:"mean"`
	Quantiles map[string]*string `json:"quantiles"`
	// MeanOffset and QuantileOffsets are the same in days after Aug 1, to four
	// decimals.
	MeanOffset      *float64            `json:"mean_offset"`
	QuantileOffsets map[string]*float64 `json:"quantile_offsets"`
	Trend           *TrendSummary       `json:"trend"`
	Problems        []string            `json:"problems,omitempty"`
}

// SeasonSummary is one season of a summary.
type SeasonSummary struct {
	Year    int         `json:"year"`
	First   *civil.Date `json:"first"`
	Counted bool        `json:"counted"`
	Missing int         `json:"missing"`
	Why     string      `json:"why,omitempty"`
}

// TrendSummary is the trend in days a decade with its 95 % interval.
type TrendSummary struct {
	DaysPerDecade float64 `json:"days_per_decade"`
	Low           float64 `json:"low"`
	High          float64 `json:"high"`
	Clear         bool    `json:"clear"`
}

// Summary is the report's planning threshold for other programs.
func (rep Report) Summary() Summary {
	c := rep.Planned()
	s := Summary{
		Station:         rep.Record.Station,
		Threshold:       rep.Plan.String(),
		Units:           rep.Record.Units,
		Seasons:         []SeasonSummary{},
		Quantiles:       map[string]*string{},
		QuantileOffsets: map[string]*float64{},
		Problems:        rep.Record.Problems.Lines(rep.Record.Name),
	}
	for _, season := range c.Seasons {
		row := SeasonSummary{Year: season.Year, Counted: season.Counted, Missing: season.Missing, Why: season.Why}
		if season.Came() {
			row.First = &season.First
		}
		s.Seasons = append(s.Seasons, row)
	}
	s.Mean, s.MeanOffset = shown(c.Distribution.Mean())
	for _, percent := range Levels() {
		key := strconv.Itoa(percent)
		s.Quantiles[key], s.QuantileOffsets[key] = shown(c.Distribution.Quantile(percent))
	}
	if t, ok := c.Distribution.Trend(); ok {
		s.Trend = &TrendSummary{round(t.PerDecade, 100), round(t.Low, 100), round(t.High, 100), t.Clear()}
	}
	return s
}

// shown is an offset as date and as number, both nil where it is not known.
func shown(offset float64, ok bool) (*string, *float64) {
	if !ok {
		return nil, nil
	}
	date, rounded := MonthDay(offset), round(offset, 10_000)
	return &date, &rounded
}

func round(x, places float64) float64 { return math.Round(x*places) / places }
