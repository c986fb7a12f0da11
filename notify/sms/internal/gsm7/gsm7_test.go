package gsm7

import (
	"bytes"
	"testing"
)

// Places in the tables of 3GPP TS 23.038 sections 6.2.1 and 6.2.1.1.
func TestPlacesInTheStandardsTables(t *testing.T) {
	for text, want := range map[string][]byte{
		"@": {0x00}, "\u00a3": {0x01}, "\n": {0x0A}, "\u0394": {0x10}, "\u039e": {0x1A}, " ": {0x20}, "\u00a4": {0x24}, "0": {0x30},
		"\u00a1": {0x40}, "A": {0x41}, "\u00a7": {0x5F}, "\u00bf": {0x60}, "z": {0x7A}, "\u00e0": {0x7F},
		"\u20ac": {0x1B, 0x65}, "[": {0x1B, 0x3C}, "|": {0x1B, 0x40}, "\\": {0x1B, 0x2F}, "\f": {0x1B, 0x0A},
	} {
		if got, ok := Encode(text); !ok || !bytes.Equal(got, want) {
			t.Errorf("%q: got %x, want %x", text, got, want)
		}
		if got := Decode(want); got != text {
			t.Errorf("%x: got %q, want %q", want, got, text)
		}
	}
	if n := len([]rune(Alphabet())); n != 127+10 {
		t.Errorf("%d characters, want 127 and 10", n)
	}
	if Has('\u00e1') || Has('\u201c') {
		t.Error("it has what it has not")
	}
}

func TestWhatTheTablesLeaveOpen(t *testing.T) {
	for septets, want := range map[string]string{
		"\x1b":         " ",
		"\x1b\x1b":     " ",
		"\x1b\x41":     "A",
		"\x1b\x65\x80": "\u20ac@",
	} {
		if got := Decode([]byte(septets)); got != want {
			t.Errorf("%x: got %q, want %q", septets, got, want)
		}
	}
}
