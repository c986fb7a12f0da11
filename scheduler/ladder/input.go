package ladder

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/season"
)

// Input is everything that decides what should be said at one moment.
type Input struct {
	Now      time.Time
	Zone     *time.Location
	Morning  TimeOfDay
	Farm     string
	Contacts []Contact
	Calls    bool // there is a carrier of calls
	Rungs    []Rung
	Tell     Tell
	Views    []season.View // every paddock, as of today, in file order
	Book     *diary.Book
	Said     *Said
	// OptedOut are the addresses that opted out or are known to be dead.
	OptedOut map[string]bool
	Moves    *season.Moves // where every herd has been
	// MoveTo gives the paddocks that can take the herds of one that shuts; frost
	// leaves out those whose plants a frost can turn.
	MoveTo   func(paddock string, frost bool) Sends
	Changed  func([]Stop) []season.Change  // why stops send herds to other ground than was said; none where they do not
	Feed     func() *Feed                  // where the herd eats this fall; nil where nothing can be said
	LastPass func() []Stop                 // the last pass; nil where nothing can be said
	Nights   []diary.Observation           // forecast minima of the nights to come
	Rain     func(day civil.Date) dry.Rain // since April, and of late, before a day
	Head     func(day civil.Date) int      // of all herds on a day
	Lesson   func(paddock string) *season.Lesson
	Prospect func(*season.View) season.Prospect
	Springs  func(*season.Paddock) []season.Spring
	Alarms   []Trouble
	OptOuts  []OptOut // those of contacts in the file
	Health   *Health
	// BadFile is set where the farm file on disk is refused and an older one
	// is in force.
	BadFile *BadFile
}

// Trouble is something of the machine that fails.
type Trouble struct {
	What   string // a word of the alarm list
	Since  time.Time
	Medium Medium // the medium that fails and so cannot carry the news; empty for none
	Detail string
}

// OptOut is a contact who wants no more messages.
type OptOut struct {
	Contact string
	At      time.Time
}

// BadFile is a farm file that was refused.
type BadFile struct {
	Digest string
	Detail string
}

// Tell is what a farm is told beside the fall's rest, each part by the farm file.
type Tell struct {
	Spring    bool `key:"spring" as:"yes or no" default:"true"`    // when to turn in
	Summer    bool `key:"summer" as:"yes or no" default:"true"`    // when to move on, and whether the height at the cutoff will do
	Scorecard bool `key:"scorecard" as:"yes or no" default:"true"` // what last fall's rest was worth
	Drought   bool `key:"drought" as:"yes or no" default:"true"`   // rain since April, while there is time to sell
	Winter    bool `key:"winter" as:"yes or no" default:"true"`    // how far the winter's feed reaches
}
