package reply

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// longest is the most bytes that are read with care.
const longest = 5000

// Pictures and marks that are words are kept as control characters, which the
// text itself can not hold any more: thumbs up, thumbs down, and the mark that
// opens a Spanish question.

// plain maps what keyboards, phones and mail programs make of plain
// characters back to them. An empty value drops the character.
var plain = map[rune]string{
	'’': "'", '‘': "'", '‛': "'", '′': "'", 'ʼ': "'", '`': "'", '´': "'",
	'“': `"`, '”': `"`, '„': `"`, '‟': `"`, '″': `"`, '«': `"`, '»': `"`,
	'–': "-", '‐': "-", '‑': "-", '‒': "-", '−': "-", '—': " - ", '―': " - ",
	'…': "... ", '×': "x", '⁄': "/", '∕': "/", '•': "\n", '·': " ", '▪': "\n",
	'，': ",", '、': ",", '。': ".", '；': ";", '：': ":", '？': "?", '！': "!",
	'¿': " \x03", '¡': " ", 'º': "°", '˚': "°", '→': " > ", '➡': " > ", '⇒': " > ",
	'½': " 1/2", '¼': " 1/4", '¾': " 3/4", '⅓': " 1/3", '⅔': " 2/3",
	'⅛': " 1/8", '⅜': " 3/8", '⅝': " 5/8", '⅞': " 7/8",
	'👍': " \x01 ", '👌': " \x01 ", '✅': " \x01 ", '✔': " \x01 ", '🆗': " \x01 ",
	'👎': " \x02 ", '❌': " \x02 ", '🚫': " \x02 ", '❎': " \x02 ",
	'❓': "? ", '❔': "? ", '⁉': "? ", '❗': "! ", '‼': "! ",
}

// rewritten are marks of two or three characters.
var rewritten = strings.NewReplacer("''", `"`, "+/-", "±", "+-", "±")

// initials are two letters with a full stop behind each: a.m.
var initials = regexp.MustCompile(`\b(\pL)\.(\pL)\.`)

// normalise makes one spelling of a text: lower case, composed accents, plain
// quotes and dashes, ASCII digits, no invisible characters, no pictures.
func normalise(text string) string {
	text = strings.ToValidUTF8(text, " ")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if !norm.NFC.IsNormalString(text) {
		text = norm.NFC.String(text)
	}
	var b strings.Builder
	b.Grow(len(text) + 8)
	for _, r := range text {
		writePlain(&b, r)
	}
	return initials.ReplaceAllString(rewritten.Replace(b.String()), "$1$2")
}

func writePlain(b *strings.Builder, r rune) {
	switch {
	case r < 0x20 || r == 0x7f:
		if r == '\n' || r == '\r' || r == '\v' || r == '\f' {
			b.WriteByte('\n')
		} else {
			b.WriteByte(' ')
		}
		return
	case r == '`':
		b.WriteByte('\'')
		return
	case r < 0x7f:
		b.WriteRune(unicode.ToLower(r))
		return
	}
	if s, ok := plain[r]; ok {
		b.WriteString(s)
		return
	}
	if r >= 0xff01 && r <= 0xff5e { // full-width ASCII
		writePlain(b, r-0xfee0)
		return
	}
	if r >= 0x1d400 && r <= 0x1d7ff { // letters and digits in mathematical dress
		for _, q := range norm.NFKC.String(string(r)) {
			if q < 0x1d400 {
				writePlain(b, q)
			}
		}
		return
	}
	switch {
	case r == 0x2028 || r == 0x2029 || r == 0x85:
		b.WriteByte('\n')
	case unicode.IsSpace(r):
		b.WriteByte(' ')
	case unicode.Is(unicode.Nd, r):
		b.WriteByte('0' + decimal(r))
	case unicode.In(r, unicode.Cf, unicode.Mn, unicode.Me, unicode.Variation_Selector):
		// invisible, or a mark that no letter took up
	case r >= 0x1f600 && r <= 0x1f64f:
		b.WriteString(", ") // a face ends what is said
	case unicode.In(r, unicode.So, unicode.Sk, unicode.Co, unicode.Cs):
		b.WriteByte(' ') // a picture
	default:
		b.WriteRune(unicode.ToLower(r))
	}
}

// decimal gives the value of a decimal digit of any script. Those of one
// script stand together in order, a block of ten.
func decimal(r rune) byte {
	zero := r
	for unicode.Is(unicode.Nd, zero-1) && r-zero < 9 {
		zero--
	}
	return byte(r - zero)
}

// fold takes the accents and apostrophes from a lower-case word. A word in
// plain letters comes back as it is.
func fold(s string) string {
	ascii := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] == '\'' {
			ascii = false
			break
		}
	}
	if ascii {
		return s
	}
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		if r != '\'' && !unicode.Is(unicode.Mn, r) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

var (
	// signature begins what a phone or a mail program adds on its own.
	signature = regexp.MustCompile(`^(sent (from|via|by|with) |get outlook for|enviado (desde|con|por) |mandado desde|obtener outlook|-- ?$|__+$|—$|\[?sent from )`)
	// attribution opens quoted mail.
	attribution = regexp.MustCompile(`^(on .{4,120} wrote:?$|el .{4,120} escribi[oó]:?$|-+ ?(original message|mensaje original|forwarded message|mensaje reenviado) ?-+|(from|de|von): .*@|begin forwarded message)`)
	// split attributions: "on mon, oct 12, 2026 at 6:30 am" / "stubbled wrote:"
	attributionStart = regexp.MustCompile(`^(on|el) [a-zé]{3,10}[.,] .*\d{4}`)
	// tapback is what phones send for a reaction; it quotes our own words.
	tapback = regexp.MustCompile(`(?s)^\s*(liked|loved|disliked|laughed at|emphasized|questioned|reacted .{1,12} to|removed an? .{1,20} from|le gust[oó]|le encant[oó]|no le gust[oó]|se ri[oó] de|enfatiz[oó]|destac[oó]|reaccion[oó] (con )?.{1,12} a)\s*"`)
)

// part is the mark of a long text that a phone sent in pieces.
var part = regexp.MustCompile(`\(\s*\d\s*/\s*\d\s*\)`)

// item is the number before a line of a list.
var item = regexp.MustCompile(`^\s*(\d)[.)] `)

// inLine is the number of a list that goes on in one line: 1) creek 9 2) hill 8.
var inLine = regexp.MustCompile(`(^|\s)[1-9]\) `)

// unnumbered takes the numbers from a list of lines: 1. creek 9, 2. hill 8.
func unnumbered(lines []string) []string {
	next := 1
	for _, line := range lines {
		m := item.FindStringSubmatch(line)
		if m == nil || m[1] != strconv.Itoa(next) {
			return lines
		}
		next++
	}
	if next < 3 {
		return lines
	}
	for i := range lines {
		lines[i] = item.ReplaceAllString(lines[i], "")
	}
	return lines
}

// body cuts the signature and what was quoted from a text.
func body(text string) string {
	text = part.ReplaceAllString(text, " ")
	if strings.Contains(text, "1) ") && strings.Contains(text, " 2) ") {
		text = inLine.ReplaceAllString(text, "\n")
	}
	if !strings.ContainsAny(text, "\n>") {
		return text
	}
	lines := strings.Split(text, "\n")
	kept := lines[:0]
	for i, line := range lines {
		t := strings.TrimSpace(line)
		if signature.MatchString(t) || t == "--" || attribution.MatchString(t) ||
			(attributionStart.MatchString(t) && wroteWithin(lines[i:])) {
			break
		}
		if strings.HasPrefix(t, ">") {
			continue
		}
		kept = append(kept, line)
	}
	return strings.Join(unnumbered(kept), "\n")
}

// wroteWithin reports whether an attribution that was broken over lines ends
// in the next one.
func wroteWithin(lines []string) bool {
	if len(lines) < 2 {
		return false
	}
	t := strings.TrimSpace(lines[1])
	return strings.HasSuffix(t, "wrote:") || strings.HasSuffix(t, "escribió:")
}
