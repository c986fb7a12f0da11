package reply

import (
	"slices"
	"strings"
	"sync"
)

// An entry gives one meaning to a list of words and phrases, parted by commas.
type entry struct {
	lex   lex
	words string
}

// A phrase is one or more words with one meaning.
type phrase struct {
	words []string
	lex   lex
}

// A lexicon finds phrases by their first word, the longest first.
type lexicon map[string][]phrase

// A tongue is a lexicon for the speakers of one language. The other language
// is understood too, except where a word of it is a common word of theirs.
type tongue struct {
	lexicon lexicon
	common  map[string]bool  // of either language
	long    map[int][]phrase // single words of five letters or more, by length
	spanish bool
}

var (
	english = sync.OnceValue(func() *tongue { return newTongue(allEnglish(), allSpanish(), commonEnglish(), false) })
	spanish = sync.OnceValue(func() *tongue { return newTongue(allSpanish(), allEnglish(), commonSpanish(), true) })
)

func allEnglish() []entry {
	return slices.Concat(wordsEnglish, chatEnglish, guardsEnglish, askEnglish, countEnglish)
}

func allSpanish() []entry {
	return slices.Concat(wordsSpanish, guardsSpanish, askSpanish, countSpanish)
}

// tongueOf gives the words of a contact's language.
func tongueOf(language string) *tongue {
	if strings.HasPrefix(strings.ToLower(language), "es") {
		return spanish()
	}
	return english()
}

func newTongue(own, other []entry, common map[string]bool, es bool) *tongue {
	t := &tongue{lexicon: lexicon{}, common: map[string]bool{}, spanish: es}
	for w := range commonEnglish() {
		t.common[w] = true
	}
	if es {
		for w := range commonSpanish() {
			t.common[w] = true
		}
	}
	for _, e := range own {
		t.lexicon.add(e, nil)
	}
	taken := map[string]bool{}
	for w := range t.lexicon {
		for _, p := range t.lexicon[w] {
			taken[strings.Join(p.words, " ")] = true
		}
	}
	for _, e := range other {
		t.lexicon.add(e, func(key string) bool {
			return !taken[key] && (len(key) < 3 || !common[key])
		})
	}
	t.long = map[int][]phrase{}
	for w, list := range t.lexicon {
		if p := list[len(list)-1]; len(p.words) == 1 {
			t.common[fold(w)] = true
		}
		if p := list[len(list)-1]; len(p.words) == 1 && len(w) >= 5 && fold(w) == w && p.lex.set&sChat == 0 {
			t.long[len(w)] = append(t.long[len(w)], p)
		}
	}
	return t
}

// add files the words of an entry. Words that are on file already take the
// further senses, so that one word may play two parts.
func (l lexicon) add(e entry, keep func(string) bool) {
	for _, w := range strings.Split(e.words, ",") {
		key := strings.TrimSpace(w)
		if key == "" || (keep != nil && !keep(key)) {
			continue
		}
		words := strings.Fields(key)
		l.file(words, e.lex)
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
	list = append(list, phrase{})
	copy(list[at+1:], list[at:])
	list[at] = phrase{words: words, lex: x}
	l[words[0]] = list
}

// with joins two meanings of one word.
func (x lex) with(y lex) lex {
	x.set |= y.set
	if y.role != noRole {
		x.role, x.val = y.role, y.val
	}
	if y.guard != noGuard {
		x.guard = y.guard
	}
	if y.stock != noStock {
		x.stock = y.stock
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
		if n > 1 && tok.f == "in" && len(out) > 0 && (out[len(out)-1].kind == digits || out[len(out)-1].role == rNumber) {
			x, n = t.lexicon.find(toks[:i+1], i) // 9 in on creek: a unit
		}
		switch {
		case n == 0:
			tok.known = tok.known || t.common[tok.f]
			n = 1
		case tok.set != 0: // a name that is a word of the trade too
			switch {
			case n == 1:
				tok.lex = tok.lex.with(x)
			case tok.is(sHerd) && x.set&sChat != 0: // cows look good
				tok = join(toks[i : i+n])
				tok.lex, tok.herds = x, nil
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
