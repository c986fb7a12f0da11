package figure

import "testing"

func TestAMarkSaysHowWellAFigureIsKnown(t *testing.T) {
	for mark, want := range map[Mark]string{
		Read: "read", SecondHand: "second-hand", Memory: "from memory", Derived: "derived",
		CommonPractice: "common practice", Assumption: "assumption", 0: "unmarked", Assumption + 1: "unmarked",
	} {
		if got := mark.String(); got != want {
			t.Errorf("mark %d is %q, want %q", uint8(mark), got, want)
		}
	}
}

func TestAFigureTellsItsRangeAndWhetherItIsKnown(t *testing.T) {
	for _, c := range []struct {
		name          string
		figure        Figure
		known, spread bool
	}{
		{"eight inches, sources say six to sixteen", Of(8, 6, 16, CommonPractice, "graziers"), true, true},
		{"one source alone has no range", Of(8, 0, 0, Read, "one leaflet"), true, false},
		{"sources that agree are no range", Of(8, 8, 8, Read, "two leaflets"), true, false},
		{"nobody says how tall", Figure{}, false, false},
	} {
		if c.figure.Known() != c.known || c.figure.Spread() != c.spread {
			t.Errorf("%s: known %v, spread %v", c.name, c.figure.Known(), c.figure.Spread())
		}
	}
}

func TestTheLineOfATableKeepsEveryPart(t *testing.T) {
	if got := Of(14, 5, 21, Read, "a bulletin"); got != (Figure{Value: 14, Low: 5, High: 21, Mark: Read, Source: "a bulletin"}) {
		t.Errorf("got %+v", got)
	}
}
