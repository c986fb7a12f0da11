package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
)

// Medium is how a notice travels.
type Medium string

// The media.
const (
	Text Medium = "text"
	Mail Medium = "mail"
)

// Kind says what a notice is about. Notices of one kind due to one contact by
// one medium make one message.
type Kind string

// The rungs before and after cutoff.
const (
	FallAhead Kind = "fall-ahead" // 60 and 30 days before the first cutoff, farm-level
	HeadsUp   Kind = "heads-up"   // 10 days
	LastLook  Kind = "last-look"  // 5 days, with the last pass
	MovePlan  Kind = "move-plan"  // 2 days: where to
	ShutToday Kind = "shut-today" // the day of cutoff
	Overdue   Kind = "overdue"    // grazed during rest, day n (Facts.BackIn: put back in)
	KeepShut  Kind = "keep-shut"  // an empty paddock, at 10 days and at cutoff
)

// Fall use: paddocks grazed on purpose through their rest.
const (
	FallUseStarts Kind = "fall-use-starts"
	FallUseAsk    Kind = "fall-use-ask"
	FallUseOut    Kind = "fall-use-out" // its days have run out
)

// The fall and after.
const (
	AskHeight     Kind = "ask-height" // Facts.When: cutoff, mid-rest, end of rest
	FrostSeen     Kind = "frost"      // 36 F or below: rest is not over
	FreezeSeen    Kind = "freeze"     // 32 F or below, the one counted from
	KillingFreeze Kind = "killing-freeze"
	FrostFirst    Kind = "frost-beat-cutoff"
	FrostWarning  Kind = "frost-warning" // forecast, animals on hazard plants: off before dark
	HoldBegins    Kind = "hold-begins"
	HoldOver      Kind = "hold-over"
	RestOver      Kind = "rest-over"
	SeasonResult  Kind = "season-result"
	CutoffMoved   Kind = "cutoff-moved" // said where no rung carries the change
)

// The farm and the machine.
const (
	MondayMail   Kind = "monday"
	LessonsMail  Kind = "lessons"
	SignOfLife   Kind = "sign-of-life"
	Alarm        Kind = "alarm" // something of the machine fails; Facts.Alarm says what
	Enrolment    Kind = "enrolment"
	FarmFileBad  Kind = "farm-file-bad"
	StopTold     Kind = "stop-told"   // the manager hears that somebody opted out
	TakenBack    Kind = "taken-back"  // to those who were told what undo withdrew
	ContactsGone Kind = "not-reached" // who of the others could not be told
)

// Answers to a text. They are exempt from reconciliation, quiet hours and cap.
const (
	AnswerVerdict  Kind = "answer-verdict"  // GO or WAIT after a reading
	AnswerRecorded Kind = "answer-recorded" // what was written down, other than a reading
	AnswerAsk      Kind = "answer-ask"      // a question back
	AnswerStatus   Kind = "answer-status"
	AnswerHelp     Kind = "answer-help"
	AnswerStop     Kind = "answer-stop"
	AnswerStart    Kind = "answer-start"
	AnswerUndo     Kind = "answer-undo" // what was taken back, or that there was nothing
)

// Answer reports whether the kind answers a text that just came in.
func (k Kind) Answer() bool {
	switch k {
	case AnswerVerdict, AnswerRecorded, AnswerAsk, AnswerStatus, AnswerHelp, AnswerStop, AnswerStart, AnswerUndo:
		return true
	}
	return false
}

// Reserved reports whether the kind may pass the daily cap: answers, stop
// confirmations, the cutoff rung and everything after it, and what is on fire.
func (k Kind) Reserved() bool {
	switch k {
	case ShutToday, Overdue, FrostWarning, HoldBegins, Alarm, StopTold, TakenBack, Enrolment:
		return true
	}
	return k.Answer()
}

// A Notice is one thing to be said to one contact by one medium. Its words are
// made when it is claimed.
type Notice struct {
	// Key is unique for ever: paddock / cutoff / cause / rung / repeat /
	// contact / medium. An answer's key names its inbox row.
	Key    string
	To     string // the contact's name
	Medium Medium
	Kind   Kind
	Facts  Facts
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

// Facts is what a notice says, before any words: plain values, stored as JSON.
// Zero means 'not said'. Lengths are inches.
type Facts struct {
	Farm    string     `json:"farm,omitempty"`
	Paddock string     `json:"paddock,omitempty"` // id
	Name    string     `json:"name,omitempty"`    // as people say it, at most 20 septets
	Say     string     `json:"say,omitempty"`     // the shortest name that can be texted back: alias or id
	Day     civil.Date `json:"day,omitzero"`      // the day it speaks of

	Cutoff      civil.Date `json:"cutoff,omitzero"`
	WasCutoff   civil.Date `json:"was_cutoff,omitzero"` // the cutoff told before, where the farm file moved it
	Frost       civil.Date `json:"frost,omitzero"`      // the frost planned on
	OutBy       civil.Date `json:"out_by,omitzero"`     // the day to be out
	Days        int        `json:"days,omitempty"`      // days to the cutoff, or to the first cutoff of the farm
	RestDay     int        `json:"rest_day,omitempty"`  // days since the cutoff, or how late
	DaysToFrost int        `json:"days_to_frost,omitempty"`

	Leave   float64  `json:"leave,omitempty"`   // L
	Target  float64  `json:"target,omitempty"`  // T
	Grazed  bool     `json:"grazed,omitempty"`  // animals are known to be in
	Unknown bool     `json:"unknown,omitempty"` // nobody said whether animals are in
	BackIn  bool     `json:"back_in,omitempty"` // put back in during rest
	FallUse bool     `json:"fall_use,omitempty"`
	Cold    bool     `json:"cold,omitempty"`    // ground that is no native: no rest rule
	MoveTo  []string `json:"move_to,omitempty"` // paddocks that can take them, best first, as people say them
	Herds   []string `json:"herds,omitempty"`

	Height  *Height  `json:"height,omitempty"`  // the latest reading
	Verdict *Verdict `json:"verdict,omitempty"` // the answer to a height
	Expect  *Expect  `json:"expect,omitempty"`  // what it will be at frost or cutoff
	Hold    *Hold    `json:"hold,omitempty"`
	Cold36  *Cold    `json:"frost_seen,omitempty"` // a frost seen or forecast
	Result  *Result  `json:"result,omitempty"`     // a season's end
	Feed    *Feed    `json:"feed,omitempty"`
	Pass    []Stop   `json:"pass,omitempty"`    // the last pass, in the order of the days
	When    string   `json:"when,omitempty"`    // ask-height: cutoff, mid-rest, end
	Missing []string `json:"missing,omitempty"` // contacts who could not be reached
	Repeat  bool     `json:"repeat,omitempty"`  // said once already, unanswered
	Shuts   []Shut   `json:"shuts,omitempty"`   // fall-ahead, status, Monday mail: paddock by paddock

	Recorded []diary.Fact      `json:"recorded,omitempty"` // what was written down
	Stale    civil.Date        `json:"stale,omitzero"`     // the day a late text was sent, to confirm it
	Question *diary.Question   `json:"question,omitempty"`
	Names    map[string]string `json:"names,omitempty"` // paddock and herd ids in Recorded and Question as people say them
	Undone   []diary.Fact      `json:"undone,omitempty"`
	Who      string            `json:"who,omitempty"`    // another contact: who opted out, who took back
	Alarm    string            `json:"alarm,omitempty"`  // what fails: a word of the alarm list
	Detail   string            `json:"detail,omitempty"` // plain detail in English, mail and logs only
	Health   *Health           `json:"health,omitempty"`
	// And is what an answer says besides, each part by its own kind.
	And []Also `json:"and,omitempty"`
}

// Also is one more part of an answer.
type Also struct {
	Kind  Kind  `json:"kind"`
	Facts Facts `json:"facts"`
}
