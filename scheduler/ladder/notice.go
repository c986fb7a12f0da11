package ladder

import (
	"encoding/json"
	"fmt"
	"time"

	"stubbled/scheduler/diary"
)

// Medium is how a notice travels.
type Medium string

// The media.
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
