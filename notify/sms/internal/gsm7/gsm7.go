// Package gsm7 is the default alphabet of text messages: which characters it
// has, and their values, as 3GPP TS 23.038 section 6.2.1 sets them.
//
// It neither counts segments nor packs septets.
package gsm7

// Escape leads into the extension table.
const Escape = 0x1B

// basic is the table of section 6.2.1; the index is the septet. The place of
// the escape is left as a no-break space, as the standard shows a lone one.
var basic = []rune("@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞ\u00a0ÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?" +
	"¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà")

// extension is the table of section 6.2.1.1.
var extension = map[byte]rune{
	0x0A: '\f', 0x14: '^', 0x28: '{', 0x29: '}', 0x2F: '\\', 0x3C: '[', 0x3D: '~', 0x3E: ']', 0x40: '|', 0x65: '€',
}

var (
	septet   = map[rune]byte{}
	extended = map[rune]byte{}
)

func init() {
	for i, r := range basic {
		if i != Escape {
			septet[r] = byte(i)
		}
	}
	for b, r := range extension {
		extended[r] = b
	}
}

// Has reports whether the alphabet has the character, in either table.
func Has(r rune) bool {
	_, ok := septet[r]
	if !ok {
		_, ok = extended[r]
	}
	return ok
}

// Encode gives one septet a byte, two for a character of the extension table.
// It reports false where the alphabet lacks a character.
func Encode(s string) ([]byte, bool) {
	out := make([]byte, 0, len(s))
	for _, r := range s {
		if b, ok := septet[r]; ok {
			out = append(out, b)
		} else if b, ok := extended[r]; ok {
			out = append(out, Escape, b)
		} else {
			return nil, false
		}
	}
	return out, true
}

// Decode reads one septet a byte; the top bit is ignored. What the standard
// leaves open in the extension table is read from the basic one, and a lone
// escape is a space, as the standard asks of a receiver.
func Decode(septets []byte) string {
	out := make([]rune, 0, len(septets))
	for i := 0; i < len(septets); i++ {
		b := septets[i] & 0x7F
		if b != Escape {
			out = append(out, basic[b])
			continue
		}
		if i+1 == len(septets) {
			out = append(out, ' ')
			break
		}
		i++
		next := septets[i] & 0x7F
		switch r, ok := extension[next]; {
		case ok:
			out = append(out, r)
		case next == Escape:
			out = append(out, ' ')
		default:
			out = append(out, basic[next])
		}
	}
	return string(out)
}

// Alphabet is every character of both tables, in the order of the standard.
func Alphabet() string {
	var out []rune
	for i, r := range basic {
		if i != Escape {
			out = append(out, r)
		}
	}
	for b := range byte(0x80) {
		if r, ok := extension[b]; ok {
			out = append(out, r)
		}
	}
	return string(out)
}
