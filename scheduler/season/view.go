package season

import (
	"github.com/golang-sql/civil"
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
