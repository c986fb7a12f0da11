package frost

import (
	"fmt"
	"strings"
)

// namedProblems is how many problems of a file are kept by name; the rest is
// only counted, so a bad file costs no memory.
const namedProblems = 10

// Problems is what was wrong in a file and was left out of the record.
type Problems struct {
	// BadLines counts lines that could not be read; nothing of them was used.
	BadLines int
	// Repeated counts second rows for a day (in .dly: for a month) that were
	// passed over, since the first stays.
	Repeated int
	// Impossible counts values beyond any on earth that were left out.
	Impossible int
	// Flagged counts minima, maxima and rain that failed their quality check in
	// the file itself. That is no fault of the file, and they are not named.
	Flagged int
	// Named holds the first few bad lines, repeats and impossible values.
	Named []Problem
}

// Problem is one thing that was wrong, and where.
type Problem struct {
	Line int // 0 where the value was judged once all was read
	Text string
}

// Count is the number of bad lines, repeats and impossible values.
func (p *Problems) Count() int { return p.BadLines + p.Repeated + p.Impossible }

// Lines puts the problems into words, one a line, each `file:line: what`; the
// last line counts what was not named. Empty where there were none.
func (p *Problems) Lines(file string) []string {
	var lines []string
	for _, n := range p.Named {
		where := file
		if n.Line > 0 {
			where = fmt.Sprintf("%s:%d", file, n.Line)
		}
		lines = append(lines, where+": "+n.Text)
	}
	if more := p.Count() - len(p.Named); more > 0 {
		lines = append(lines, fmt.Sprintf("%s: and %d more like these", file, more))
	}
	return lines
}

// String sums the problems up in one line, or is `none`.
func (p *Problems) String() string {
	var parts []string
	for _, c := range []struct {
		n    int
		what string
	}{
		{p.BadLines, "lines that cannot be read"},
		{p.Repeated, "rows that repeat a day"},
		{p.Impossible, "values beyond any on earth"},
		{p.Flagged, "values that failed the station's own quality check"},
	} {
		if c.n > 0 {
			parts = append(parts, fmt.Sprintf("%s: %d", c.what, c.n))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

func (p *Problems) name(line int, format string, args ...any) {
	if len(p.Named) < namedProblems {
		p.Named = append(p.Named, Problem{Line: line, Text: fmt.Sprintf(format, args...)})
	}
}

// repeated counts a second row for a day or month.
func (p *Problems) repeated(line int, what string) {
	p.Repeated++
	p.name(line, "a second row for %s; the first one stays", what)
}

// impossible counts values beyond any on earth, the first of which is named.
func (p *Problems) impossible(line, n int, what string) {
	p.Impossible += n
	p.name(line, "%s is beyond any on earth and is left out; check the unit", what)
}
