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

// tokenAt is a token of a list, or a mark that says nothing where none stands there.
func tokenAt(toks []token, k int) *token {
	if k < 0 || k >= len(toks) {
		return &token{kind: mark}
	}
	return &toks[k]
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

// senses is a set of the parts that a word may play in a clause. A word with
// no sense is unknown, and nothing is recorded from a clause that holds one.
type senses uint64

// The parts of a clause.
const (
	sComma senses = 1 << iota
	sStop         // the end of a sentence
	sColon
	sDash
	sSlash
	sAnd
	sPlace  // a paddock, by name
	sHerd   // a herd, by name
	sStock  // the animals, unnamed: cattle, them, everything
	sAll    // all, whole, both
	sNum    // a number that may be a height
	sRange  // 8-10
	sPlants // 20 plants
	sTemp   // 31 degrees
	sDate   // a day that is past
	sSoft   // a day that may be past or to come: friday, this evening
	sMorrow // tomorrow
	sClock  // 6:30
	sDur    // 2d
	sFill   // says nothing: the, now, also
	sBe     // is, are
	sWas    // was: may tell of another day
	sIt
	sMeasure // measured, inches of, tall, grass
	sWeak    // has, left: a height only where a unit stands beside it
	sAbout
	sAvg
	sField // pasture, potrero
	sGrass // grass, tops, the part of the plant that turns brown or burns
	sAt
	sOn
	sIn
	sTo
	sOff   // off, out of, fuera de
	sOut   // out, without of
	sFrom  // from, de
	sMoved // a motion that is over and was done to animals: moved, pulled
	sPut   // put, turned, let, metí
	sWent  // a motion that is over: went, came
	sLeft  // left
	sGone  // salieron: off, without a word for it
	sEmpty
	sFrost
	sCold // light, heavy, first: what is said beside frost
	sLater
	sUndo
	sThat // that, it, last: what undo may name
	sStatus
	sAck
	sChat
	sNamed // a word that asks how a paddock does: how, when, can I graze
	sVerb  // shut, ready, graze: what such a question ends on
	sEvent // a word of a plain event: brown, hayed
	sDead  // dead, down: of an animal
	sPlant // a hazard plant
	sBeast // one animal, which is no herd
	sDown  // down, wilted: of a tree or an animal
	sWilt  // wilted, broken: of a tree
	sTree  // a hazard plant that is dangerous where it is down
	sStay  // still, again: animals that are in, or in again
)

// role is what a word may do inside a number, a date or a quantity, before
// clauses are looked for.
type role uint8

// The roles.
const (
	noRole    role = iota
	rNumber        // eight; val is the number
	rTens          // twenty: may be followed by a unit
	rHalf          // half, medio
	rTenth         // tenths, hundredths; val is one of them
	rPoint         // dictated decimal point
	rUnit          // inch, cm; val is inches
	rFoot          // foot, feet
	rUnitIn        // in: a unit or a preposition
	rSpan          // day, hour; val is hours
	rMonth         // val is the month
	rWeekday       // val is time.Weekday
	rOffset        // yesterday; val is days
	rAgo           // ago
	rHace          // hace 2 días
	rAmPm          // am, pm, o'clock
	rDegree        // degrees
	rHead          // head
	rPlant         // plants
	rQuantity      // acres, bales, gallons
	rRangeTo       // to, thru, or, a
	rBetween       // between
	rArticle       // a, one, un: one of a unit
	rAte           // ate, heard for eight
	rLast          // last, pasado: before a weekday
	rSomeday       // week, month: after last
)

// guard is why a word keeps what stands beside it out of the diary.
type guard uint8

// The guards.
const (
	noGuard   guard = iota
	gNegation       // not, never, sin
	gPlan           // will, going to, voy a
	gIf             // if, when, unless
	gOrder          // take, move, saca
	gHedge          // maybe, I think, said
	gAsk            // a word that begins a question
	gFix            // I mean, just kidding, wait
	gPart           // some, half, 5 cows
	gOther          // the neighbor's
	gThing          // truck, gate, water
	gRain           // rain, gauge, snow
	gBefore         // last week, used to be: another time
	gToCome         // tonight, soon: a day to come
	gWhen           // when, while, before: what follows is no news
	gDay            // a date that cannot be
	gBad            // a number that is no height
	gUnknown        // none of the words on file
)

// A lex is what is known of a word or a phrase.
type lex struct {
	set   senses
	role  role
	val   float64
	guard guard
	stock stockKind
	event event  // of sEvent
	plant string // of sPlant, as the farm file spells it
}

// stockKind is a kind of animal as people name it.
type stockKind uint8

// The kinds of animals.
const (
	noStock stockKind = iota
	cows
	heifers
	steers
	bulls
	calves
	yearlings
	sheep
	goats
	horses
	bison
)

// cattle reports whether people say cows to it without care.
func (k stockKind) cattle() bool { return k >= cows && k <= yearlings }
