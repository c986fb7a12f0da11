package frost

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The table of remembered groups must not show: a line read with one that has
// seen much gives what each group gives by itself.
func TestAGroupReadFromMemoryIsTheGroupReadAnew(t *testing.T) {
	memo := new(memo)
	rapid.Check(t, func(t *rapid.T) {
		var line strings.Builder
		for range 31 {
			group := fmt.Sprintf("%5d", rapid.IntRange(-9999, 99999).Draw(t, "value"))
			if rapid.Bool().Draw(t, "odd") {
				group = rapid.StringMatching(`[ 0-9.\-+a]{5}`).Draw(t, "group")
			}
			line.WriteString(group + rapid.StringMatching(`[ BDH][ GIX][ 0Z]`).Draw(t, "flags"))
		}
		for i, got := range memo.month([]byte(line.String())) {
			group := line.String()[i*dlyGroup:][:dlyGroup]
			want, bad := plainDlyValue(group)
			switch {
			case bad:
				want = unreadable
			case want != NoTemp && group[6] != ' ':
				want = flagged
			}
			if got != want {
				t.Fatalf("%q is %d, want %d", group, got, want)
			}
		}
	})
}

// plainDlyValue reads a group by way of the standard library.
func plainDlyValue(group string) (t Temp, bad bool) {
	text := strings.TrimLeft(group[:5], " ")
	if text == "" {
		return NoTemp, false
	}
	n, err := strconv.Atoi(text)
	switch {
	case err != nil || text[0] == '+':
		return NoTemp, true
	case n == ghcnMissing:
		return NoTemp, false
	}
	return Temp(n) * 100, false
}

func TestANumberWithOneDecimalIsReadAsTheStandardLibraryDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[ ]{0,3}-?[0-9]{0,4}[.]?[0-9]{0,2}`).Draw(t, "text")
		for len(text) < 7 {
			text = " " + text
		}
		text = text[:7]
		got, ok := tenths([]byte(text))
		bare := strings.TrimLeft(text, " ")
		want, err := strconv.ParseFloat(bare, 64)
		point := strings.IndexByte(bare, '.')
		sound := err == nil && point >= 1 && point == len(bare)-2 && bare != "-."+bare[len(bare)-1:]
		if ok != sound || ok && float64(got)/10 != want {
			t.Fatalf("%q is %d (%v), want %g (%v)", text, got, ok, want, sound)
		}
	})
}
