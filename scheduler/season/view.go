package season

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// A View is everything there is to know of one paddock on one day.
type View struct {
	Paddock  *Paddock
	Today    civil.Date
	Year     int // the season, labelled by the year of its fall
	Dates    Dates
	Phase    Phase
	Hold     *Hold // nil where it is not held
	Risky    bool  // plants stand on it that a frost can turn
	WasHeld  *Hold // a hold that the calendar ended within the last week
	Herds    Standing
	Reading  *Visit  // the latest reading of this season; nil where none
	Readings int     // of this season
	Visits   []Visit // those readings, and what haying left, oldest first; not to be changed
	FallUse  bool
	UseAcres float64
	Drought  bool
	// Ahead is what the grass will be at frost if rested from today; nil where
	// nothing can be said.
	Ahead   *Forecast
	Verdict Verdict
	// RunsOut is the day on which the grass of a fall-use paddock runs out by
	// the latest reading; zero where unknown.
	RunsOut civil.Date
	// EndHeight is the height at the end of rest in inches, 0 where it was not
	// read; EndRead is the day of that reading.
	EndHeight float64
	EndRead   civil.Date
	Finished  *Finished // this season, once its rest has ended
}

// Dates are the civil dates of one season of a paddock.
type Dates struct {
	Frost   civil.Date // F, the planning frost; zero for ground that is no native
	Cutoff  civil.Date // C, the first day of rest; zero where there is no rest
	OutBy   civil.Date // the day it must be given back; zero where none
	Ended   civil.Date // the day rest ended; zero while it has not
	EndedBy Ending
	// Early and Late are the dates by which the first frost came in 10 and in
	// 90 of 100 falls; LikelyEnd is when rest will probably end.
	Early, Late, LikelyEnd civil.Date
	Turn                   civil.Date // the year's turn that begins the season
	Next                   civil.Date // the turn that ends it
}

// Ending is what ended a rest.
type Ending string

// The endings.
const (
	ByFreeze Ending = "freeze"   // a killing freeze, measured, or a frost that was enough by the farm's rule
	ByBrown  Ending = "brown"    // a person saw brown tops
	ByYear   Ending = "no frost" // Dec 31 was the last day of rest
)

// Standing is who stands in a paddock.
type Standing struct {
	Occupancy Occupancy
	Herds     []string    // ids of the herds that are in
	Since     civil.Date  // the first of those days; zero where unknown
	LastOff   civil.Date  // the last day that animals left; zero where never told
	Entered   *diary.Fact // the latest `on` of those that stand there; its ID is 0 where the farm file put them there
}

// A Visit is one reading with all its plants.
type Visit struct {
	Fact   int64 // the first fact of it
	Day    civil.Date
	By     string
	Plants []float64
	Sample grass.Sample

	at   time.Time // of its last plant
	seq  int       // its place among the paddock's facts
	mown bool      // the height that haying left
}

// A Forecast is the height to come at one day if the paddock is rested until then.
type Forecast struct {
	From     float64 // in, the height it starts from
	At       civil.Date
	Mean     float64
	Low      float64 // 10 % point
	High     float64 // 90 % point
	Chance   float64 // of T at frost, 0-1
	Known    bool    // the paddock has the seasons for the chance to be told
	Seasons  int     // its own finished seasons
	Falls    int     // past falls that it rests on
	ByCutoff float64 // in, height expected at C if rested from today; 0 where C is past
}

// A Verdict is the answer to 'may they graze it', with the reason.
type Verdict struct {
	Say       Say
	Action    Action
	Reason    Reason
	Days      *float64 // days of grass for the animals; nil where unknown
	More      bool     // 14 or above
	OutBy     civil.Date
	Floor     float64 // the height that decides, in
	Lacks     float64 // how much is missing, in
	ReadMore  int     // plants still to read before it is settled; 0 settled
	TodayOnly bool
	Patchy    bool
	ReadAgain int // days until the next reading is wanted
}

// A Lesson is what the finished seasons of a paddock say of its rule.
type Lesson struct {
	Paddock     string
	Year        int // the fall that a changed rule would be for
	Confidence  float64
	Taught      int          // seasons that teach growth
	Effect      grass.Effect // what they taught
	Seasons     []Finished
	Chance      *float64 // of T under the present rule; nil under two seasons that teach
	LeaveIn     *float64 // leave this at the same cutoff; nil where not needed or none reaches it
	LeaveChance float64
	RestDays    *int // rest this long from the same height; nil likewise
	RestChance  float64
	NoCure      bool // no sensible rest reaches it
	Easy        bool // met easily three falls running
}

// A Finished season of a paddock, whether or not it may teach growth.
type Finished struct {
	Year     int
	Cutoff   civil.Date `json:",omitzero"`
	RestEnd  civil.Date `json:",omitzero"`
	EndedBy  Ending
	RealRest int     // days from the last off to the end of rest
	Start    float64 // in, 0 where unread
	End      float64
	Heat     float64 // degree-days from start to first frost; 0 where unknown
	RainMM   float64 // -1 where unknown
	Met      bool
	Teaches  bool
	WhyNot   string // why it teaches nothing, in plain words
}
