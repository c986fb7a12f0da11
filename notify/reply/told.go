package reply

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"stubbled/scheduler/diary"
)

// A telling is a kind of whole text: what changes on a farm, or a question of it. It
// never stands beside anything else that could turn it into something else.
type telling struct {
	row   hint
	kind  diary.Kind
	build func(p *parser, k diary.Kind, s slots) Heard
}

var tellings = []telling{
	{hSold, diary.Sold, (*parser).headTold},
	{hBought, diary.Bought, (*parser).headTold},
	{hHead, diary.Head, (*parser).headTold},
	{hHay, diary.Hay, (*parser).bales},
	{hMoreHay, diary.Hay, (*parser).bales},
	{hLessHay, diary.Hay, (*parser).bales},
	{hFed, diary.Fed, (*parser).bales},
	{hUndoSold, diary.Sold, (*parser).undoes},
	{hUndoBought, diary.Bought, (*parser).undoes},
	{hUndoHead, diary.Head, (*parser).undoes},
	{hUndoHay, diary.Hay, (*parser).undoes},
	{hUndoFed, diary.Fed, (*parser).undoes},
	{hUndoWish, diary.Wish, (*parser).undoes},
	{hWishLeave, diary.Wish, (*parser).wishes},
	{hWishRest, diary.Wish, (*parser).wishes},
	{hFenceDown, diary.Note, (*parser).notes},
	{hGrid, diary.Grid, (*parser).cells},
	{hHowLow, diary.HowLow, (*parser).asksPlace},
	{hWhereNext, diary.WhereNext, (*parser).asksHerd},
	{hFeed, diary.FeedLasts, (*parser).asksPlace},
	{hWhen, diary.When, (*parser).asksPlace},
	{hWhenFrost, diary.When, (*parser).asksPlace},
	{hHowTall, diary.HowTall, (*parser).asksPlace},
	{hDaysLeft, diary.DaysLeft, (*parser).asksPlace},
}

// A wholeText is one: at each place a slot, or the words that may stand there, "" where
// none need to. In heard.txt they are parted by strokes: head/ is head or nothing.
type wholeText struct {
	telling
	pieces [][]string
}

// slots are what a text has in the slots of its form.
type slots struct {
	row    hint
	n      float64
	amount bool // a number was told
	herds  []int
	herd   bool // a herd, or animals, were named
	places []int
	cells  []float64
	ago    int // days
}

// forms are those of all languages, in an order that is always the same.
func (v *vocabulary) formsOf() (all []wholeText) {
	for _, t := range tellings {
		for _, text := range slices.Sorted(maps.Keys(v.hints[t.row])) {
			form := wholeText{telling: t}
			for _, w := range strings.Fields(fold(text)) {
				if !v.hints[hArticle][w] {
					form.pieces = append(form.pieces, strings.Split(w, "/"))
				}
			}
			all = append(all, form)
		}
	}
	return all
}

// beginnings are the forms by their first word, each with those that begin with a slot.
type beginnings struct {
	words map[string][]int
	slots []int
}

// of lists the forms that may begin with a word, in their order.
func (b beginnings) of(w string) []int {
	if list := b.words[w]; list != nil {
		return list
	}
	return b.slots
}

func beginningsOf(forms []wholeText) beginnings {
	b := beginnings{words: map[string][]int{}}
	for i, f := range forms {
		k := 0
		words := f.pieces[0]
		for ; words[len(words)-1] == ""; k++ { // it may begin behind them
			words = append(words[:len(words)-1:len(words)-1], f.pieces[k+1]...)
		}
		for _, w := range words {
			if strings.HasPrefix(w, "{") {
				b.slots = append(b.slots, i)
			} else {
				b.words[w] = append(b.words[w], i)
			}
		}
	}
	for w, list := range b.words {
		b.words[w] = slices.Sorted(slices.Values(slices.Concat(list, b.slots)))
	}
	return b
}

// withNames is a text in words, with its paddocks and herds found.
func (p *parser) withNames() []token {
	return p.reader.stock.resolve(p.reader.fields.resolve(scan(p.text), p.tongue), p.tongue)
}

// wholeNews takes a text for news of the farm, or several with marks between: only where
// all of it is that.
func (p *parser) wholeNews() (Heard, bool) {
	toks := p.withNames()
	if h, ok := p.onePart(p.bareToks(toks)); ok && h.grid() {
		return h, true // its counts may have commas between them
	}
	var all Heard
	for _, part := range p.sentences(toks) {
		h, ok := p.onePart(part)
		if !ok {
			return Heard{}, false
		}
		all.Facts = append(all.Facts, h.Facts...)
		if all.Ask == nil {
			all.Ask = h.Ask
		}
	}
	return all, len(all.Facts) > 0 || all.Ask != nil
}

// sentences parts a text at its marks, but not at that of a number.
func (p *parser) sentences(toks []token) (parts [][]token) {
	from := 0
	for i := 0; i <= len(toks); i++ {
		if i < len(toks) {
			within := i > 0 && i+1 < len(toks) && toks[i-1].kind == digits && toks[i+1].kind == digits && toks[i+1].glued
			if marks[toks[i].s].set&(sStop|sComma) == 0 || toks[i].kind != mark || toks[i].s == "?" || within {
				continue
			}
		}
		if part := p.bareToks(toks[from:i]); len(part) > 0 {
			parts = append(parts, part)
		}
		from = i + 1
	}
	return parts
}

// bareToks takes politeness from both ends, and what changes no news of a farm: whom
// something was bought from, what the bales look like, articles.
func (p *parser) bareToks(toks []token) []token {
	polite := func(t *token) bool { return t.kind == word && p.reader.voc.said("polite", t.f) }
	for len(toks) > 0 && polite(&toks[0]) {
		toks = toks[1:]
	}
	for len(toks) > 0 && polite(&toks[len(toks)-1]) {
		toks = toks[:len(toks)-1]
	}
	for n := 1; n <= mostBehind && n < len(toks); n++ {
		if p.reader.hinted(wordsOf(toks[len(toks)-n:]), hBesideNews) {
			toks, n = toks[:len(toks)-n], 0
		}
	}
	return slices.DeleteFunc(slices.Clone(toks), func(t token) bool {
		return t.kind == word && !t.is(sPlace|sHerd) && (p.reader.hinted(t.f, hArticle) || p.reader.hinted(t.f, hOfBales))
	})
}

// mostBehind is how many words may stand behind news of a farm and change nothing.
const mostBehind = 5

// wordsOf is what tokens say, in lower case and without accents.
func wordsOf(toks []token) string {
	words := make([]string, len(toks))
	for i := range toks {
		words[i] = toks[i].f
	}
	return strings.Join(words, " ")
}

func (p *parser) onePart(toks []token) (Heard, bool) {
	toks, asks := p.markedAsQuestion(toks)
	ago, toks := p.daysAgo(toks)
	if len(toks) == 0 {
		return Heard{}, false
	}
	for _, i := range p.reader.voc.formsBy.of(toks[0].f) {
		f := &p.reader.voc.forms[i]
		if s, used := p.fits(toks, f.pieces); used > 0 && used == len(toks) && !(asks && f.kind.Recorded()) {
			s.row, s.ago = f.row, ago
			return f.build(p, f.kind, s), true
		}
	}
	return Heard{}, false
}

// markedAsQuestion takes the marks of a question from a text.
func (p *parser) markedAsQuestion(toks []token) (rest []token, asks bool) {
	if n := len(toks) - 2; n > 0 && p.reader.hinted(wordsOf(toks[n:]), hQuestionMark) {
		toks, asks = toks[:n], true // dictated
	}
	for len(toks) > 0 && toks[0].s == "\x03" {
		toks, asks = toks[1:], true
	}
	for n := len(toks) - 1; n >= 0 && toks[n].s == "?"; n-- {
		toks, asks = toks[:n], true
	}
	return toks, asks
}

// daysAgo takes a day from the end of a text: today, yesterday.
func (p *parser) daysAgo(toks []token) (int, []token) {
	if n := len(toks) - 1; n > 0 && toks[n].kind == word && !toks[n].is(sPlace|sHerd) {
		for _, e := range p.tongue.lexicon[toks[n].f] {
			if len(e.words) == 1 && e.lex.role == rOffset && e.lex.val <= 0 {
				return int(-e.lex.val), toks[:n]
			}
		}
	}
	return 0, toks
}

// passing are the whole texts that are heard with talk around them too.
var passing = []hint{hSold, hBought, hHay, hMoreHay, hLessHay, hFed, hFenceDown}

// amongTalk is what was sold, bought, fed or is on hand, or a fence down, in a text that
// tells nothing else, with talk around it: the truck came at seven and we sold 20 of the
// steers. I miss them.
func (p *parser) amongTalk() (Heard, bool) {
	const idle = 1<<noGuard | 1<<gThing | 1<<gPart | 1<<gRain
	const near = 1<<gPlan | 1<<gHedge | 1<<gOrder | 1<<gToCome | 1<<gWhen | 1<<gAsk | 1<<gOther | 1<<gBefore // of their own sentence
	toks, day := p.withNames(), p.dayIn(0, len(p.toks))
	if day.many || day.soft || p.guarded(toks, ^(idle|near)) || p.writes(hNoSale) || len(toks) > 0 && p.reader.hinted(toks[0].s, hBeginsQuestion) {
		return Heard{}, false
	}
	named := len(p.tokensOf(sPlace))
	var before []token
	for _, part := range p.sentences(toks) {
		for from := range part {
			f, s, used := p.passingAt(part, from)
			if used == 0 || named > min(1, len(s.places)) || p.guarded(slices.Concat(before, part[:from], part[from+used:]), ^idle) {
				continue
			}
			s.row, s.ago = f.row, p.day.DaysSince(day.day)
			return f.build(p, f.kind, s), true
		}
		before = append(before, part...)
	}
	return Heard{}, false
}

// passingAt is the news in passing that begins at a token of a part and is the writer's
// own, where nothing stands right behind it that makes another thing of it: Bob sold 5
// cows; sold 5 cows worth of hay; fed 3 bales of straw.
func (p *parser) passingAt(part []token, from int) (f *wholeText, s slots, used int) {
	if from > 0 && !p.reader.hinted(part[from-1].f, hSubject) && !p.reader.hinted(part[from-1].f, hAlready) {
		return nil, s, 0
	}
	for _, i := range p.reader.voc.formsBy.of(part[from].f) {
		f := &p.reader.voc.forms[i]
		if !slices.Contains(passing, f.row) {
			continue
		}
		s, used := p.fits(part[from:], f.pieces)
		head, behind := f.row == hSold || f.row == hBought, hBehindNews
		if head {
			behind = hBehindSale
		}
		next := from + used
		more := slices.ContainsFunc(part[min(next, len(part)):], func(t token) bool { return t.kind == digits || !head && f.row != hFenceDown && t.is(sHerd) }) // and sold him 2 cows
		if used > 2 && (s.herd || !head) && !more && (next == len(part) || p.reader.hinted(part[next].f, behind)) {
			return f, s, used
		}
	}
	return nil, s, 0
}

// guarded reports whether some words hold one that keeps what is told out of the diary,
// of the guards of a set.
func (p *parser) guarded(toks []token, set int) bool {
	for i := 0; i < len(toks); {
		x, n := p.tongue.lexicon.find(toks, i)
		if toks[i].s == "?" || n > 0 && set&(1<<x.guard) != 0 {
			return true
		}
		i += max(n, 1)
	}
	return false
}

// fits tells how many tokens at the head of a text are of a form, 0 where none are, and
// what it has in its slots.
func (p *parser) fits(toks []token, pieces [][]string) (s slots, i int) {
	for _, words := range pieces {
		optional := words[len(words)-1] == ""
		if i >= len(toks) && !optional {
			return s, 0
		}
		used := 1
		switch t := tokenAt(toks, i); words[0] {
		case "{n}":
			s.n, used = p.plainNumber(toks, i)
			s.amount = true
		case "{cells}":
			s.cells, used = cellsIn(toks[i:])
		case "{herd}":
			s.herd = true
			if s.herds = t.herds; !t.is(sHerd) {
				kind, animal := p.reader.voc.kinds[t.f]
				if s.herds = p.reader.ofKind(kind); !animal || t.kind != word || t.is(sPlace) {
					return s, 0
				}
			}
		case "{paddock}":
			if s.places = t.places; !t.is(sPlace) {
				return s, 0
			}
		default:
			if t.kind == mark || t.is(sPlace|sHerd) || !slices.Contains(words, t.f) {
				if used = 0; optional {
					continue
				}
			}
		}
		if i += used; used == 0 {
			return s, 0
		}
	}
	return s, i
}

// plainNumber reads digits, with a part behind a point, or a number in words.
func (p *parser) plainNumber(toks []token, i int) (x float64, used int) {
	if toks[i].kind != digits {
		n, used := p.reader.voc.spoken(toks, i)
		return float64(n), used
	}
	text, used := toks[i].s, 1
	if i+2 < len(toks) && (toks[i+1].s == "." || toks[i+1].s == ",") && toks[i+1].glued && toks[i+2].glued && toks[i+2].kind == digits {
		text, used = text+"."+toks[i+2].s, 3
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, 0
	}
	return x, used
}

// cellsIn are counts up to the end of a text, with commas between or none.
func cellsIn(toks []token) (all []float64, used int) {
	for i := range toks {
		if toks[i].s == "," && i > 0 {
			continue
		}
		n, err := strconv.Atoi(toks[i].s)
		if err != nil {
			return nil, 0
		}
		all = append(all, float64(n))
	}
	return all, len(toks)
}

// frameCells is how many cells a frame has.
const frameCells = 25

// cells makes a frame count of a paddock.
func (p *parser) cells(k diary.Kind, s slots) Heard {
	if slices.Max(s.cells) > frameCells {
		return p.ask(diary.Question{Why: diary.Cells})
	}
	return p.ofPlaces(s, func(id string) []diary.Fact {
		f := p.fact(k, id, p.day.AddDays(-s.ago))
		f.Heights = s.cells
		return []diary.Fact{f}
	})
}

// grid reports whether a text was a frame count, or is asked about as one.
func (h Heard) grid() bool {
	return len(h.Facts) == 1 && h.Facts[0].Kind == diary.Grid || h.Ask != nil && (h.Ask.Why == diary.Cells || len(h.Ask.Choices) > 0 && h.Ask.Choices[0].Facts[0].Kind == diary.Grid)
}

// most is how many head or bales a text may tell of.
const most = 100_000

// headTold makes head sold, bought, or as many as there are.
func (p *parser) headTold(k diary.Kind, s slots) Heard {
	of := func(id string) []diary.Fact {
		f := p.fact(k, "", p.day.AddDays(-s.ago))
		f.Herd, f.Amount = id, s.n
		return []diary.Fact{f}
	}
	herds := s.herds
	if !s.herd {
		for i := range p.reader.herds {
			herds = append(herds, i)
		}
	}
	switch {
	case s.n != float64(int(s.n)) || s.n > most || s.n == 0 && k != diary.Head || len(herds) == 0:
		return p.ask(diary.Question{Why: diary.Unclear})
	case len(herds) > 1:
		return Heard{Ask: p.whichHerd(herds, of)}
	}
	h := p.reader.herds[herds[0]]
	switch {
	case k == diary.Sold && int(s.n) > h.Head:
		return p.tooMany(h)
	case k == diary.Head && (2*int(s.n) < h.Head || int(s.n) > 2*h.Head): // it may be a height
		return Heard{Ask: p.confirm(of(h.ID))}
	}
	return Heard{Facts: of(h.ID)}
}

// tooMany says how many head there are, where more would go.
func (p *parser) tooMany(h Herd) Heard {
	return p.ask(diary.Question{Why: diary.TooMany, Word: strconv.Itoa(h.Head)})
}

// undoes takes the newest of a kind back.
func (p *parser) undoes(k diary.Kind, _ slots) Heard {
	return Heard{Facts: []diary.Fact{{Kind: diary.Undo, Words: string(k)}}}
}

// bales makes hay on hand, bought, sold or fed.
func (p *parser) bales(k diary.Kind, s slots) Heard {
	if s.n > most || s.n == 0 && s.row != hHay {
		return p.ask(diary.Question{Why: diary.Unclear})
	}
	f := p.fact(k, "", p.day.AddDays(-s.ago))
	if f.Amount, f.Adds = s.n, s.row == hMoreHay; s.row == hLessHay {
		f.Amount, f.Adds = -s.n, true
	}
	return Heard{Facts: []diary.Fact{f}}
}

// wishes makes what a manager would have the farm file say of a paddock.
func (p *parser) wishes(k diary.Kind, s slots) Heard {
	of := func(id string) []diary.Fact {
		f := p.fact(k, id, p.day.AddDays(-s.ago))
		if f.Wait = time.Duration(s.n) * 24 * time.Hour; s.row == hWishLeave {
			f.Wait, f.Heights = 0, []float64{s.n * p.reader.units.inches()}
		}
		return []diary.Fact{f}
	}
	switch f := of("")[0]; {
	case !p.who.Manager:
		return p.ask(diary.Question{Why: diary.NotAllowed})
	case len(f.Heights) > 0 && (f.Heights[0] <= 0 || f.Heights[0] > mostLeft) || len(f.Heights) == 0 && (s.n < 1 || s.n > 200):
		return p.ask(diary.Question{Why: diary.Unclear})
	}
	return p.ofPlaces(s, of)
}

// notes makes what is only passed on.
func (p *parser) notes(k diary.Kind, s slots) Heard {
	of := func(id string) []diary.Fact { return []diary.Fact{p.fact(k, id, p.day.AddDays(-s.ago))} }
	if s.places == nil {
		return Heard{Facts: of("")}
	}
	return p.ofPlaces(s, of)
}

// Counting is a reader of a farm whose herds have as many head as are told, by their
// ids.
func (r *Reader) Counting(head map[string]int) *Reader {
	c := *r
	c.herds = slices.Clone(r.herds)
	for i := range c.herds {
		if n, ok := head[c.herds[i].ID]; ok {
			c.herds[i].Head = n
		}
	}
	return &c
}
