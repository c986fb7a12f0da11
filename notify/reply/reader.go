package reply

import (
	"strings"
	"unicode"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// Units is what a bare number is counted in.
type Units int

// The units of a farm.
const (
	Inches Units = iota
	Centimetres
)

// inches gives the length of one unit in inches.
func (u Units) inches() float64 {
	if u == Centimetres {
		return 1 / 2.54
	}
	return 1
}

// rain gives what a bare amount of rain is counted in, inches: where heights are
// in centimetres, a rain gauge is read in millimetres.
func (u Units) rain() float64 {
	if u == Centimetres {
		return 0.1 / 2.54
	}
	return 1
}

// A Place is a paddock as people call it.
type Place struct {
	ID      string
	Name    string
	Aliases []string
	// Hazard says that a plant grows there that may kill: Kin, that it is sorghum
	// or its kin, Cherry, that it is wild cherry.
	Hazard, Kin, Cherry bool
}

// A Herd is a herd as people call it. ID is a name too.
type Herd struct {
	ID    string
	Names []string
	Kind  string // kind of stock, as in the farm file
	Head  int    // 0 where unknown
}

// Who is the person who wrote.
type Who struct {
	Name     string
	Language string // the tag of one of package language
	Manager  bool
	Out      bool // has opted out: a yes opts in again
}

// Asked is what the daemon has asked this person lately.
type Asked struct {
	// Paddocks are the ids most recently asked about, within 72 h.
	Paddocks []string
	// Moves are those of them that were to be emptied: done means that one.
	Moves []string
	// Last are the facts of this person's latest text, within 2 h: what a
	// correction is about.
	Last []diary.Fact
	// Choices are those of the question that waits for an answer, within 12 h.
	Choices []diary.Choice
	// Recent is the paddock of this person's own reading within 2 h: bare
	// numbers add plants to it, whatever else was asked.
	Recent string
	// Emergency says that this person told of an emergency within 12 h, and not yet
	// where it is.
	Emergency bool
	// Frost says that they were asked whether it has frozen, within 72 h, and that
	// nobody has said since.
	Frost bool
	// OpenQuestion is the paddock of the newest open question within 12 h.
	OpenQuestion string
	// Stale says that the text is older than 12 h: a bare number, an ok or an
	// a/b is asked back instead of heard.
	Stale bool
}

// Heard is what a text was taken for.
type Heard struct {
	Facts []diary.Fact
	// Ask is the question to be asked back; nil where all is clear.
	Ask *diary.Question
	// Nod says that no answer is needed: chat, or an ok with nothing open.
	Nod bool
	// Answered says that it answers the question that waits.
	Answered bool
}

// A Reader reads texts for one farm. It is safe for concurrent use.
type Reader struct {
	places []Place
	herds  []Herd
	units  Units
	voc    *vocabulary
	fields *naming       // names of paddocks
	stock  *naming       // names of herds
	kinds  [][]stockKind // of each herd
}

// New builds a reader for a farm.
func New(places []Place, herds []Herd, units Units) *Reader {
	return newReader(places, herds, units, installed())
}

func newReader(places []Place, herds []Herd, units Units, voc *vocabulary) *Reader {
	r := &Reader{places: places, herds: herds, units: units, voc: voc, fields: voc.naming(sPlace), stock: voc.naming(sHerd)}
	for i, p := range places {
		r.fields.add(i, p.Name)
		r.fields.add(i, p.ID)
		for _, a := range p.Aliases {
			r.fields.add(i, a)
		}
	}
	for i, h := range herds {
		r.stock.add(i, h.ID)
		for _, n := range h.Names {
			r.stock.add(i, n)
		}
		r.kinds = append(r.kinds, voc.kindsOf(h))
	}
	return r
}

// Read says what a text was taken for. Day is the farm's day it was sent.
func (r *Reader) Read(text string, who Who, asked Asked, day civil.Date) Heard {
	p, h := r.begin(text, who, asked, day)
	if h != nil {
		return *h
	}
	return p.read()
}

// begin cleans a text and makes its tokens. What is a whole message, an answer,
// too long or nothing at all is heard at once.
func (r *Reader) begin(text string, who Who, asked Asked, day civil.Date) (*parser, *Heard) {
	if len(text) > longest {
		return nil, &Heard{Ask: &diary.Question{Why: diary.TooLong}}
	}
	p := &parser{reader: r, tongue: r.voc.tongue(who.Language), who: who, asked: asked, day: day}
	p.sent = text
	p.words = clip(strings.TrimSpace(text), longestWords)
	clean := normalise(text)
	if tapback.MatchString(clean) {
		return nil, &Heard{Nod: true}
	}
	p.text = p.ownWords(body(clean))
	if h, ok := p.wholeMessage(); ok {
		return nil, &h
	}
	if h, ok := p.answer(); ok {
		return nil, &h
	}
	if h, ok := p.supposed(); ok {
		return nil, &h
	}
	if h, ok := p.wholeNews(); ok {
		return nil, &h
	}
	p.toks = p.tokens(p.text)
	switch {
	case len(p.toks) > mostTokens:
		return nil, &Heard{Ask: &diary.Question{Why: diary.TooLong}}
	case len(p.toks) == 0 || !strings.ContainsFunc(p.text, saysSomething):
		return nil, &Heard{Nod: true}
	case strings.Trim(p.text, "? \n") == "" && strings.Contains(p.text, "?"):
		h := p.ask(diary.Question{Why: diary.Unclear, Word: "?"})
		return nil, &h
	}
	if h, ok := p.frozen(); ok {
		return nil, &h
	}
	p.frozenThen()
	return p, nil
}

// ownWords cuts what a reply quotes of a message of ours: the lines down to the
// one that says what to text, and that one from there on.
func (p *parser) ownWords(text string) string {
	for phrase := range p.reader.voc.hints[hQuoted] {
		at := strings.LastIndex(text, phrase)
		if at < 0 {
			continue
		}
		if end := strings.IndexByte(text[at:], '\n'); end >= 0 {
			text = text[at+end:]
		} else {
			text = "?"
		}
	}
	return text
}

// saysSomething reports whether a character is more than a mark.
func saysSomething(r rune) bool {
	return r == '?' || r == '\x01' || r == '\x02' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// Bounds on what is read with care and kept of it.
const (
	mostTokens   = 300
	longestWords = 160 // characters of a text kept with a fact
	longestWord  = 20  // characters of a word in a question
)

// clip keeps the first n characters.
func clip(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i]
		}
		n--
	}
	return s
}

// A parser reads one text.
type parser struct {
	reader *Reader
	tongue *tongue
	who    Who
	asked  Asked
	day    civil.Date
	sent   string // what was typed
	words  string // of that, what is kept
	text   string
	toks   []token

	supposes bool   // it asks what would be
	odd      string // of what it supposes the first word that no sum is made of
	warnings []warning
	asks     [][2]int // the stretches that ask
	chart    chart
}

// tokens makes tokens with senses of a cleaned text.
func (p *parser) tokens(text string) []token {
	toks := scan(text)
	toks = p.reader.fields.resolve(toks, p.tongue)
	toks = p.reader.stock.resolve(toks, p.tongue)
	p.tongue.respell(toks)
	toks = p.tongue.lookUp(toks)
	p.tongue.mend(toks)
	p.partNames(toks)
	p.plainWordsToo(toks)
	p.settleOrders(toks)
	toks = p.noMore(toks)
	p.inPassing(toks)
	p.herdWords(toks)
	p.signed(toks)
	toks = p.values(toks)
	p.stems(toks)
	p.signs(toks)
	p.frostElsewhere(toks)
	toks = p.quantities(toks)
	p.tallies(toks)
	p.ailing(toks)
	p.trees(toks)
	p.forHay(toks)
	p.shoots(toks)
	p.cold(toks)
	toks = p.joinSmallWords(toks)
	settleNumbers(toks, func(w string) bool { return p.reader.hinted(w, hArticle) })
	p.efforts(toks)
	return p.corrected(p.spots(toks))
}
