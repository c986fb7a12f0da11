package reply

import (
	"slices"
	"strconv"
	"strings"
)

// A name is one of the names of a paddock or a herd, as pieces: words without
// accents, and numbers in digits whatever way they were written.
type name struct {
	index  int // of the paddock or the herd
	pieces []string
	digits []bool
	raw    []string // as written: nine, where the piece is 9
}

// A naming finds the names of paddocks, or of herds, in a text.
type naming struct {
	behindArticle map[string]int   // 80 of The 80, for who says el 80
	exact         map[string][]int // pieces run together -> who bears that name
	names         []name
	most          int // the most pieces that a name has, and one more for a split word
	what          senses
	voc           *vocabulary
}

func (v *vocabulary) naming(what senses) *naming {
	return &naming{exact: map[string][]int{}, behindArticle: map[string]int{}, what: what, voc: v}
}

// add files a name. A name that is nothing but digits is no name: it would be
// taken for a height.
func (n *naming) add(index int, text string) {
	nm := name{index: index}
	letters := false
	toks := scan(normalise(text))
	for i := 0; i < len(toks); {
		p, isDigits, used := n.voc.namePiece(toks, i)
		if used == 0 {
			if toks[i].s == "&" || toks[i].s == "+" {
				nm.pieces, nm.digits, nm.raw = append(nm.pieces, "and"), append(nm.digits, false), append(nm.raw, "and")
			}
			i++
			continue
		}
		letters = letters || toks[i].kind == word
		nm.pieces, nm.digits, nm.raw = append(nm.pieces, p), append(nm.digits, isDigits), append(nm.raw, toks[i].f)
		i += used
	}
	if len(nm.pieces) == 0 || !letters {
		return
	}
	n.file(strings.Join(nm.pieces, ""), index)
	n.file(lettersOf(toks), index) // nineoaks
	n.names = append(n.names, nm)
	if len(nm.pieces) > 1 && n.voc.hints[hArticle][nm.raw[0]] {
		n.behindArticle[strings.Join(nm.pieces[1:], "")] = index
	}
	if len(nm.pieces) == 1 && nm.digits[0] && number(nm.pieces[0]) >= leastNumber {
		n.behindArticle[nm.pieces[0]] = index
	}
	n.most = max(n.most, len(nm.pieces)+1)
}

func (n *naming) file(key string, index int) {
	n.exact[key] = include(n.exact[key], index)
}

// at finds the longest name at i, letter for letter. It gives who may bear it
// and where it ends; end is i where there is none.
func (n *naming) at(toks []token, i int) (who []int, end int) {
	end = i
	if toks[i].s == "#" && i+1 < len(toks) && toks[i+1].kind == digits && toks[i+1].glued { // #7, of Number 7
		for w := range n.voc.hints[hTag] {
			if who := n.exact[w+toks[i+1].f]; who != nil {
				return who, i + 2
			}
		}
	}
	if toks[i].kind == mark {
		return nil, i
	}
	var key strings.Builder
	afterDigits := false
	for j, k := i, 0; k < n.most; k++ {
		p, isDigits, used := n.voc.namePiece(toks, j)
		if toks[j].s == "&" {
			p, used = "and", 1
		}
		if used == 0 || (isDigits && afterDigits) || (isDigits && partOfNumber(toks, j+used) && !(toks[j].glued && toks[j+used].s == "/")) {
			break
		}
		if used > 1 && toks[j].kind == word { // front forty four inches, of Front Forty
			if tens, _ := n.voc.spoken(toks[:j+1], j); n.exact[key.String()+strconv.Itoa(tens)] != nil && n.exact[key.String()+p] == nil {
				p, used = strconv.Itoa(tens), 1
			}
		}
		if l := n.voc.letters[p]; l != "" && k > 0 && n.exact[key.String()+l] != nil && n.exact[key.String()+p] == nil {
			p = l // lot bee, of Lot B
		}
		key.WriteString(p)
		afterDigits = isDigits
		j += used
		if w, ok := n.exact[key.String()]; ok && bears(toks[i:j]) && !hasUnit(toks, j) {
			who, end = w, j
		} else if ok && bears(toks[i:j]) && toks[j].s == possessiveS && j+1 < len(toks) && (toks[j+1].kind == digits || n.voc.hints[hBeforeHour][toks[j+1].s]) {
			who, end = w, j+1 // the 80s at ten
		} else if toks[j-1].poss || strings.HasSuffix(p, "s") && len(p) > 4 { // Hill's, hills
			if w, ok := n.exact[strings.TrimSuffix(key.String(), "s")]; ok {
				who, end = w, j
			}
		}
		next, ok := beside(toks, j)
		if !ok {
			break
		}
		j = next
	}
	return who, end
}

// resolve makes one token of each name in a text: first those that are written
// right, then those with one slip of the finger.
func (n *naming) resolve(toks []token, t *tongue) []token {
	if len(n.names) == 0 {
		return toks
	}
	out := make([]token, 0, len(toks))
	for i := 0; i < len(toks); {
		if toks[i].set != 0 {
			out = append(out, toks[i])
			i++
			continue
		}
		who, end := n.at(toks, i)
		slipped := false
		if end == i && i > 0 && n.voc.hints[hArticle][toks[i-1].f] {
			who, end = n.articled(toks, i)
		}
		if end == i {
			who, end = n.byNumber(toks, i, t)
		}
		if near, to := n.slip(toks, i, t); to > end {
			who, end, slipped = near, to, true
		}
		if end == i {
			who, end = n.shortened(toks, i, t)
			slipped = end > i
		}
		if end == i {
			out = append(out, toks[i])
			i++
			continue
		}
		if end+1 < len(toks) && toks[end].s == "'" && toks[end].glued && toks[end+1].s == possessiveS && toks[end+1].glued {
			end += 2 // n40's
		}
		tok := join(toks[i:end])
		tok.set, tok.known, tok.slipped = n.what, true, slipped
		if n.what == sPlace {
			tok.places = who
		} else {
			tok.herds = who
		}
		out = append(out, tok)
		i = end
	}
	return out
}

// articled finds a name that begins with an article in one language and was said
// with that of another.
func (n *naming) articled(toks []token, i int) (who []int, end int) {
	p, isDigits, used := n.voc.namePiece(toks, i)
	if x, ok := n.behindArticle[p]; ok && used > 0 && !(isDigits && (partOfNumber(toks, i+used) || hasUnit(toks, i+used))) {
		return []int{x}, i + used
	}
	return nil, i
}

// leastNumber is the lowest number that is taken for the name of a paddock without a
// word for it: The 80. Lower ones are heights (an assumption).
const leastNumber = 25

// byNumber finds a name that is a number behind an article, and was said without one
// where a name stands: 80 is 9, off 80, 80 9 10 8.
func (n *naming) byNumber(toks []token, i int, t *tongue) (who []int, end int) {
	p, isDigits, used := n.voc.namePiece(toks, i)
	if hundreds, more := n.voc.hundreds(toks, i); more > 0 {
		p, isDigits, used = strconv.Itoa(hundreds), true, more
	}
	x, ok := n.behindArticle[p]
	end = i + used
	if !ok || !isDigits || number(p) < leastNumber || partOfNumber(toks, end) {
		return nil, i
	}
	if end < len(toks) && toks[end].s == possessiveS {
		end++ // 80s at 12
	} else if hasUnit(toks, end) {
		return nil, i
	}
	led := i > 0 && (t.plays(toks[i-1].f, sOff|sOn|sIn|sTo|sFrom|sStatus|sLater) || n.voc.hints[hArticle][toks[i-1].f])
	whole := i > 1 && t.plays(toks[i-1].f, sAll) && n.voc.hints[hArticle][toks[i-2].f] // the whole 80; all 80 are heads
	switch ends := end == len(toks) || toks[end].kind == mark; {
	case i > 0 && toks[i-1].kind != mark && !led:
	case ends && led, end < len(toks) && strings.Contains(":=@", toks[end].s):
		return []int{x}, end
	case whole, !ends && led && !t.counts(toks[end].f):
		return []int{x}, end
	case !ends && (n.voc.isNumber(toks[end]) && !toks[end].glued || t.plays(toks[end].f, sBe|sWas|sAt|sMeasure|sWeak|sEmpty|sAvg) && !t.unitOrIn(toks[end].f)):
		return []int{x}, end
	}
	return nil, i
}

// isNumber reports whether a token is a number in digits or in words.
func (v *vocabulary) isNumber(t token) bool {
	_, counted := v.counted[t.f]
	return t.kind == digits || counted
}

// hundreds reads a number of three digits as people say one that is a name: one sixty,
// one hundred and sixty; used is 0 where there is none.
func (v *vocabulary) hundreds(toks []token, i int) (x, used int) {
	a, n := v.spoken(toks, i)
	if n != 1 || a < 1 || a > 9 || toks[i].kind != word {
		return 0, 0
	}
	j := i + 1
	if j < len(toks) && v.hints[hHundred][toks[j].f] {
		if j++; j < len(toks) && v.hints[hJoinsName][toks[j].f] {
			j++
		}
	}
	if j >= len(toks) {
		return 0, 0
	}
	b, n := v.spoken(toks, j)
	if n == 0 || b < 10 || b > 99 {
		return 0, 0
	}
	return 100*a + b, j + n - i
}

// shortened finds the only name that a word may stand for: one that begins with
// it, and has the number behind it (sec 7), or of several words the first, where
// a number follows (buck 9).
func (n *naming) shortened(toks []token, i int, t *tongue) (who []int, end int) {
	w := toks[i].f
	if toks[i].kind != word || len(w) < 3 || i+1 >= len(toks) || n.what != sPlace {
		return nil, i
	}
	p, isDigits, used := n.voc.namePiece(toks, i+1)
	follows := isDigits && used > 0
	if !follows && i+2 < len(toks) && (toks[i+1].s == ":" || toks[i+1].s == "," || t.plays(toks[i+1].f, sBe|sAt|sMeasure|sWas|sTo)) {
		_, follows, _ = n.voc.namePiece(toks, i+2)
	}
	end = i
	alike := false
	for _, nm := range n.names {
		to := i
		switch {
		case len(nm.pieces) == 1 && follows && nm.pieces[0] == w+possessiveS && nm.raw[0] != nm.pieces[0]: // otto 9
			to = i + 1
		case len(nm.pieces) < 2 || nm.digits[0]:
		case nm.digits[1]:
			if isDigits && len(nm.pieces) == 2 && p == nm.pieces[1] && strings.HasPrefix(nm.pieces[0], w) && !partOfNumber(toks, i+1+used) && !hasUnit(toks, i+1+used) {
				to = i + 1 + used
			}
		case follows && slices.Contains(nm.pieces, w) && !slices.Contains(nm.digits, true) && t.namesNothing(w):
			to = i + 1
			alike = alike || w != nm.pieces[0] // creek 9, of Creek Side, where there is a Deep Creek
		}
		switch {
		case to > end:
			who, end = []int{nm.index}, to
		case to > i && to == end:
			who = include(who, nm.index)
		}
	}
	if len(who) != 1 || alike && !n.begins(w) {
		return nil, i
	}
	return who, end
}

// begins reports whether a word begins a name.
func (n *naming) begins(w string) bool {
	return slices.ContainsFunc(n.names, func(nm name) bool { return nm.pieces[0] == w })
}

// plays reports whether a word may play a part in a clause.
func (t *tongue) plays(w string, set senses) bool {
	list := t.lexicon[w]
	return len(list) > 0 && len(list[len(list)-1].words) == 1 && list[len(list)-1].lex.set&set != 0
}

// counts reports whether a word may be what is counted: head, cows, acres, inches, days.
func (t *tongue) counts(w string) bool {
	list := t.lexicon[w]
	return len(list) == 0 || slices.ContainsFunc(list, func(p phrase) bool {
		day := p.lex.role == rOffset || p.lex.role == rWeekday || p.lex.role == rMonth
		return len(p.words) == 1 && (p.lex.role != noRole && !day || p.lex.stock != noStock || p.lex.set&(sStock|sHerd) != 0 || p.lex.guard == gPart)
	})
}

// namesNothing reports whether a word has no meaning, or is only a thing.
func (t *tongue) namesNothing(w string) bool {
	list := t.lexicon[w]
	return len(list) == 0 || len(list[len(list)-1].words) > 1 || list[len(list)-1].lex == lex{guard: gThing}
}

const possessiveS = "s"

// isName reports whether a number is all of the name of another than some.
func (n *naming) isName(x float64, but []int) bool {
	who, ok := n.behindArticle[strconv.FormatFloat(x, 'f', -1, 64)]
	return ok && x >= leastNumber && !slices.Contains(but, who)
}

// hasNumber reports whether a name holds a number.
func (n *naming) hasNumber(x float64) bool {
	for _, nm := range n.names {
		for k, isDigits := range nm.digits {
			if isDigits && number(nm.pieces[k]) == x {
				return true
			}
		}
	}
	return false
}
