package gsm

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// Source of the alphabet: 3GPP TS 23.038 (V18), clause 6.2.1 (default alphabet,
// 128 codes, 0x1B the escape) and 6.2.1.1 (extension table). Source of the
// sizes: 3GPP TS 23.040 (V18), clause 9.2.3.16 (TP-UDL: 160 septets or 140
// octets) and 9.2.3.24.1 (concatenation header, 6 octets, 7 septets with the
// fill bit). Both from memory (high), the sizes also from the reports of two
// independent encoders that cut at 153.

func TestTheAlphabetHasItsCodesInTheirPlaces(t *testing.T) {
	runes := basic
	if len(runes) != 128 {
		t.Fatalf("the default alphabet has %d codes, want 128", len(runes))
	}
	for code, want := range map[int]rune{ // spread over the table of clause 6.2.1
		0x00: '@', 0x01: '£', 0x02: '$', 0x09: 'Ç', 0x0A: '\n', 0x0D: '\r', 0x10: 'Δ', 0x11: '_', 0x12: 'Φ',
		0x1B: '\x1b', 0x1C: 'Æ', 0x1E: 'ß', 0x1F: 'É', 0x20: ' ', 0x24: '¤', 0x30: '0', 0x39: '9', 0x3F: '?',
		0x40: '¡', 0x41: 'A', 0x5A: 'Z', 0x5B: 'Ä', 0x5C: 'Ö', 0x5D: 'Ñ', 0x5E: 'Ü', 0x5F: '§', 0x60: '¿',
		0x61: 'a', 0x7A: 'z', 0x7B: 'ä', 0x7C: 'ö', 0x7D: 'ñ', 0x7E: 'ü', 0x7F: 'à',
	} {
		if runes[code] != want {
			t.Errorf("code %#02x is %q, want %q", code, runes[code], want)
		}
	}
	seen := map[rune]bool{}
	for _, r := range slices.Concat(basic, slices.Collect(maps.Values(extension))) {
		if seen[r] {
			t.Errorf("%q stands twice", r)
		}
		seen[r] = true
	}
}

func TestSeptetsAndSegmentsOfAText(t *testing.T) {
	a := func(n int) string { return strings.Repeat("a", n) }
	for _, c := range []struct {
		name              string
		text              string
		septets, segments int
	}{
		{"an empty text takes one segment", "", 0, 1},
		{"160 letters are one segment", a(160), 160, 1},
		{"161 letters are two", a(161), 161, 2},
		{"306 letters are two segments of 153", a(306), 306, 2},
		{"307 letters are three", a(307), 307, 3},
		{"459 letters are three segments of 153", a(459), 459, 3},
		{"the euro counts two", "€", 2, 1},
		{"every character of the extension table counts two", "^{}\\[~]|€", 18, 1},
		{"accents of the alphabet count one", "éñàèìòùüöäÑÉ¿¡", 14, 1},
		{"159 letters and a bracket are 161 septets", a(159) + "[", 161, 2},
		{"158 letters and a bracket are one segment", a(158) + "[", 160, 1},
		{"an escape pair is not split: the bracket goes to the next segment", a(152) + "[" + a(151), 305, 2},
		{"and so one septet less fits two segments", a(152) + "[" + a(152), 306, 3},
		{"80 brackets are one segment", strings.Repeat("[", 80), 160, 1},
		{"153 brackets do not fit two: 76 a segment", strings.Repeat("[", 153), 306, 3},
		{"70 units of UCS-2 are one segment", strings.Repeat("á", 70), 70, 1},
		{"71 are two", strings.Repeat("á", 71), 71, 2},
		{"134 units are two segments of 67", strings.Repeat("á", 134), 134, 2},
		{"135 are three", strings.Repeat("á", 135), 135, 3},
		{"a surrogate pair is not split", strings.Repeat("á", 66) + "🐄" + strings.Repeat("á", 66), 133, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Septets(c.text); got != c.septets {
				t.Errorf("septets: got %d, want %d", got, c.septets)
			}
			if got := Segments(c.text); got != c.segments {
				t.Errorf("segments: got %d, want %d", got, c.segments)
			}
		})
	}
}

// The text and its cut at 153 septets are those that an independent encoder
// made two parts of; the second began with 'rds so'.
func TestALongTextIsCutWhereAnotherEncoderCutsIt(t *testing.T) {
	const text = "Move group to paddock 7 tomorrow 06:30. Reply DONE when finished. This one is long enough to need two parts because it goes on and on and on with more words so that the limit of one hundred and sixty septets is passed."
	if got := Segments(text); got != 2 {
		t.Errorf("segments: got %d, want 2", got)
	}
	if first := Cut(text, concatenated); !strings.HasSuffix(first, "with more wo") {
		t.Errorf("the first 153 septets are %q", first)
	}
}

func TestWhatTheAlphabetHasNotIsRewritten(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"Spanish accents that it has are kept", "helada é ñ ü ¿Qué? ¡Ojo! Ñ É", "helada é ñ ü ¿Qué? ¡Ojo! Ñ É"},
		{"Spanish accents that it has not lose the mark", "está aquí más allá, último día, Ángel, Óscar", "esta aqui mas alla, ultimo dia, Angel, Oscar"},
		{"decomposed accents are put together first", "man\u0303ana, cafe\u0301, di\u0301a", "mañana, café, dia"},
		{"smart quotes and dashes become plain", "“Hill” ‘n’ Bob’s — North–40…", "\"Hill\" 'n' Bob's - North-40..."},
		{"halves and degrees", "8½ in, 31 °F, 7¼", "8 1/2 in, 31 F, 7 1/4"},
		{"a hard space is a space", "8\u00a0in\tTue\u2009Sep", "8 in Tue Sep"},
		{"a cow and a heart are left out", "Creek 🐄 ❤️ ok", "Creek   ok"},
		{"letters of other scripts become question marks", "Путь", "????"},
		{"ligatures and German", "ﬁeld Straße Łąka œuf", "field Straße Laka oeuf"},
		{"the escape itself is no character", "a\x1bb", "ab"},
		{"a form feed is a space", "a\fb", "a b"},
		{"broken bytes are left out", "a\xffb", "ab"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Rewrite(c.in); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestWhateverGoesInWhatComesOutCanBeSent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.String().Draw(t, "text")
		out := Rewrite(in)
		if !Has(out) || !utf8.ValidString(out) {
			t.Fatalf("%q became %q", in, out)
		}
		if again := Rewrite(out); again != out {
			t.Fatalf("rewritten twice it changes: %q, %q", out, again)
		}
		n := Septets(out)
		lower, upper := 1, 1
		if n > OneSegment {
			// a segment loses at most one septet to an escape pair
			lower, upper = (n+concatenated-1)/concatenated, (n+concatenated-2)/(concatenated-1)
		}
		if s := Segments(out); s < lower || s > upper {
			t.Fatalf("%d septets in %d segments, want %d to %d", n, s, lower, upper)
		}
		if short := Cut(out, 20); Septets(short) > 20 || !strings.HasPrefix(strings.TrimSpace(out), strings.TrimSpace(short)) {
			t.Fatalf("cut to 20: %q of %q", short, out)
		}
	})
}

func TestAnExtensionStandsBehindTheEscape(t *testing.T) {
	for septets, want := range map[string]string{ // clause 6.2.1.1
		"\x00":     "@",
		"\x7f":     "à",
		"\x1b\x65": "€",
		"\x1b\x3c": "[",
		"\x1b\x40": "|",
		"\x1b\x2f": "\\",
		"\x1b\x0a": "\f",
	} {
		if got := Decode([]byte(septets)); got != want {
			t.Errorf("%x: got %q, want %q", septets, got, want)
		}
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
