// Package gsm is in charge of the alphabet of text messages: which characters
// it has, how much room a text takes, and how a text is rewritten into it.
//
// It never sends or packs anything and chooses no words. It stands here in a
// page because the libraries that have the tables bring whole protocols with
// them, and none rewrites as people read.
package gsm

import (
	"strings"
	"unicode"
	"unicode/utf16"

	"golang.org/x/text/unicode/norm"
)

// The sizes of a short message: 3GPP TS 23.040 clause 9.2.3.16 (160 septets,
// 140 octets) and 9.2.3.24.1 (a concatenated part carries a header of six
// octets, which leaves 153 septets or 67 UCS-2 units).
const (
	OneSegment     = 160
	concatenated   = 153
	TwoSegments    = 2 * concatenated
	oneSegmentUCS2 = 70
	concatUCS2     = 67
)

// escape leads into the extension table and is no character.
const escape = 0x1B

// basic is the GSM 7-bit default alphabet in the order of its codes 0x00-0x7F,
// 3GPP TS 23.038 clause 6.2.1.
var basic = []rune("@£$¥èéùìòÇ\nØø\rÅå" +
	"Δ_ΦΓΛΩΠΨΣΘΞ\x1bÆæßÉ" +
	" !\"#¤%&'()*+,-./" +
	"0123456789:;<=>?" +
	"¡ABCDEFGHIJKLMNO" +
	"PQRSTUVWXYZÄÖÑÜ§" +
	"¿abcdefghijklmno" +
	"pqrstuvwxyzäöñüà")

// extension is the default alphabet extension table, 3GPP TS 23.038 clause
// 6.2.1.1: each of these is sent as the escape and one more septet.
var extension = map[byte]rune{
	0x0A: '\f', 0x14: '^', 0x28: '{', 0x29: '}', 0x2F: '\\', 0x3C: '[', 0x3D: '~', 0x3E: ']', 0x40: '|', 0x65: '€',
}

var septetsOf = func() map[rune]int {
	m := make(map[rune]int, len(basic)+len(extension))
	for _, r := range basic {
		m[r] = 1
	}
	for _, r := range extension {
		m[r] = 2
	}
	delete(m, escape)
	return m
}()

// Has reports whether a text can be sent in the 7-bit alphabet as it stands.
func Has(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return septetsOf[r] == 0 })
}

// Septets is the length of a text in the 7-bit alphabet. A character that the
// alphabet has not counts as one, so ask Has or call Rewrite first.
func Septets(s string) int {
	n := 0
	for _, r := range s {
		n += max(1, septetsOf[r])
	}
	return n
}

// Cut shortens a text to a number of septets, between characters.
func Cut(s string, septets int) string {
	n := 0
	for i, r := range s {
		if n += max(1, septetsOf[r]); n > septets {
			return strings.TrimSpace(s[:i])
		}
	}
	return s
}

// Segments is how many short messages a text takes: by the 7-bit alphabet
// where it can, else in UCS-2. A character of the extension table and a
// surrogate pair are never split between two segments. An empty text takes one.
func Segments(s string) int {
	single, part, width := OneSegment, concatenated, func(r rune) int { return septetsOf[r] }
	if !Has(s) {
		single, part, width = oneSegmentUCS2, concatUCS2, utf16.RuneLen
	}
	total, segments, room := 0, 1, part
	for _, r := range s {
		w := max(1, width(r))
		total += w
		if w > room {
			segments, room = segments+1, part
		}
		room -= w
	}
	if total <= single {
		return 1
	}
	return segments
}

// Rewrite puts a text into the 7-bit alphabet: the accents it has are kept,
// others are dropped from their letter, typographer's marks become the plain
// ones, and what cannot be said at all becomes a question mark (letters) or
// nothing (signs, emoji, control characters).
func Rewrite(s string) string {
	if Has(s) {
		return strings.ReplaceAll(s, "\f", " ")
	}
	var b strings.Builder
	for _, r := range norm.NFC.String(strings.ToValidUTF8(s, "")) {
		b.WriteString(rewritten(r))
	}
	return b.String()
}

func rewritten(r rune) string {
	if r == '\f' || r == '\t' || unicode.Is(unicode.Zs, r) {
		return " "
	}
	if septetsOf[r] > 0 {
		return string(r)
	}
	if plain, ok := plainer[r]; ok {
		return plain
	}
	if bare := bareOf(r); bare != "" {
		return bare
	}
	if unicode.IsLetter(r) || unicode.IsNumber(r) {
		return "?"
	}
	return ""
}

// bareOf is a character without its marks and ligatures, empty where even that
// is not in the alphabet.
func bareOf(r rune) string {
	var b strings.Builder
	for _, d := range norm.NFKD.String(string(r)) {
		if unicode.Is(unicode.Mn, d) {
			continue
		}
		if plain, ok := plainer[d]; ok {
			b.WriteString(plain)
			continue
		}
		if septetsOf[d] == 0 {
			return ""
		}
		b.WriteRune(d)
	}
	return b.String()
}

// plainer gives characters that compatibility decomposition does not take apart
// the way people read them.
var plainer = map[rune]string{
	'‘': "'", '’': "'", '‚': "'", '‛': "'", '′': "'", '´': "'", '`': "'", 'ʼ': "'",
	'“': "\"", '”': "\"", '„': "\"", '‟': "\"", '″': "\"", '«': "\"", '»': "\"",
	'‐': "-", '‑': "-", '‒': "-", '–': "-", '—': "-", '―': "-", '−': "-", '•': "-", '·': "-",
	'…': "...", '⁄': "/", '×': "x", '÷': "/", '°': "", 'º': "o", 'ª': "a",
	'½': " 1/2", '¼': " 1/4", '¾': " 3/4",
	'→': "->", '≥': ">=", '≤': "<=", '≈': "about ", '±': "+/-",
	'œ': "oe", 'Œ': "OE", 'đ': "d", 'Đ': "D", 'ł': "l", 'Ł': "L", 'þ': "th", 'Þ': "Th", 'ð': "d", 'ı': "i",
	'\u00ad': "", '\u200b': "", '\u200c': "", '\u200d': "", '\ufeff': "",
}

// Decode reads one septet a byte; the top bit is ignored. What the standard
// leaves open in the extension table is read from the basic one, and a lone
// escape is a space, as the standard asks of a receiver.
func Decode(septets []byte) string {
	var b strings.Builder
	escaped := false
	for _, s := range septets {
		s &= 0x7F
		r := basic[s]
		if more, ok := extension[s]; ok && escaped {
			r = more
		}
		if s != escape {
			b.WriteRune(r)
		} else if escaped {
			b.WriteByte(' ')
		}
		escaped = s == escape && !escaped
	}
	if escaped {
		b.WriteByte(' ')
	}
	return b.String()
}
