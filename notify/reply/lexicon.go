package reply

import (
	"slices"
	"strings"

	"stubbled/notify/language"
)

// An entry gives one meaning to a word or a phrase.
type entry struct {
	lex   lex
	words []string
}

// A phrase is one or more words with one meaning.
type phrase struct {
	words []string
	lex   lex
}

// A lexicon finds phrases by their first word, the longest first.
type lexicon map[string][]phrase

// A tongue is a lexicon for the speakers of one language. The others are
// understood too, except where a word of theirs is a common word of its own.
type tongue struct {
	lexicon lexicon
	first   map[string]bool  // common words of the default language
	listed  map[string]bool  // and those of this one
	filed   map[string]bool  // words that stand alone in the lexicon
	owned   map[string]bool  // of them those of the language itself
	long    map[int][]phrase // single words of five letters or more, by length
	// decimalComma says that 7,5 is seven and a half; dayFirst, that 5/9 is in
	// September.
	decimalComma, dayFirst bool
	units                  []string          // words for units
	nearlyEnds             []string          // what makes eight eightish
	sounds                 *strings.Replacer // nil where the language is written as it sounds
	sounding               map[string]string // by what it sounds like, the one word on file; "" where there are several
	short                  []string          // an ending, and what it stands for
}

// newTongue makes the lexicon of a language. The words of the default language
// are common to all: whoever lives there writes some of them.
func newTongue(l, first *language.Language, entries []entry, others [][]entry, nearly []string) *tongue {
	t := &tongue{lexicon: lexicon{}, first: first.Common(), listed: l.Common(), filed: map[string]bool{}, owned: map[string]bool{}, decimalComma: l.DecimalComma, dayFirst: l.DayFirst}
	for _, e := range entries {
		t.owned[fold(e.words[0])] = true
	}
	t.lexicon.add(entries, nil)
	for _, other := range others {
		taken := t.lexicon.phrases()
		t.lexicon.add(other, func(key string) bool {
			return !taken[key] && (len(key) < 3 || !t.listed[key])
		})
	}
	t.nearlyEnds = nearly
	t.listen(l.OneSound, entries)
	t.short = l.ShortEnding
	t.long = map[int][]phrase{}
	for w, list := range t.lexicon {
		p := list[len(list)-1]
		if len(p.words) > 1 {
			continue
		}
		t.filed[fold(w)] = true
		if r := p.lex.role; len(w) > 1 && (r == rUnit || r == rUnitIn || r == rFoot) {
			t.units = append(t.units, w)
		}
		if len(w) >= 5 && fold(w) == w && p.lex.set&sChat == 0 {
			t.long[len(w)] = append(t.long[len(w)], p)
		}
	}
	return t
}

// common reports whether a word is no slip of the finger.
func (t *tongue) common(w string) bool { return t.first[w] || t.listed[w] || t.filed[w] }

// own reports whether a word is one of the language itself.
func (t *tongue) own(w string) bool { return t.listed[w] || t.owned[w] }

// listen makes the words of a language ready to be found by their sound.
func (t *tongue) listen(pairs []string, entries []entry) {
	if len(pairs) == 0 {
		return
	}
	pairs = slices.Clone(pairs)
	for i := range pairs {
		pairs[i] = strings.Trim(pairs[i], "-") // a dash stands for nothing
	}
	t.sounds, t.sounding = strings.NewReplacer(pairs...), map[string]string{}
	for _, e := range entries {
		for _, w := range e.words {
			w = fold(w)
			t.owned[w] = true
			key := t.sounds.Replace(w)
			if other, taken := t.sounding[key]; taken && other != w {
				w = ""
			}
			t.sounding[key] = w
		}
	}
}

// respell writes words that are on file in no language as the word that sounds like
// them: bacas.
func (t *tongue) respell(toks []token) {
	for i := range toks {
		tok := &toks[i]
		if tok.kind != word || tok.set != 0 || t.common(tok.f) || t.own(tok.f) || len(t.lexicon[tok.f]) > 0 {
			continue
		}
		if len(t.short) == 2 && strings.HasSuffix(tok.f, t.short[0]) {
			if w := strings.TrimSuffix(tok.f, t.short[0]) + t.short[1]; t.common(w) || t.own(w) {
				tok.s, tok.f = w, w // comin
			}
		}
		if t.sounds == nil {
			continue
		}
		if w := t.sounding[t.sounds.Replace(tok.f)]; w != "" {
			tok.s, tok.f = w, w
		}
	}
}

// phrases are all words and phrases on file.
func (l lexicon) phrases() map[string]bool {
	all := map[string]bool{}
	for _, list := range l {
		for _, p := range list {
			all[strings.Join(p.words, " ")] = true
		}
	}
	return all
}

// add files entries, where keep does not refuse them. Words that are on file
// already take the further senses, so that one word may play two parts.
func (l lexicon) add(entries []entry, keep func(string) bool) {
	for _, e := range entries {
		if keep == nil || keep(strings.Join(e.words, " ")) {
			l.file(e.words, e.lex)
		}
	}
}

func (l lexicon) file(words []string, x lex) {
	list := l[words[0]]
	for i := range list {
		if slices.Equal(list[i].words, words) {
			list[i].lex = list[i].lex.with(x)
			return
		}
	}
	at := len(list)
	for at > 0 && len(list[at-1].words) < len(words) {
		at--
	}
	l[words[0]] = slices.Insert(list, at, phrase{words: words, lex: x})
}

// with joins two meanings of one word.
func (x lex) with(y lex) lex {
	x.set |= y.set
	if y.role != noRole {
		x.role, x.val = y.role, y.val
	} else if y.val != 0 {
		x.val = y.val
	}
	if y.guard != noGuard {
		x.guard = y.guard
	}
	if y.stock != noStock {
		x.stock = y.stock
	}
	if y.event != noEvent {
		x.event = y.event
	}
	if y.plant != "" {
		x.plant = y.plant
	}
	return x
}

// find looks for the longest phrase at i and gives its meaning and how many
// tokens it takes; 0 where there is none.
func (l lexicon) find(toks []token, i int) (lex, int) {
	var best lex
	length, words := 0, 0
	for _, key := range [2]string{toks[i].s, toks[i].f} {
		for _, p := range l[key] {
			if len(p.words) <= words {
				break
			}
			if n := p.covers(toks, i); n > 0 {
				best, length, words = p.lex, n, len(p.words)
				break
			}
		}
		if toks[i].s == toks[i].f {
			break
		}
	}
	return best, length
}

// covers reports how many tokens from i a phrase takes up; a hyphen between
// two of its words belongs to it.
func (p phrase) covers(toks []token, i int) int {
	j := i + 1
	for _, w := range p.words[1:] {
		if j < len(toks) && toks[j].s == "-" && toks[j].glued && j+1 < len(toks) && toks[j+1].glued {
			j++
		}
		if j >= len(toks) || toks[j].is(sPlace) || (toks[j].s != w && toks[j].f != w) {
			return 0
		}
		j++
	}
	return j - i
}

// lookUp gives words their meanings. Names are settled before.
func (t *tongue) lookUp(toks []token) []token {
	out := toks[:0]
	for i := 0; i < len(toks); {
		tok := toks[i]
		if tok.kind == mark {
			tok.lex = marks[tok.s]
			out = append(out, tok)
			i++
			continue
		}
		if tok.span > 1 { // a name of several words has no other meaning
			out = append(out, tok)
			i++
			continue
		}
		x, n := t.lexicon.find(toks, i)
		if n > 1 && t.unitOrIn(tok.f) && len(out) > 0 && (out[len(out)-1].kind == digits || out[len(out)-1].role == rNumber) {
			x, n = t.lexicon.find(toks[:i+1], i) // 9 in on creek: a unit
		}
		switch {
		case n == 0 && t.nearly(tok.f) != nil:
			tok.lex, tok.known = t.nearly(tok.f)[0].lex, true
			n = 1
		case n == 0:
			tok.known = tok.known || t.common(tok.f)
			n = 1
		case tok.set != 0: // a name that is a word of the trade too
			switch {
			case n > 1 && tok.is(sPlace) && tok.span < 2 && x.set&(sIn|sOn|sTo|sOff|sFrom|sEvent) != 0 && !(len(out) > 0 && out[len(out)-1].is(sFrom)): // back on, where a paddock is called Back; but not from back to hill
				tok = join(toks[i : i+n])
				tok.lex, tok.places = x, nil
				out = append(out, tok)
				i += n
				continue
			case n == 1:
				if tok.is(sPlace) { // Johnson, Clover: ground that is called as its plants are tells of none
					x.set, x.plant = x.set&^(sPlant|sTree), ""
				}
				tok.lex = tok.lex.with(x)
			case n > 1 && x.set&sChat != 0 && !(tok.is(sPlace) && len(out) > 0 && t.plays(out[len(out)-1].f, sOff|sOn|sIn|sTo|sFrom)): // cows look good, best I can tell; not: on home now
				tok = join(toks[i : i+n])
				tok.lex, tok.herds, tok.places = x, nil, nil
				out = append(out, tok)
				i += n
				continue
			}
			n = 1
		case tok.kind == digits && n == 1:
		case tok.kind == word && n == 1 && len(tok.f) <= 2 && i+1 < len(toks) && toks[i+1].kind == digits && toks[i+1].glued:
			// n41 is no 'and 41'
		default:
			tok = join(toks[i : i+n])
			tok.lex, tok.known = x, true
		}
		out = append(out, tok)
		i += n
	}
	return out
}

// nearly finds the number of a word like eightish.
func (t *tongue) nearly(w string) []phrase {
	for _, end := range t.nearlyEnds {
		if stem, ok := strings.CutSuffix(w, end); ok {
			if list := t.lexicon[stem]; len(list) > 0 && list[len(list)-1].lex.role == rNumber && len(list[len(list)-1].words) == 1 {
				return list[len(list)-1:]
			}
		}
	}
	return nil
}

// likeUnit reports whether a word may be a unit with a slip in it, or one letter of it.
func (t *tongue) likeUnit(w string) bool {
	for _, u := range t.units {
		if len(w) == 1 && w[0] == u[0] || distance(w, u) == 1 {
			return true
		}
	}
	return false
}

// join makes one token of several.
func join(toks []token) token {
	t := toks[0]
	if len(toks) == 1 {
		return t
	}
	t.to = toks[len(toks)-1].to
	t.span = len(toks)
	var b strings.Builder
	for i, u := range toks {
		if i > 0 && !u.glued {
			b.WriteByte(' ')
		}
		b.WriteString(u.s)
	}
	t.s = b.String()
	return t
}

// unitOrIn reports whether a word may be a unit or a preposition.
func (t *tongue) unitOrIn(w string) bool {
	list := t.lexicon[w]
	return len(list) > 0 && len(list[len(list)-1].words) == 1 && list[len(list)-1].lex.role == rUnitIn
}
