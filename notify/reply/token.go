package reply

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/golang-sql/civil"
)

type kind uint8

const (
	word kind = iota
	digits
	mark
)

// A token is a word, a run of digits or a mark; later also what several of
// them make together: a paddock's name, a height, a date.
type token struct {
	lex
	kind     kind
	s        string // lower case, accents and apostrophes kept
	f        string // without them, and without a possessive 's
	from, to int    // bytes in the cleaned text
	glued    bool   // no space before it
	poss     bool   // had a possessive 's
	span     int    // how many tokens of a name it was made of
	known    bool   // found on file, or common in the language
	aside    bool   // told beside the news: while I fixed the fence
	slipped  bool   // a name with a slip of the finger in it
	places   []int  // paddocks that it may name
	herds    []int  // herds that it names
	unit     float64
	hi       float64 // upper end of a range
	parts    []float64
	frac     bool // 1/2: the part behind a whole number
	day      civil.Date
	typed    bool // a number in digits
}

func (t *token) is(s senses) bool { return t.set&s != 0 }

// scan splits a cleaned text into words, runs of digits and marks.
func scan(text string) []token {
	toks := make([]token, 0, len(text)/3+4)
	space := true
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == ' ':
			space = true
			i += n
			continue
		case r >= '0' && r <= '9':
			j := i
			for j < len(text) && text[j] >= '0' && text[j] <= '9' {
				j++
			}
			toks = append(toks, token{kind: digits, s: text[i:j], f: text[i:j], from: i, to: j, glued: !space})
			i = j
		case unicode.IsLetter(r):
			j := wordEnd(text, i)
			toks = append(toks, newWord(text[i:j], i, j, !space))
			i = j
		default:
			toks = append(toks, token{kind: mark, s: text[i : i+n], f: text[i : i+n], from: i, to: i + n, glued: !space})
			i += n
		}
		space = false
	}
	return toks
}

// wordEnd finds the end of the word at i. An apostrophe belongs to a word
// where letters stand on both sides.
func wordEnd(text string, i int) int {
	for i < len(text) {
		r, n := utf8.DecodeRuneInString(text[i:])
		if r == '\'' {
			next, _ := utf8.DecodeRuneInString(text[i+1:])
			if !unicode.IsLetter(next) {
				return i
			}
		} else if !unicode.IsLetter(r) {
			return i
		}
		i += n
	}
	return i
}

// newWord folds a word and parts it from a possessive 's.
func newWord(s string, from, to int, glued bool) token {
	t := token{kind: word, s: s, f: fold(s), from: from, to: to, glued: glued}
	if strings.HasSuffix(s, "'s") {
		t.poss = true
		t.f = fold(strings.TrimSuffix(s, "'s"))
	}
	return t
}

// marks are the senses of marks.
var marks = map[string]lex{
	",":    {set: sComma},
	";":    {set: sStop},
	".":    {set: sStop},
	"!":    {set: sStop},
	"?":    {set: sStop},
	"|":    {set: sStop},
	"\n":   {set: sStop},
	":":    {set: sColon},
	"=":    {set: sColon},
	"-":    {set: sDash},
	"/":    {set: sSlash},
	"&":    {set: sAnd},
	"+":    {set: sAnd},
	"@":    {set: sAt},
	"~":    {set: sAbout},
	"≈":    {set: sAbout},
	"\x01": {set: sAck},
	"\x02": {guard: gNegation},
	"\x03": {set: sFill, guard: gAsk}, // the mark that opens a Spanish question
}
