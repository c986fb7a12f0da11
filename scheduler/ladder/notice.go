package ladder

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// Medium is how a notice travels.
type Medium string

const (
	Text Medium = "text"
	Mail Medium = "mail"
	Call Medium = "call" // a voice on the telephone, of farms that have a service for it
)

// A Notice is one thing to be said to one contact by one medium. Its words are
// made when it is claimed.
type Notice struct {
	Key    Key
	To     string // the contact's name
	Medium Medium
	Kind   Kind
	Facts  Facts // of the type of its kind; they are shared and never changed
	// NotBefore is when it is due; after GoodUntil it is no longer true and
	// expires unsaid.
	NotBefore time.Time
	GoodUntil time.Time
	// Urgent may break quiet hours: a hazard where animals stand, a dead
	// carrier.
	Urgent bool
	// Inbox is the inbox row that an answer answers; 0 otherwise.
	Inbox int64
}

// About is the farm, the place and the day that a notice speaks of.
func (n Notice) About() Head {
	if n.Facts == nil {
		return Head{}
	}
	return *n.Facts.About()
}

// Asks is the kind of fact that answers a notice; empty where it asks nothing, as an
// empty paddock's rung does but where its height is wanted.
func (n Notice) Asks() diary.Kind {
	if f, ok := n.Facts.(*RungFacts); ok && n.Kind == KeepShut && !f.Read {
		return ""
	}
	return kinds[n.Kind].asks
}

// Parts are all that a notice says, each by its own kind.
func (n Notice) Parts() []Part {
	all := []Part{{n.Kind, n.Facts}}
	if answer, ok := n.Facts.(Answer); ok {
		all = append(all, answer.Reply().And...)
	}
	return all
}

// Asked is the question that an answer asks back, among its parts; nil where
// there is none.
func (n Notice) Asked() *diary.Question {
	if f, ok := n.Facts.(*DroughtFacts); ok {
		return f.Question
	}
	for _, part := range n.Parts() {
		if f, ok := part.Facts.(*QuestionFacts); ok && f.Question != nil {
			return f.Question
		}
	}
	return nil
}

// MayAsk reports whether stored facts hold a question that is asked back. Few do, and
// to read them takes long.
func MayAsk(data string) bool { return strings.Contains(data, `"question":`) }

// MayWantHeight is the same of a rung that wants a height besides.
func MayWantHeight(data string) bool { return strings.Contains(data, `"read":true`) }

// Encode is the facts as they are stored.
func (n Notice) Encode() (string, error) {
	if n.Facts == nil {
		return "{}", nil
	}
	data, err := json.Marshal(n.Facts)
	return string(data), err
}

// Decode takes stored facts as those of the notice's kind.
func (n *Notice) Decode(data string) error {
	n.Facts = n.Kind.NewFacts()
	return json.Unmarshal([]byte(data), n.Facts)
}

// A Part is one more part of an answer.
type Part struct {
	Kind  Kind  `json:"kind"`
	Facts Facts `json:"facts"`
}

// UnmarshalJSON reads the facts as those of the part's kind.
func (p *Part) UnmarshalJSON(data []byte) error {
	var raw struct {
		Kind  Kind            `json:"kind"`
		Facts json.RawMessage `json:"facts"`
	}
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	p.Kind, p.Facts = raw.Kind, raw.Kind.NewFacts()
	if len(raw.Facts) == 0 {
		return nil
	}
	if err := json.Unmarshal(raw.Facts, p.Facts); err != nil {
		return fmt.Errorf("part %q: %w", p.Kind, err)
	}
	return nil
}

// Answered is what any answer to a text may say besides.
type Answered struct {
	Recorded []diary.Fact      `json:"recorded,omitempty"` // what was written down
	Names    map[string]string `json:"names,omitempty"`    // paddock and herd ids as people say them
	Stale    civil.Date        `json:"stale,omitzero"`     // the day a late text was sent, to confirm it
	And      []Part            `json:"and,omitempty"`      // each part by its own kind
}

// Reply is what the answer says besides.
func (a *Answered) Reply() *Answered { return a }

// An Answer is the facts of an answer to a text.
type Answer interface {
	Facts
	Reply() *Answered
}

// VerdictFacts answer a height.
type VerdictFacts struct {
	PaddockFacts
	Answered
	Judged
	Move  *spring.Move   `json:"move,omitempty"`  // how long those who stand there may stay
	Turn  *spring.TurnIn `json:"turn,omitempty"`  // when it may be begun
	Early *spring.Early  `json:"early,omitempty"` // it was, too early
}

// RecordedFacts confirm what was written down, other than a height.
type RecordedFacts struct {
	PaddockFacts
	Answered
	Frosted
	RestDay int  `json:"rest_day,omitempty"` // days since the cutoff
	BackIn  bool `json:"back_in,omitempty"`  // put back in during rest
	// RestGoesOn says that a paddock that the frost or brown tops were told of is in
	// rest all the same.
	RestGoesOn bool          `json:"rest_goes_on,omitempty"`
	Grid       *spring.Stand `json:"grid,omitempty"` // what a frame count comes to
	// DroughtOver says that the rain told of ended the drought.
	DroughtOver bool          `json:"drought_over,omitempty"`
	Early       *spring.Early `json:"early,omitempty"` // it was begun too early
	// Counts are the herds of which head were sold or bought, as many as there are now.
	Counts []Count `json:"counts,omitempty"`
	// Fescue says that they went to toxic fescue in the cold, first of this fall.
	Fescue bool `json:"fescue,omitempty"`
}

// PassedFacts are the words of somebody who is not on file.
type PassedFacts struct {
	Head
	Answered
	Who   string `json:"who,omitempty"` // the number, or the contact
	Words string `json:"words,omitempty"`
	Note  bool   `json:"note,omitempty"` // it is news, and no stranger's
}

// QuestionFacts ask back.
type QuestionFacts struct {
	Head
	Answered
	Question *diary.Question `json:"question,omitempty"`
	Causes   []Cleared       `json:"causes,omitempty"` // what a clear would lift
	Wait     *Wait           `json:"wait,omitempty"`   // what shuts the ground that a clear lifts nothing on
}

// StatusFacts tell how the farm or a paddock stands.
type StatusFacts struct {
	Head
	Answered
	Listed
	DaysToFrost int     `json:"days_to_frost,omitempty"`
	Health      *Health `json:"health,omitempty"`
}

// AskedFacts answer a question of the whole farm.
type AskedFacts struct {
	Head
	Answered
	Listed
	Feed    *Feed           `json:"feed,omitempty"`
	Pass    []Stop          `json:"pass,omitempty"` // where the herds go next
	Changed []season.Change `json:"changed,omitempty"`
	// Frost is the day that is planned on; zero where there is none.
	Frost civil.Date `json:"planned,omitzero"`
	// What is supposed, or asked to be grazed low.
	Supposed *Supposed `json:"supposed,omitempty"`
}

// UndoFacts say what was taken back, or that there was nothing.
type UndoFacts struct {
	Head
	Answered
	Undone []diary.Fact `json:"undone,omitempty"`
}

// AnswerFacts are those of an answer that has nothing more of its own: help, the
// end of all messages, their start.
type AnswerFacts struct {
	Head
	Answered
	Alarm string `json:"alarm,omitempty"` // set where nobody is left to be told
	Stop  string `json:"stop,omitempty"`  // StopMail or StopUnproved; empty: everything stops
}

// What a mail that does not prove who wrote it stops.
const (
	StopMail     = "mail"     // mail alone
	StopUnproved = "unproved" // nothing, until the answer to it is answered
)
