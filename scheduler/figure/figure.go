// Package figure is in charge of what a figure of the trade is: one number
// with the source it came from, the range over the sources that disagree, and
// a mark that says how well it is known, best first: read in the publication
// named, quoted by another, recalled, worked out, what graziers do, or only
// assumed.
//
// It knows no grass, no herd and no unit: whoever holds a figure says what it
// measures. It imports nothing.
//
// Invariants:
//
//   - The default is always Value, and never an average of the sources.
//   - A figure without a mark is one nobody vouched for, and says "unmarked".
package figure

// Mark says how well a figure is known.
type Mark uint8

// The marks, best first.
const (
	Read           Mark = iota + 1 // seen in the text of the named publication
	SecondHand                     // seen quoted or re-hosted, from a named specialist or agency
	Memory                         // recalled, not seen: check before relying on it
	Derived                        // our arithmetic from published figures
	CommonPractice                 // what graziers do; no single source
	Assumption                     // ours, nobody published it
)

// String gives the mark in words.
func (m Mark) String() string {
	switch m {
	case Read:
		return "read"
	case SecondHand:
		return "second-hand"
	case Memory:
		return "from memory"
	case Derived:
		return "derived"
	case CommonPractice:
		return "common practice"
	case Assumption:
		return "assumption"
	}
	return "unmarked"
}

// Figure is one number of the trade with where it came from. Low and High are
// the range over the sources that disagree; both are 0 where only one value is
// known. The default is always Value and is never an average of the sources.
type Figure struct {
	Value     float64
	Low, High float64
	Mark      Mark
	Source    string
}

// Known reports whether the figure has a value at all.
func (f Figure) Known() bool { return f.Value > 0 }

// Spread reports whether published sources disagree about the figure.
func (f Figure) Spread() bool { return f.High > f.Low }

// Of is a figure with its range, its mark and its source in one line, as the
// tables of the trade are written.
func Of(value, low, high float64, mark Mark, source string) Figure {
	return Figure{Value: value, Low: low, High: high, Mark: mark, Source: source}
}

// A Named is a figure with what it is a figure of.
type Named struct {
	Of, What, Unit string
	Figure
}

// Names are figures in the order in which they are shown.
type Names []Named

// Add appends a figure where it is known.
func (all *Names) Add(of, what, unit string, f Figure) {
	if f.Known() {
		*all = append(*all, Named{of, what, unit, f})
	}
}
