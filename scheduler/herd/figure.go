package herd

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
