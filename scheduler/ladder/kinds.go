package ladder

import (
	"reflect"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/quiet"
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
	Overdue   Kind = "overdue"    // grazed during rest, day n, or put back in
	KeepShut  Kind = "keep-shut"  // an empty paddock, at 10 days and at cutoff
)

// Fall use: paddocks grazed on purpose through their rest.
const (
	FallUseStarts Kind = "fall-use-starts"
	FallUseAsk    Kind = "fall-use-ask"
	FallUseOut    Kind = "fall-use-out" // its days have run out
)

// Spring, before there is any cutoff to speak of.
const (
	GreenUp  Kind = "green-up"  // how tall is it now, when turning in is near
	TooEarly Kind = "too-early" // grazed under the height to begin at
)

// The fall and after.
const (
	AskHeight     Kind = "ask-height" // at cutoff, mid-rest, end of rest
	FrostSeen     Kind = "frost"      // 36 F or below: rest is not over
	FreezeSeen    Kind = "freeze"     // 32 F or below, the one counted from
	KillingFreeze Kind = "killing-freeze"
	FrostFirst    Kind = "frost-beat-cutoff"
	FrostWarning  Kind = "frost-warning" // forecast, animals on hazard plants: off before dark
	HazardAhead   Kind = "hazard-ahead"  // they stand where the first frost will poison, two weeks before it may come
	HoldBegins    Kind = "hold-begins"   // on ground where nobody stands
	HoldAnimals   Kind = "hold-animals"  // animals stand on it: said until they are off
	HoldUnsure    Kind = "hold-unsure"   // nobody knows whether they do
	EmergencyTold Kind = "emergency"
	HoldOver      Kind = "hold-over"
	StillShut     Kind = "still-shut"     // its hold is over, and something else shuts it
	WaitAnimals   Kind = "wait-animals"   // they stand where nobody should, and it is no hold
	FrostAsk      Kind = "frost-ask"      // has it frozen, are the tops brown
	FrostDisputed Kind = "frost-disputed" // one says frost and another no frost
	RestOver      Kind = "rest-over"
	SeasonResult  Kind = "season-result"
	CutoffMoved   Kind = "cutoff-moved" // said where no rung carries the change
)

// The farm and the machine.
const (
	Drought     Kind = "drought" // rain is short: head to move, or whether it is one
	MondayMail  Kind = "monday"
	LessonsMail Kind = "lessons"
	Scorecard   Kind = "scorecard" // what last fall's rest was worth
	SignOfLife  Kind = "sign-of-life"
	Alarm       Kind = "alarm" // something of the machine fails
	Enrolment   Kind = "enrolment"
	FarmFileBad Kind = "farm-file-bad"
	StopTold    Kind = "stop-told"  // the manager hears that somebody opted out
	TakenBack   Kind = "taken-back" // to those who were told what undo withdrew
)

// Answers to a text. They are exempt from reconciliation, quiet hours and cap.
const (
	AnswerVerdict  Kind = "answer-verdict"  // GO or WAIT after a reading
	AnswerRecorded Kind = "answer-recorded" // what was written down, other than a reading
	AnswerAsk      Kind = "answer-ask"      // a question back
	AnswerStatus   Kind = "answer-status"
	AnswerAsked    Kind = "answer-asked" // where next, how far the feed reaches, when it freezes
	AnswerHelp     Kind = "answer-help"
	AnswerStop     Kind = "answer-stop"
	AnswerStart    Kind = "answer-start"
	AnswerWaits    Kind = "answer-waits" // it is heard once the clock is right; its answer follows
	PassedOn       Kind = "passed-on"    // the words of a number that is not on file, to those in charge
	AnswerUndo     Kind = "answer-undo"  // what was taken back, or that there was nothing
)

// A kindRow is what holds for every notice of a kind.
type kindRow struct {
	facts Facts // of this type
	// to are the roles of those whom it is for; atCutoff those of the cutoff rung
	// instead. Where a row has neither it is for whom its rung names, or for
	// everybody.
	to       []string
	atCutoff bool
	by       Medium // the one way that it goes, if there is but one
	presses  bool   // does not wait until a carrier is mended
	answer   bool   // to a text that just came in
	// reserved may pass the daily cap: answers, stop confirmations, the cutoff
	// rung and everything after it, and what is on fire.
	reserved bool
	// twice is worth saying once more where nobody knows whether it arrived: a rung,
	// what follows a cutoff, a hazard, the enrolment, and every answer.
	twice bool
	// whole is never cut, since it is about poison: what does not fit goes into
	// the next message.
	whole       bool
	tellsCutoff bool
	joins       string     // with what a day's work of this kind may stand in one text: off, walk
	asks        diary.Kind // the fact that answers it; empty where it asks nothing
	quiet       quiet.Rank // who goes first where a week has room for one text
}

var (
	manager = []string{"manager"}
	office  = []string{"manager", "owner"}
)

// kinds has a row for every kind.
var kinds = map[Kind]kindRow{
	FallAhead: {facts: &FarmFacts{}, tellsCutoff: true, twice: true, quiet: quiet.Ahead},
	HeadsUp:   {facts: &RungFacts{}, joins: "walk", tellsCutoff: true, asks: diary.Reading, twice: true},
	LastLook:  {facts: &RungFacts{}, joins: "walk", tellsCutoff: true, asks: diary.Reading, twice: true},
	MovePlan:  {facts: &RungFacts{}, joins: "off", tellsCutoff: true, asks: diary.Off, twice: true},
	ShutToday: {facts: &RungFacts{}, joins: "off", tellsCutoff: true, asks: diary.Off, reserved: true, twice: true},
	Overdue:   {facts: &OverdueFacts{}, joins: "off", presses: true, tellsCutoff: true, asks: diary.Off, reserved: true, twice: true},
	KeepShut:  {facts: &RungFacts{}, joins: "walk", tellsCutoff: true, asks: diary.Reading, twice: true},

	FallUseStarts: {facts: &FallUseFacts{}, to: manager, tellsCutoff: true, asks: diary.Reading, twice: true},
	FallUseAsk:    {facts: &FallUseFacts{}, to: manager, asks: diary.Reading, twice: true},
	FallUseOut:    {facts: &FallUseFacts{}, to: manager, asks: diary.Off, twice: true},

	GreenUp:  {facts: &SpringFacts{}, to: manager, asks: diary.Reading, quiet: quiet.Ground},
	TooEarly: {facts: &SpringFacts{}, to: manager, asks: diary.Off, twice: true, quiet: quiet.Ground},

	AskHeight:     {facts: &HeightFacts{}, joins: "walk", to: manager, asks: diary.Reading, quiet: quiet.Rest},
	FrostSeen:     {facts: &FrostFacts{}, to: office, quiet: quiet.Rest},
	FreezeSeen:    {facts: &FrostFacts{}, to: office, quiet: quiet.Rest},
	KillingFreeze: {facts: &FrostFacts{}, to: office, quiet: quiet.Rest},
	FrostFirst:    {facts: &EndFacts{}, to: manager, asks: diary.Reading, twice: true, quiet: quiet.Rest},
	FrostWarning:  {facts: &FrostFacts{}, whole: true, atCutoff: true, presses: true, asks: diary.Off, reserved: true, twice: true},
	HazardAhead:   {facts: &FrostFacts{}, to: manager, whole: true, twice: true},
	HoldBegins:    {facts: &PaddockFacts{}, whole: true, atCutoff: true, reserved: true, twice: true},
	HoldAnimals:   {facts: &PaddockFacts{}, whole: true, atCutoff: true, presses: true, asks: diary.Off, reserved: true, twice: true},
	HoldUnsure:    {facts: &PaddockFacts{}, whole: true, atCutoff: true, presses: true, asks: diary.Off, reserved: true, twice: true},
	WaitAnimals:   {facts: &PaddockFacts{}, whole: true, atCutoff: true, asks: diary.Off, reserved: true, twice: true},
	FrostAsk:      {facts: &FrostFacts{}, to: manager, twice: true, quiet: quiet.Asked},
	FrostDisputed: {facts: &DisputeFacts{}, reserved: true, twice: true},
	HoldOver:      {facts: &PaddockFacts{}, whole: true, atCutoff: true, twice: true, quiet: quiet.Ground},
	StillShut:     {facts: &PaddockFacts{}, whole: true, atCutoff: true, twice: true, quiet: quiet.Ground},
	EmergencyTold: {facts: &EmergencyFacts{}, to: office, presses: true, reserved: true, twice: true},
	RestOver:      {facts: &EndFacts{}, to: manager, asks: diary.Reading, quiet: quiet.Rest},
	SeasonResult:  {facts: &EndFacts{}, to: manager, quiet: quiet.Rest},
	CutoffMoved:   {facts: &PaddockFacts{}, tellsCutoff: true, quiet: quiet.Rest},

	Drought:     {facts: &DroughtFacts{}, to: office, quiet: quiet.Drought, twice: true},
	MondayMail:  {facts: &FarmFacts{}, to: office, by: Mail},
	LessonsMail: {facts: &EndFacts{}, to: office, by: Mail},
	Scorecard:   {facts: &ScorecardFacts{}, to: office, by: Mail},
	SignOfLife:  {facts: &FarmFacts{}, to: manager, by: Text, quiet: quiet.Alive},
	Alarm:       {facts: &AlarmFacts{}, reserved: true},
	Enrolment:   {facts: &PersonFacts{}, by: Text, reserved: true, twice: true},
	FarmFileBad: {facts: &AlarmFacts{}, to: manager},
	StopTold:    {facts: &PersonFacts{}, to: office, reserved: true},
	TakenBack:   {facts: &TakenBackFacts{}, reserved: true},

	AnswerVerdict:  {facts: &VerdictFacts{}, answer: true},
	AnswerRecorded: {facts: &RecordedFacts{}, answer: true},
	AnswerAsk:      {facts: &QuestionFacts{}, answer: true},
	AnswerStatus:   {facts: &StatusFacts{}, answer: true},
	AnswerAsked:    {facts: &AskedFacts{}, answer: true},
	AnswerHelp:     {facts: &AnswerFacts{}, answer: true},
	AnswerStop:     {facts: &AnswerFacts{}, answer: true},
	AnswerStart:    {facts: &AnswerFacts{}, answer: true},
	AnswerWaits:    {facts: &AnswerFacts{}, answer: true},
	PassedOn:       {facts: &PassedFacts{}, answer: true},
	AnswerUndo:     {facts: &UndoFacts{}, answer: true},
}

// Answer reports whether the kind answers a text that just came in.
func (k Kind) Answer() bool { return kinds[k].answer }

// Reserved reports whether the kind may pass the daily cap.
func (k Kind) Reserved() bool { return kinds[k].answer || kinds[k].reserved }

// Twice reports whether a notice is worth saying once more where nobody knows
// whether it arrived.
func (k Kind) Twice() bool { return kinds[k].answer || kinds[k].twice }

// Whole reports whether every paddock of a bundle must be named.
func (k Kind) Whole() bool { return kinds[k].whole }

// Joins names the work that a kind's may stand in one text with, where a day has too
// many texts; empty where it never does.
func (k Kind) Joins() string { return kinds[k].joins }

// NewFacts is the empty facts of a notice of the kind; of one that is not known
// here what any paddock says.
func (k Kind) NewFacts() Facts {
	row, ok := kinds[k]
	if !ok {
		return &PaddockFacts{}
	}
	return reflect.New(reflect.TypeOf(row.facts).Elem()).Interface().(Facts)
}
