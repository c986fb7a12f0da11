package reply

import (
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

// A Place is a paddock as people call it.
type Place struct {
	ID      string
	Name    string
	Aliases []string
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
	Language string // en, es
	Manager  bool
}

// Asked is what the daemon has asked this person lately.
type Asked struct {
	// Paddocks are the ids most recently asked about, within 72 h.
	Paddocks []string
	// Choices are those of the question that waits for an answer, within 12 h.
	Choices []diary.Choice
	// Recent is the paddock of this person's own reading within 2 h: bare
	// numbers add plants to it.
	Recent string
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
}

// A Reader reads texts for one farm. It is safe for concurrent use.
type Reader struct {
	places []Place
	herds  []Herd
	units  Units
}

// New builds a reader for a farm.
func New(places []Place, herds []Herd, units Units) *Reader {
	return &Reader{places: places, herds: herds, units: units}
}

// Read says what a text was taken for. Day is the farm's day it was sent.
func (r *Reader) Read(text string, who Who, asked Asked, day civil.Date) Heard {
	return Heard{Ask: &diary.Question{Why: diary.Unclear}}
}
