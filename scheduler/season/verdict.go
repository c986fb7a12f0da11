package season

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/season/shut"
)

// A Verdict is the answer to 'may they graze it', with the reason. It goes into
// the queue as it is.
type Verdict struct {
	Say       Say        `json:"say,omitempty"`
	Action    Action     `json:"action"`
	Reason    Reason     `json:"reason"`
	Days      *float64   `json:"days,omitempty"` // days of grass for the animals; nil where unknown
	More      bool       `json:"more,omitempty"` // 14 or above
	OutBy     civil.Date `json:"out_by,omitzero"`
	Floor     float64    `json:"floor,omitempty"`     // the height that decides, in
	Lacks     float64    `json:"lacks,omitempty"`     // how much is missing, in
	ReadMore  int        `json:"read_more,omitempty"` // plants still to read before it is settled; 0 settled
	TodayOnly bool       `json:"today_only,omitempty"`
	Patchy    bool       `json:"patchy,omitempty"`
	ReadAgain int        `json:"read_again,omitempty"` // days until the next reading is wanted
	Drought   bool       `json:"drought,omitempty"`    // no growth is promised
	Plants    []string   `json:"plants,omitempty"`     // the hazard plants that shut it without a hold
	Since     civil.Date `json:"since,omitzero"`       // since when they do
	Who       string     `json:"who,omitempty"`        // has not answered what was asked
	Cautions  []Caution  `json:"cautions,omitempty"`   // what goes with a GO
}

// Say is the answer to 'may they graze it'. Empty is no verdict.
type Say string

const (
	Go   Say = "GO"
	Wait Say = "WAIT"
)

// Action is what to do with the animals.
type Action string

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
	Hurt         Reason = "emergency"
	Parched      Reason = "drought" // sorghum kin, in a drought or two weeks after it
	NoHorses     Reason = "horses"  // and sorghum kin
	KinShort     Reason = "short"   // sorghum kin under its safe height
	KinLong      Reason = "long"    // animals in too long on sorghum kin
	FrostUnknown Reason = "frost not known"
	InRest       Reason = "rest"
	GivenBack    Reason = "given back"  // past the day to be out
	RestFailed   Reason = "failed rest" // dormant, after a rest that came to too little
	NeverRead    Reason = "not read this season"
	OldReading   Reason = "old reading"
	LeaveCover   Reason = "leave cover"       // dormant, at or under D
	DormantGrass Reason = "dormant"           // dormant, above D
	UseShort     Reason = "fall use, under L" //
	UseLacks     Reason = "fall use, would lack at frost"
	UseEaten     Reason = "fall use, eaten by now"
	UseGrass     Reason = "fall use"
	UnderLeave   Reason = "under the height to leave"
	EatenDown    Reason = "less than a day of grass"
	GrazedEnough Reason = "grass to graze"       // animals in, GO
	ReadyToGraze Reason = "ready to graze"       // empty, GO
	NotReady     Reason = "not tall enough yet"  // empty, under B with time left
	TooFewDays   Reason = "less than three days" // empty, days of grass or days to C under 3
)

// FrostAsked is the reason of ground on which nobody has answered whether it froze.
const FrostAsked = Reason(shut.FrostAsked)

// Asked reports whether it is a question that nobody has answered.
func (r Reason) Asked() bool { return shut.Why(r).Asked() }

// How old a reading may be, in days, and how much must be left to turn a herd
// in for. Common practice.
const (
	oldReading       = 10
	oldReadingGrazed = 4
	WorthTurningIn   = 3  // days of grass, and days to the cutoff
	LateInSeason     = 30 // days to the cutoff from which B no longer counts
)

// A Case is what a verdict is given on. Heights are inches.
type Case struct {
	Today     civil.Date
	Phase     Phase
	Native    bool
	Held      bool
	Waits     Reason // what shuts the ground without a hold; empty where nothing does
	FallUse   bool
	Eaten     bool // what might be eaten of a fall use is, by the days that it was in for
	AnimalsIn bool
	Unsure    bool // nobody knows whether animals are in
	GivenBack bool // past its day, until the year's turn

	Read   bool    // there is a reading this season
	Age    int     // its age in days
	Height float64 // h

	Rule // L and B as they apply to it
	// EndHeight is the height at the end of rest, 0 where unknown.
	EndHeight float64
	Failed    bool // the latest rest came to too little

	Frost, Cutoff civil.Date // zero where there is none
	// Growth is the leaf growth expected from today to the planning frost, in;
	// 0 past it, and 0 in a drought, where none is promised.
	Growth float64
	// DaysAbove gives the days of grass above a floor for the animals that
	// stand there or would; ok is false where no herd is on file.
	DaysAbove func(floor float64) (days float64, ok bool)
}

// Judge is the verdict table. The first row that matches wins.
func Judge(c Case) Verdict {
	switch {
	case c.Held:
		return c.wait(OnHold, 0)
	case c.Waits != "":
		return c.wait(c.Waits, 0)
	case c.Phase == Rest && !c.FallUse && c.Native:
		return c.wait(InRest, 0)
	case c.GivenBack:
		return c.wait(GivenBack, 0)
	case c.Phase == Dormant && c.Failed:
		return c.wait(RestFailed, 0)
	case !c.Read:
		return Verdict{Action: ReadIt, Reason: NeverRead, Floor: c.Leave}
	case c.Age > oldReading || c.AnimalsIn && c.Age > oldReadingGrazed:
		return Verdict{Say: Wait, Action: ReadIt, Reason: OldReading, Floor: c.Leave}
	case c.Phase == Dormant:
		return c.dormant()
	case c.Phase == Rest:
		return c.fallUse()
	}
	return c.open()
}

func (c Case) dormant() Verdict {
	floor := c.cover(c.EndHeight)
	if c.Height <= floor {
		return c.wait(LeaveCover, floor)
	}
	return c.graze(DormantGrass, floor, floor, civil.Date{})
}

// fallUse keeps the height at frost: what may be eaten is what will be above T
// at F, and never below L.
func (c Case) fallUse() Verdict {
	growth := c.Growth
	if !c.Frost.IsZero() && !c.Today.Before(c.Frost) {
		growth = 0
	}
	spare := c.Height + growth - c.AtFrost
	if c.Height < c.Leave {
		return c.wait(UseShort, c.Leave)
	}
	if spare <= 0 {
		v := c.wait(UseLacks, c.AtFrost)
		v.Lacks = -spare
		return v
	}
	if c.Eaten {
		return c.wait(UseEaten, c.AtFrost)
	}
	return c.graze(UseGrass, max(c.Leave, c.Height-spare), c.AtFrost, civil.Date{})
}

func (c Case) open() Verdict {
	if c.Height < c.Leave {
		return c.wait(UnderLeave, c.Leave)
	}
	days, known := c.DaysAbove(c.Leave)
	if c.AnimalsIn {
		if known && days < 1 {
			return c.wait(EatenDown, c.Leave)
		}
		return c.graze(GrazedEnough, c.Leave, c.Leave, c.Cutoff)
	}
	left := noCutoff
	if !c.Cutoff.IsZero() {
		left = c.Cutoff.DaysSince(c.Today)
	}
	if known {
		days = min(days, float64(left))
	}
	switch {
	case c.Height <= c.Leave:
		return c.wait(UnderLeave, c.Leave)
	case left < WorthTurningIn || known && days < WorthTurningIn:
		v := c.wait(TooFewDays, c.Leave)
		if known {
			v.Days = &days
		}
		return v
	case c.Height < c.Begin && left > LateInSeason:
		v := c.wait(NotReady, c.Begin)
		v.Lacks = c.Begin - c.Height
		return v
	}
	return c.graze(ReadyToGraze, c.Leave, c.Leave, c.Cutoff)
}

func (c Case) wait(why Reason, floor float64) Verdict {
	v := Verdict{Say: Wait, Action: KeepShut, Reason: why, Floor: floor}
	if c.AnimalsIn || c.Unsure && (why == OnHold || why == InRest) {
		v.Action = TakeOff
	}
	if c.Read && floor > c.Height {
		v.Lacks = floor - c.Height
	}
	return v
}

// maxDays is as far as days of grass are told: '14+, read again in 7'.
const maxDays = 14

// noCutoff stands for the days to a cutoff that ground without one never has.
const noCutoff = 366

// graze lets the animals eat down to a floor, decided on a height, until a day
// at the latest.
func (c Case) graze(why Reason, floor, decides float64, until civil.Date) Verdict {
	v := Verdict{Say: Go, Action: TurnIn, Reason: why, Floor: decides, OutBy: until}
	if c.AnimalsIn {
		v.Action = Stay
	}
	days, known := c.DaysAbove(floor)
	if !known {
		return v
	}
	if !until.IsZero() {
		days = min(days, float64(until.DaysSince(c.Today)))
	}
	if days >= maxDays {
		days, v.More = maxDays, true
	}
	v.Days = &days
	if out := c.Today.AddDays(int(days)); !v.More && (v.OutBy.IsZero() || out.Before(v.OutBy)) {
		v.OutBy = out
	}
	return v
}
