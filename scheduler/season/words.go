package season

// Phase is where a paddock stands in its year.
type Phase string

// The phases. Ground that is no native stays Open.
const (
	Open    Phase = "open"
	Rest    Phase = "rest"
	Dormant Phase = "dormant"
)

// Say is the answer to 'may they graze it'. Empty is no verdict.
type Say string

// The answers.
const (
	Go   Say = "GO"
	Wait Say = "WAIT"
)

// Action is what to do with the animals.
type Action string

// The actions.
const (
	TurnIn   Action = "go"
	Stay     Action = "stay"
	KeepShut Action = "keep_shut"
	TakeOff  Action = "take_off"
	ReadIt   Action = "read"
)

// Reason is the row of the verdict table that matched.
type Reason string

// The reasons, in the order of the table.
const (
	OnHold       Reason = "hold"
	GivenBack    Reason = "given back" // no native, past the day to be out
	InRest       Reason = "rest"
	NeverRead    Reason = "not read this season"
	OldReading   Reason = "old reading"
	LeaveCover   Reason = "leave cover"       // dormant, at or under D
	DormantGrass Reason = "dormant"           // dormant, above D
	UseShort     Reason = "fall use, under L" //
	UseLacks     Reason = "fall use, would lack at frost"
	UseGrass     Reason = "fall use"
	UnderLeave   Reason = "under the height to leave"
	EatenDown    Reason = "less than a day of grass"
	GrazedEnough Reason = "grass to graze"       // animals in, GO
	ReadyToGraze Reason = "ready to graze"       // empty, GO
	NotReady     Reason = "not tall enough yet"  // empty, under B with time left
	TooFewDays   Reason = "less than three days" // empty, days of grass or days to C under 3
)

// Occupancy is whether animals are in a paddock.
type Occupancy string

// The states of occupancy.
const (
	Grazed  Occupancy = "grazed"
	Empty   Occupancy = "empty"
	Unknown Occupancy = "unknown"
)
