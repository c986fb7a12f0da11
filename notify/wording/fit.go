package wording

import (
	"math"
	"strings"
	"unicode/utf8"

	"stubbled/notify/gsm"
)

// A part is a piece of a message: its forms from the fullest to the shortest,
// and its rank. Where a message is too long, parts of the highest rank give way
// first, one form at a time; a last form of "" means that it may go altogether.
type part struct {
	rank  int
	forms []string
}

// The ranks, from what is never given up to what goes first.
const (
	rankMust   = iota // says what to do
	rankNames         // further paddocks of a bundle
	rankAnswer        // how to answer, why
	rankWhen          // dates and figures that can be asked for
	rankDetail        // what else is known
	rankRemark        // how to measure, a second place to go
)

// must is said whole; of several forms the first that fits.
func must(forms ...string) part { return part{rankMust, forms} }

// keep is shortened at its rank, but never left out.
func keep(rank int, forms ...string) part { return part{rank, forms} }

// may is shortened and then left out at its rank.
func may(rank int, forms ...string) part { return part{rank, append(forms, "")} }

// always is a limit that nothing reaches: the fullest form of everything.
const always = math.MaxInt

// fit joins parts into a text of at most limit septets. ok is false where even
// the shortest forms were too long and the text had to be cut off.
func fit(limit int, parts []part) (text string, ok bool) {
	at := make([]int, len(parts))
	for {
		text = gsm.Rewrite(joined(parts, at))
		if fits(text, limit) {
			return text, true
		}
		if !shorten(parts, at) {
			break
		}
	}
	for n := limit; ; n-- {
		if short := gsm.Cut(text, n); fits(short, limit) {
			return short, false
		}
	}
}

// fits reports whether a text has at most so many septets; of two segments the
// first may be a septet short, where an escape pair would be split.
func fits(text string, limit int) bool {
	return gsm.Septets(text) <= limit && (limit != gsm.TwoSegments || gsm.Segments(text) <= 2)
}

// within joins parts into a line of at most so many characters of any alphabet,
// or as short as they go.
func within(characters int, parts []part) string {
	at := make([]int, len(parts))
	for {
		text := joined(parts, at)
		if utf8.RuneCountInString(text) <= characters || !shorten(parts, at) {
			return text
		}
	}
}

// shorten takes the next shorter form of the part that gives way first; false
// where there is none.
func shorten(parts []part, at []int) bool {
	i := nextToGive(parts, at)
	if i >= 0 {
		at[i]++
	}
	return i >= 0
}

// nextToGive is the part that is shortened next: of the highest rank that has
// a shorter form, the last one; -1 where all are as short as they can be.
func nextToGive(parts []part, at []int) int {
	best := -1
	for i, p := range parts {
		if at[i]+1 < len(p.forms) && (best < 0 || p.rank >= parts[best].rank) {
			best = i
		}
	}
	return best
}

func joined(parts []part, at []int) string {
	var b strings.Builder
	for i, p := range parts {
		if len(p.forms) == 0 || p.forms[at[i]] == "" {
			continue
		}
		if form := p.forms[at[i]]; b.Len() > 0 && !strings.HasPrefix(form, "\n") && !strings.HasPrefix(form, ",") {
			b.WriteByte(' ')
		}
		b.WriteString(p.forms[at[i]])
	}
	return strings.TrimSpace(b.String())
}

// full is every part in its fullest form, for a mail.
func full(parts []part) string { return joined(parts, make([]int, len(parts))) }

// MayRepeat marks a message that may have been said before: the carrier's own
// answer was lost. Nothing is repeated without the mark, even where it costs a
// third segment: two texts of the same order look like two orders.
func MayRepeat(o Options, text string) string {
	return newVoice(o).say("may-repeat", "text", text)
}
