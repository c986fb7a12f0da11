package reply

import (
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// A supposing is what a text supposes: what if creek 5 more days. Its words may stand in
// any order; one that says something else makes nothing of it.
type supposing struct {
	says   map[hint]bool // stay, leave, move, sell, buy, out, more
	places []int         // of the last name of a paddock
	herds  []int
	herd   bool // a herd, or animals, were named
	from   bool // the last paddock is the one that they leave
	hours  float64
	spans  bool
	in     bool // so long from now: in 5 days
	n      float64
	counts bool
	height bool // the number has a unit of length
	day    civil.Date
	odd    string // a word that it does not know
}

// Suppose is Read for a text that is typed to be reckoned with, which need not begin
// with 'what if'.
func (r *Reader) Suppose(text string, who Who, day civil.Date) Heard {
	p := &parser{reader: r, tongue: r.voc.tongue(who.Language), who: who, day: day, words: clip(strings.TrimSpace(text), longestWords), text: body(normalise(text))}
	h := r.Read(text, who, Asked{}, day)
	if at, _ := p.whatIf(); at >= 0 || len(h.Facts) > 0 && h.Facts[0].Kind == diary.HowLow {
		return h
	}
	h, ok := p.behindWhatIf(0, 0)
	if !ok {
		h = p.notSupposed(h)
	}
	return h
}

// supposed takes what a text asks after 'what if'. Where nothing can be made of it the
// whole text is read.
func (p *parser) supposed() (Heard, bool) {
	at, end := p.whatIf()
	if at < 0 {
		return Heard{}, false
	}
	return p.behindWhatIf(at, end)
}

// behindWhatIf takes what is supposed behind its phrase, and hears what stands before it
// by itself.
func (p *parser) behindWhatIf(at, end int) (Heard, bool) {
	p.supposes = true
	toks := scan(p.text[end:])
	toks = p.reader.stock.resolve(p.reader.fields.resolve(toks, p.tongue), p.tongue)
	s := supposing{says: map[hint]bool{}}
	for i := 0; i < len(toks) && s.odd == ""; {
		i += p.oneMore(&s, toks, i)
	}
	p.odd = s.odd
	h, ok := p.ofSupposing(s)
	if before := strings.Trim(p.text[:at], " \n,.;:!?\x03"); ok && before != "" && h.Ask == nil {
		said := p.reader.Read(before, p.who, p.asked, p.day)
		h.Facts, h.Ask = append(said.Facts, h.Facts...), said.Ask
	}
	return h, ok
}

// whatIf finds the phrase that begins it: at the start of the text, or behind a mark.
func (p *parser) whatIf() (at, end int) {
	at = -1
	for phrase := range p.reader.voc.hints[hWhatIf] {
		i := strings.Index(p.text, phrase)
		if i < 0 || at >= 0 && (i > at || i == at && i+len(phrase) < end) {
			continue
		}
		before := strings.TrimRight(p.text[:i], " ")
		behind := p.text[i+len(phrase):]
		if (before == "" || strings.ContainsAny(before[len(before)-1:], ".,;:!?\n\x03")) && (behind == "" || !isWordByte(behind[0])) {
			at, end = i, i+len(phrase)
		}
	}
	return at, end
}

func isWordByte(b byte) bool { return b >= 'a' && b <= 'z' || b >= 0x80 || b >= '0' && b <= '9' }

// asides are the parts of a clause that change nothing of what is supposed.
const asides = sFill | sIt | sTo | sIn | sOn | sAt | sAll | sStock | sFrom | sOff | sOut | sMoved | sPut | sWent | sStay | sAnd | sField | sBe | sGrass | sComma | sStop | sColon

// oneMore takes what stands at i, and says how many tokens that is.
func (p *parser) oneMore(s *supposing, toks []token, i int) int {
	t := &toks[i]
	kind, animal := p.reader.voc.kinds[t.f]
	switch {
	case t.is(sPlace):
		s.places = t.places
		s.from = i > 0 && p.meaning(toks, i-1).set&sFrom != 0
		return 1
	case t.is(sHerd):
		s.herds, s.herd = t.herds, true
		return 1
	}
	if n := p.spanAt(s, toks, i); n > 0 {
		s.in = s.in || i > 0 && p.reader.hinted(toks[i-1].f, hIn)
		return n
	}
	if day, n := p.dayAhead(toks, i); n > 0 {
		s.day = day
		return n
	}
	if x, n := p.plainNumber(toks, i); n > 0 && !s.counts {
		s.n, s.counts = x, true
		if j := i + n; j < len(toks) && toks[j].kind == word {
			if u := p.meaning(toks, j); u.role == rUnit || u.role == rUnitIn {
				s.height = u.role == rUnit
				if u.role == rUnit {
					s.n *= u.val
				}
				n++
			}
		}
		return n
	}
	for _, h := range [...]hint{hMore, hIfLeave, hIfStay, hIfMove, hIfSell, hIfBuy, hIfOut, hIfNothing} {
		if p.reader.hinted(t.f, h) {
			s.says[h] = true
			return 1
		}
	}
	if animal && t.kind == word {
		s.herds, s.herd = p.reader.ofKind(kind), true
		return 1
	}
	x, n := p.tongue.lexicon.find(toks, i)
	if t.kind == mark {
		x, n = marks[t.s], 1
	}
	if x.set&asides == 0 && t.s != "?" && x.role != rHead || n == 0 {
		s.odd = t.s
		return 1
	}
	return n
}

// meaning is that of one token; nothing for a mark.
func (p *parser) meaning(toks []token, i int) lex {
	x, n := p.tongue.lexicon.find(toks[:i+1], i)
	if n != 1 {
		return lex{}
	}
	return x
}

// spanAt takes so many days or weeks at i: 5 more days, another week.
func (p *parser) spanAt(s *supposing, toks []token, i int) int {
	more := func(j int) bool { return j < len(toks) && p.reader.hinted(toks[j].f, hMore) }
	j, said := i, false
	for more(j) {
		j++
	}
	said = j > i
	x, n := 1.0, 0
	if j < len(toks) {
		if x, n = p.plainNumber(toks, j); n == 0 && (said || p.meaning(toks, j).role == rArticle) {
			x, n = 1, int(flag(!said))
		} else if n == 0 {
			return 0
		}
	}
	for j += n; more(j); j++ {
		said = true
	}
	if j >= len(toks) {
		return 0
	}
	unit := p.meaning(toks, j)
	if unit.role != rSpan || unit.val < 24 {
		return 0
	}
	s.hours, s.spans = min(x, 1000)*unit.val, true
	if s.says[hMore] = s.says[hMore] || said; more(j + 1) {
		s.says[hMore] = true
		j++
	}
	return j + 1 - i
}

// dayAhead reads a day that may be to come at i: tomorrow, friday, sep 5, 9/5.
func (p *parser) dayAhead(toks []token, i int) (day civil.Date, used int) {
	x, n := p.tongue.lexicon.find(toks, i)
	switch {
	case toks[i].kind == digits && i+2 < len(toks) && toks[i+1].s == "/" && toks[i+2].kind == digits:
		m, d := int(number(toks[i].s)), int(number(toks[i+2].s))
		if p.tongue.dayFirst && validMonthDay(d, m) || !validMonthDay(m, d) {
			m, d = d, m
		}
		return p.nextOf(m, d), 3
	case toks[i].kind == digits && i+1 < len(toks): // 5 de septiembre
		j := i + 1
		if p.reader.hinted(toks[j].s, hOfMonth) && j+1 < len(toks) {
			j++
		}
		if m := p.meaning(toks, j); m.role == rMonth {
			return p.nextOf(int(m.val), int(number(toks[i].s))), j + 1 - i
		}
	case toks[i].kind != word:
	case x.set&sMorrow != 0:
		return p.day.AddDays(int(x.val / 24)), n
	case x.role == rOffset && x.val == 0:
		return p.day, n
	case x.role == rWeekday:
		ahead := (int(x.val) - int(p.day.In(time.UTC).Weekday()) + 6) % 7
		return p.day.AddDays(ahead + 1), n
	case x.role == rMonth && i+1 < len(toks) && toks[i+1].kind == digits:
		return p.nextOf(int(x.val), int(number(toks[i+1].s))), 2
	}
	return day, 0
}

// nextOf is the next day of a month from today on; zero where there is none.
func (p *parser) nextOf(month, day int) civil.Date {
	if !validMonthDay(month, day) {
		return civil.Date{}
	}
	d := civil.Date{Year: p.day.Year, Month: time.Month(month), Day: day}
	if d.Before(p.day) {
		d.Year++
	}
	return d
}

// ofSupposing is the request that a supposing makes, or the question that it leaves
// open; false where it makes none.
func (p *parser) ofSupposing(s supposing) (Heard, bool) {
	f := diary.Fact{Kind: diary.WhatIf, Words: p.words, Wait: time.Duration(s.hours) * time.Hour}
	if s.odd != "" {
		return Heard{}, false
	}
	trades := s.says[hIfSell] || s.says[hIfBuy] || s.says[hMore] && s.counts && s.herd && !s.spans || s.counts && s.herd && len(s.places) == 0 && !s.spans && !s.says[hIfLeave]
	switch {
	case trades:
		return p.supposesHead(f, s)
	case s.spans && !s.in:
		if !s.day.IsZero() {
			return Heard{}, false // so long, and from when on
		}
	case s.counts && s.says[hIfLeave] || s.height:
		if s.n *= p.reader.units.inches(); s.height {
			s.n /= p.reader.units.inches()
		}
		if f.Heights = []float64{s.n}; s.n <= 0 || s.n > mostLeft {
			return p.ask(diary.Question{Why: diary.ImpossibleHeight}), true
		}
	case s.counts:
		return Heard{}, false
	case len(s.places) > 0 && (s.says[hIfOut] || s.from || !s.herd && !s.says[hIfMove]):
		if s.day.IsZero() && !s.spans {
			return Heard{}, false // what if creek: what of it?
		}
		if !s.spans {
			f.Wait = time.Duration(s.day.DaysSince(p.day)) * 24 * time.Hour
		}
	case len(s.places) > 0:
		if f.Day, f.Wait = s.day, 0; s.day.IsZero() {
			f.Day = p.day.AddDays(int(s.hours / 24))
		}
	default:
		return Heard{}, false
	}
	return p.supposesWho(f, s), true
}

// mostLeft is the greatest leaf height, inches, that a wish or a supposing may leave.
const mostLeft = 48

// supposesWho is a request with its herd and its paddock, or the question which.
func (p *parser) supposesWho(f diary.Fact, s supposing) Heard {
	withHerd := func(id string) []diary.Fact {
		f.Herd = id
		return []diary.Fact{f}
	}
	switch {
	case s.herd && len(s.herds) != 1 && !f.Day.IsZero():
		if len(s.places) == 1 {
			f.Paddock = p.reader.places[s.places[0]].ID
		}
		return Heard{Ask: p.whichHerd(s.herds, withHerd)}
	case len(s.herds) == 1:
		f.Herd = p.reader.herds[s.herds[0]].ID
	}
	if len(s.places) == 0 {
		return Heard{Facts: []diary.Fact{f}}
	}
	return p.ofPlaces(slots{places: s.places}, func(id string) []diary.Fact {
		f.Paddock = id
		return []diary.Fact{f}
	})
}

// supposesHead is a request of a herd with more head, or fewer.
func (p *parser) supposesHead(f diary.Fact, s supposing) (Heard, bool) {
	herds := s.herds
	if !s.herd {
		for i := range p.reader.herds {
			herds = append(herds, i)
		}
	}
	of := func(id string) []diary.Fact {
		had := p.reader.herds[slices.IndexFunc(p.reader.herds, func(h Herd) bool { return h.ID == id })].Head
		switch f.Herd = id; {
		case s.says[hIfSell]:
			f.Amount = -s.n
		case s.says[hIfBuy] || s.says[hMore]:
			f.Amount = s.n
		default:
			f.Amount = s.n - float64(had)
		}
		return []diary.Fact{f}
	}
	switch {
	case !s.counts || s.n != float64(int(s.n)) || s.n <= 0 || s.n > most || len(herds) == 0:
		return Heard{}, false
	case len(herds) > 1:
		return Heard{Ask: p.whichHerd(herds, of)}, true
	}
	h := p.reader.herds[herds[0]]
	if s.says[hIfSell] && int(s.n) > h.Head {
		return p.tooMany(h), true
	}
	return Heard{Facts: of(h.ID)}, true
}

// notSupposed asks back what no sum is made of: what can be supposed, and no word of
// what has not happened.
func (p *parser) notSupposed(h Heard) Heard {
	told := slices.ContainsFunc(h.Facts, func(f diary.Fact) bool { return f.Kind != diary.Status })
	if !p.supposes || told || h.Ask != nil && (len(h.Ask.Doubts) > 0 || len(h.Ask.Choices) > 0) {
		return h
	}
	return p.ask(diary.Question{Why: diary.Suppose, Word: clip(p.odd, longestWord)})
}
