package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// Facts is what a notice says, before any words: plain values, in the type of
// its kind, stored as JSON. Zero means 'not said'. Lengths are inches.
type Facts interface{ About() *Head }

// Head is what any notice may name.
type Head struct {
	Farm string `json:"farm,omitempty"`
	Place
	Day civil.Date `json:"day,omitzero"` // the day it speaks of
}

// About is the head itself.
func (h *Head) About() *Head { return h }

// Place is a paddock by its names.
type Place struct {
	Paddock string `json:"paddock,omitempty"` // id
	Name    string `json:"name,omitempty"`    // as people say it, at most 20 septets
	Say     string `json:"say,omitempty"`     // the shortest name that can be texted back: alias or id
}

// Standing is how a paddock stands.
type Standing struct {
	Cutoff  civil.Date `json:"cutoff,omitzero"`
	Frost   civil.Date `json:"frost,omitzero"`   // the frost planned on
	Days    int        `json:"days,omitempty"`   // to the cutoff; negative past it
	Leave   float64    `json:"leave,omitempty"`  // L
	Target  float64    `json:"target,omitempty"` // T
	Grazed  bool       `json:"grazed,omitempty"` // animals are known to be in
	Unknown bool       `json:"unknown,omitempty"`
	FallUse bool       `json:"fall_use,omitempty"`
	Height  *Height    `json:"height,omitempty"` // the latest reading
	Expect  *Expect    `json:"expect,omitempty"` // what it will be at frost or cutoff
	Hold    *Hold      `json:"hold,omitempty"`
	Wait    *Wait      `json:"wait,omitempty"`    // what else shuts it; nil under a hold
	Resting bool       `json:"resting,omitempty"` // its rest is running
	Failed  bool       `json:"failed,omitempty"`  // and came to too little: it is left for spring
	Left    int        `json:"left,omitempty"`    // days after the cutoff that the animals left
}

// PaddockFacts are what nearly every notice of a paddock says, and all that a
// hold or a moved cutoff does.
type PaddockFacts struct {
	Head
	Standing
	Sends
	OutBy       civil.Date `json:"out_by,omitzero"`     // the day to be out
	WasCutoff   civil.Date `json:"was_cutoff,omitzero"` // the cutoff told before, where the farm file moved it
	DaysToFrost int        `json:"days_to_frost,omitempty"`
	NoRest      bool       `json:"cold,omitempty"` // cool-season ground: it has no rest, it is only given back
}

func (f *PaddockFacts) onPaddock() *PaddockFacts { return f }

// OnPaddock is what facts say of a paddock; nil where they are about none.
func OnPaddock(f Facts) *PaddockFacts {
	if of, ok := f.(interface{ onPaddock() *PaddockFacts }); ok {
		return of.onPaddock()
	}
	return nil
}

// Judged is the verdict on the latest height.
type Judged struct {
	Verdict *season.Verdict `json:"verdict,omitempty"`
}

// Judgement is the verdict; nil where there is none.
func (j *Judged) Judgement() *season.Verdict { return j.Verdict }

// Frosted is a frost that was seen or is forecast.
type Frosted struct {
	FrostSeen *Frost `json:"frost_seen,omitempty"`
}

// Seen is the frost; nil where there is none.
func (f *Frosted) Seen() *Frost { return f.FrostSeen }

// Listed is paddock by paddock.
type Listed struct {
	Shuts []Shut `json:"shuts,omitempty"`
}

// Lines are the paddocks.
func (l *Listed) Lines() []Shut { return l.Shuts }

// RungFacts are those of the rungs before and at cutoff.
type RungFacts struct {
	PaddockFacts
	Judged
	Pass    []Stop   `json:"pass,omitempty"`    // the last pass, in the order of the days
	Missing []string `json:"missing,omitempty"` // contacts who could not be reached
	Repeat  bool     `json:"repeat,omitempty"`  // said once already, unanswered
	Read    bool     `json:"read,omitempty"`    // its height is wanted too
}

// OverdueFacts are those of a paddock that is grazed during its rest.
type OverdueFacts struct {
	PaddockFacts
	RestDay int      `json:"rest_day,omitempty"` // days since the cutoff
	BackIn  bool     `json:"back_in,omitempty"`  // put back in during rest
	Missing []string `json:"missing,omitempty"`
	Who     string   `json:"who,omitempty"` // who put it off
}

// FallUseFacts are those of a paddock grazed on purpose through its rest.
type FallUseFacts struct {
	PaddockFacts
	Judged
}

// SpringFacts are those of a paddock after winter.
type SpringFacts struct {
	PaddockFacts
	Turn  *spring.TurnIn `json:"turn,omitempty"`  // when it may be begun
	Early *spring.Early  `json:"early,omitempty"` // it was, too early
}

// ScorecardFacts are what last fall's rest was worth.
type ScorecardFacts struct {
	Head
	Card  []spring.Score    `json:"card,omitempty"`
	Names map[string]string `json:"names,omitempty"` // paddock ids as people say them
}

// HeightFacts ask for a height.
type HeightFacts struct {
	PaddockFacts
	When string `json:"when,omitempty"` // cutoff, mid-rest, end
}

// FrostFacts are those of a frost on the farm, or of one that is forecast where
// animals stand.
type FrostFacts struct {
	PaddockFacts
	Frosted
	Listed           // the paddocks that it finds in rest
	Owner   bool     `json:"owner,omitempty"` // for the owner: nothing is asked
	Missing []string `json:"missing,omitempty"`
}

// DisputeFacts are two people who do not say the same of a night, by the day on which
// its frost was noted.
type DisputeFacts struct {
	Head
	Who  string `json:"who,omitempty"`  // says that it froze
	None string `json:"none,omitempty"` // who says that it did not
}

// EmergencyFacts are an animal dead or in trouble, as it was told.
type EmergencyFacts struct {
	PaddockFacts
	Listed        // the paddocks that it shuts where it was not told where
	Who    string `json:"who,omitempty"`
	Words  string `json:"words,omitempty"`
	Horses bool   `json:"horses,omitempty"` // it is of horses on sorghum kin
}

// EndFacts are those of the end of a rest, and what the season came to.
type EndFacts struct {
	PaddockFacts
	Frosted
	Result *Result       `json:"result,omitempty"`
	Wishes []season.Wish `json:"wishes,omitempty"` // that the farm file does not say yet
}

// FarmFacts are those of the whole farm: the fall ahead, the week, that all is
// well.
type FarmFacts struct {
	Head
	Listed
	Cutoff  civil.Date      `json:"cutoff,omitzero"` // the first of the farm
	Days    int             `json:"days,omitempty"`  // to it
	Feed    *Feed           `json:"feed,omitempty"`
	Pass    []Stop          `json:"pass,omitempty"`
	Changed []season.Change `json:"changed,omitempty"` // why a herd is sent to other ground than was said before
	Health  *Health         `json:"health,omitempty"`
	Owner   bool            `json:"owner,omitempty"`  // for the owner: what an owner decides, no list of work
	Winter  *Feed           `json:"winter,omitempty"` // how far the winter\'s feed goes, on the first Monday of a month
}

// AlarmFacts say what of the machine fails.
type AlarmFacts struct {
	Head
	Alarm  string `json:"alarm,omitempty"`  // a word of the alarm list
	Detail string `json:"detail,omitempty"` // plain detail in English, mail and logs only
}

// PersonFacts are about a contact.
type PersonFacts struct {
	Head
	Who string `json:"who,omitempty"` // another contact: who opted out
}

// TakenBackFacts say what is no longer so.
type TakenBackFacts struct {
	Head
	Listed                   // the paddocks that stay shut all the same
	Undone []diary.Fact      `json:"undone,omitempty"`
	Who    string            `json:"who,omitempty"`   // took it back
	Names  map[string]string `json:"names,omitempty"` // paddock and herd ids as people say them
}
