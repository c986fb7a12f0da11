package frost

import (
	"fmt"
	"io"
	"strings"

	"github.com/golang-sql/civil"
)

// The widths of the table's columns.
const (
	labelWidth  = 26
	columnWidth = 17
)

// table gathers lines, so that only one write can fail.
type table struct{ strings.Builder }

func (t *table) line(format string, args ...any) {
	t.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " "))
	t.WriteByte('\n')
}

// row is a label and one text for each column.
func (t *table) row(label string, cells ...string) {
	line := fmt.Sprintf("%-*s", labelWidth, label)
	for _, c := range cells {
		line += fmt.Sprintf("%-*s", columnWidth, c)
	}
	t.line("%s", line)
}

// WriteTable writes the report as plain text: every season, the dropped ones
// and why, the dates by level side by side, the trend, and the cutoffs.
func (rep Report) WriteTable(w io.Writer) error {
	var t table
	r := rep.Record
	t.line("First fall frost, %s", rep.title())
	t.line("Record from %s to %s, %s; season Aug 1 to Dec 31", longDate(r.First()), longDate(r.Last()), r.Format)
	t.line("")
	rep.writeSeasons(&t)
	rep.writeDropped(&t)
	rep.writeDates(&t)
	rep.writeTrends(&t)
	rep.writeCutoffs(&t)
	if lines := r.Problems.Lines(r.Name); len(lines) > 0 || r.Problems.Flagged > 0 {
		t.line("Left out of the record: %s", r.Problems.String())
		for _, l := range lines {
			t.line("  %s", l)
		}
	}
	_, err := io.WriteString(w, t.String())
	return err
}

// title names the station, or the file where the record does not.
func (rep Report) title() string {
	title := rep.Record.Name
	if rep.Record.Station != "" {
		title = "station " + rep.Record.Station
	}
	switch p := rep.Pick; {
	case p.From != 0 && p.To != 0:
		title += fmt.Sprintf(", falls of %d to %d", p.From, p.To)
	case p.From != 0:
		title += fmt.Sprintf(", falls from %d on", p.From)
	case p.To != 0:
		title += fmt.Sprintf(", falls to %d", p.To)
	}
	return title
}

// names are the trade's words for the thresholds that have one.
func (c Column) names() string {
	switch c.Threshold {
	case Frost36F:
		return "36F frost"
	case Freeze32F:
		return "32F freeze"
	case KillingFreeze28F:
		return "28F killing"
	}
	return c.Threshold.String()
}

// cells is one text for each column.
func (rep Report) cells(of func(Column) string) []string {
	var cells []string
	for _, c := range rep.Columns {
		cells = append(cells, of(c))
	}
	return cells
}

func (rep Report) writeSeasons(t *table) {
	t.row("season", rep.cells(Column.names)...)
	at := make([]map[int]Season, len(rep.Columns))
	for i, c := range rep.Columns {
		at[i] = map[int]Season{}
		for _, s := range c.Seasons {
			at[i][s.Year] = s
		}
	}
	for _, s := range rep.Columns[0].Seasons {
		var cells []string
		for i := range rep.Columns {
			cells = append(cells, seasonCell(at[i][s.Year]))
		}
		t.row(fmt.Sprint(s.Year), cells...)
	}
	t.line("")
}

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

func (rep Report) writeDropped(t *table) {
	heading := false
	for _, c := range rep.Columns {
		for _, s := range c.Seasons {
			if s.Counted {
				continue
			}
			if !heading {
				t.line("Dropped, in [ ], since 10 %% or more of the days are missing:")
				heading = true
			}
			t.line("  %d %s: %s", s.Year, c.Threshold, s.Why)
		}
	}
	if !heading {
		t.line("No season had to be dropped for missing days.")
	}
	if years := rep.blankFalls(); len(years) > 0 {
		t.line("Falls within the record without a single minimum: %s", strings.Join(years, ", "))
	}
	t.line("")
}

// blankFalls are the years between the first and the last season of which the
// record has no fall at all.
func (rep Report) blankFalls() []string {
	seasons := rep.Columns[0].Seasons
	var years []string
	for i := 1; i < len(seasons); i++ {
		from, to := seasons[i-1].Year+1, seasons[i].Year-1
		switch {
		case from == to:
			years = append(years, fmt.Sprint(from))
		case from < to:
			years = append(years, fmt.Sprintf("%d-%d", from, to))
		}
	}
	return years
}

func (rep Report) writeDates(t *table) {
	t.row("over the seasons counted", rep.cells(Column.names)...)
	t.row("seasons counted", rep.cells(func(c Column) string { return fmt.Sprint(c.Distribution.Counted()) })...)
	t.row("of these with a frost", rep.cells(func(c Column) string { return fmt.Sprint(c.Distribution.Frosts()) })...)
	t.row("earliest", rep.cells(func(c Column) string { return c.extreme(0) })...)
	t.row("average", rep.cells(meanCell)...)
	for _, percent := range Levels() {
		t.row(fmt.Sprintf("%d %% of falls by", percent), rep.cells(func(c Column) string { return quantileCell(c, percent) })...)
	}
	t.row("latest", rep.cells(func(c Column) string { return c.extreme(c.Distribution.came - 1) })...)
	gaps := []string{""}
	for i := 1; i < len(rep.Columns); i++ {
		g, ok := Between(rep.Columns[i-1], rep.Columns[i])
		if !ok {
			gaps = append(gaps, "-")
			continue
		}
		gaps = append(gaps, fmt.Sprintf("%.1f (%d to %d)", g.Mean, g.Min, g.Max))
	}
	t.row("days behind, mean (range)", gaps...)
	t.line("")
}

// extreme is the date and year of one frost in order of date.
func (c Column) extreme(i int) string {
	if i < 0 || i >= c.Distribution.came {
		return "-"
	}
	f := c.Distribution.falls[i]
	return longDate(DateIn(f.Year, float64(f.Offset)))
}

func meanCell(c Column) string {
	mean, ok := c.Distribution.Mean()
	if !ok {
		return "-"
	}
	return shortDate(DateIn(2001, mean))
}

func quantileCell(c Column, percent int) string {
	offset, ok := c.Distribution.Quantile(percent)
	switch {
	case ok:
		return shortDate(DateIn(2001, offset))
	case c.Distribution.Counted() == 0:
		return "-"
	}
	return "past Dec 31"
}

func (rep Report) writeTrends(t *table) {
	for _, c := range rep.Columns {
		text := fmt.Sprintf("%d frosts are too few for one (%d are needed)", c.Distribution.Frosts(), fewestTrendFrosts)
		if trend, ok := c.Distribution.Trend(); ok {
			text = trend.String()
		}
		t.line("Trend %s: %s", c.Threshold, text)
	}
	t.line("")
}

func (rep Report) writeCutoffs(t *table) {
	head := []string{"frost date"}
	for _, rest := range RestChoices() {
		head = append(head, fmt.Sprintf("%d days of rest", rest))
	}
	t.row("cutoff, counted from "+rep.Plan.String(), head...)
	for _, on := range PlanChoices() {
		var cells []string
		for _, rest := range RestChoices() {
			cutoff, date, err := rep.Cutoff(2001, on, rest)
			if err != nil {
				t.line("%-*s%v", labelWidth, "plan_on: "+on.String(), err)
				break
			}
			if len(cells) == 0 {
				cells = append(cells, shortDate(date))
			}
			cells = append(cells, shortDate(cutoff))
		}
		if len(cells) > 0 {
			t.row("plan_on: "+on.String(), cells...)
		}
	}
	t.line("")
}

func shortDate(d civil.Date) string {
	if d.IsZero() {
		return "-"
	}
	return fmt.Sprintf("%s %d", d.Month.String()[:3], d.Day)
}

func longDate(d civil.Date) string {
	if d.IsZero() {
		return "-"
	}
	return fmt.Sprintf("%s %d", shortDate(d), d.Year)
}
