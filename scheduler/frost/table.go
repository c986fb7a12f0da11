package frost

import (
	"cmp"
	_ "embed"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/template"
)

//go:embed table.tmpl
var tableText string

var tableTemplate = template.Must(template.New("table").Funcs(template.FuncMap{
	"name": Column.name, "season": seasonCell, "long": longDate,
	"dropped": Report.dropped, "blank": Report.blankFalls,
	"levels": Levels, "rests": RestChoices, "plans": PlanChoices, "cutoffs": Report.cutoffCells,
	"earliest": func(c Column) string { return c.extreme(0) },
	"latest":   func(c Column) string { return c.extreme(c.Distribution.came - 1) },
	"average":  Column.average, "by": Column.by, "behind": Report.behind, "trend": Column.trend,
}).Parse(tableText))

// WriteTable writes the report as plain text: every season, the dropped ones
// and why, the dates by level side by side, the trend, and the cutoffs.
func (rep Report) WriteTable(w io.Writer) error {
	var wide, out strings.Builder
	if err := tableTemplate.Execute(&wide, rep); err != nil {
		return err
	}
	for line := range strings.Lines(wide.String()) {
		out.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// tradeNames are the trade's words for the thresholds that have one.
var tradeNames = map[Threshold]string{Frost36F: "36F frost", Freeze32F: "32F freeze", KillingFreeze28F: "28F killing"}

func (c Column) name() string { return cmp.Or(tradeNames[c.Threshold], c.Threshold.String()) }

// seasonCell is a season's date, in brackets where it does not count.
func seasonCell(s Season) string {
	text := "none by Dec 31"
	if s.Came() {
		text = shortDate(s.First)
	} else if !s.Later.IsZero() && s.Counted {
		text = "none (" + shortDate(s.Later) + ")"
	}
	if !s.Counted {
		text = "[" + text + "]"
	}
	return text
}

// dropped is a line for each season that does not count at a threshold.
func (rep Report) dropped() []string {
	var lines []string
	for _, c := range rep.Columns {
		for _, s := range c.Seasons {
			if !s.Counted {
				lines = append(lines, fmt.Sprintf("%d %s: %s", s.Year, c.Threshold, s.Why))
			}
		}
	}
	return lines
}

// blankFalls are the years between the first and the last season of which the
// record has no fall at all.
func (rep Report) blankFalls() string {
	seasons := rep.Columns[0].Seasons
	var years []string
	for i := 1; i < len(seasons); i++ {
		switch from, to := seasons[i-1].Year+1, seasons[i].Year-1; {
		case from == to:
			years = append(years, fmt.Sprint(from))
		case from < to:
			years = append(years, fmt.Sprintf("%d-%d", from, to))
		}
	}
	return strings.Join(years, ", ")
}

// extreme is the date and year of one frost in order of date.
func (c Column) extreme(i int) string {
	if i < 0 || i >= c.Distribution.came {
		return "-"
	}
	f := c.Distribution.falls[i]
	return longDate(DateIn(f.Year, float64(f.Offset)))
}

func (c Column) average() string {
	mean, ok := c.Distribution.Mean()
	if !ok {
		return "-"
	}
	return shortDate(DateIn(2001, mean))
}

// by is the date by which percent of the falls had a frost.
func (c Column) by(percent int) string {
	switch offset, ok := c.Distribution.Quantile(percent); {
	case ok:
		return shortDate(DateIn(2001, offset))
	case c.Distribution.Counted() == 0:
		return "-"
	}
	return "past Dec 31"
}

// behind is by how many days the frosts of a column come after those of the one before,
// over the falls that count and have both.
func (rep Report) behind(i int) string {
	if i == 0 {
		return ""
	}
	warm, cold := rep.Columns[i-1].Distribution, rep.Columns[i].Distribution
	first, days := map[int]int{}, []int{}
	for _, f := range warm.falls[:warm.came] {
		first[f.Year] = f.Offset
	}
	sum := 0
	for _, f := range cold.falls[:cold.came] {
		if from, ok := first[f.Year]; ok {
			days = append(days, f.Offset-from)
			sum += f.Offset - from
		}
	}
	if len(days) == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f (%d to %d)", float64(sum)/float64(len(days)), slices.Min(days), slices.Max(days))
}

func (c Column) trend() string {
	if trend, ok := c.Distribution.Trend(); ok {
		return trend.String()
	}
	return fmt.Sprintf("%d frosts are too few for one (%d are needed)", c.Distribution.Frosts(), fewestTrendFrosts)
}

// cutoffCells is the frost date of a choice and its cutoff at each number of
// rest days, or why it has none.
func (rep Report) cutoffCells(on PlanOn) []string {
	var cells []string
	for _, rest := range RestChoices() {
		cutoff, date, err := rep.Cutoff(2001, on, rest)
		if err != nil {
			return []string{err.Error()}
		}
		if cells == nil {
			cells = []string{shortDate(date)}
		}
		cells = append(cells, shortDate(cutoff))
	}
	return cells
}
