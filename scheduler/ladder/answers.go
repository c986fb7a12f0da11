package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

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
}

// RecordedFacts confirm what was written down, other than a height.
type RecordedFacts struct {
	PaddockFacts
	Answered
	Frosted
	RestDay int  `json:"rest_day,omitempty"` // days since the cutoff
	BackIn  bool `json:"back_in,omitempty"`  // put back in during rest
}

// QuestionFacts ask back.
type QuestionFacts struct {
	Head
	Answered
	Question *diary.Question `json:"question,omitempty"`
}

// StatusFacts tell how the farm or a paddock stands.
type StatusFacts struct {
	Head
	Answered
	Listed
	DaysToFrost int     `json:"days_to_frost,omitempty"`
	Health      *Health `json:"health,omitempty"`
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
	Who   string `json:"who,omitempty"`
	Alarm string `json:"alarm,omitempty"` // set where nobody is left to be told
}
