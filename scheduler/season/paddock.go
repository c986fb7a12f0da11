package season

import (
	"slices"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// A MonthDay is a day of any year, such as the year's turn or the day a
// paddock must be given back.
type MonthDay struct {
	Month, Day int
}

// In is that day of a year; Feb 29 is Mar 1 in a year that has none.
func (m MonthDay) In(year int) civil.Date {
	d := civil.Date{Year: year, Month: time.Month(m.Month), Day: m.Day}
	if !d.IsValid() {
		return civil.Date{Year: year, Month: time.Month(m.Month) + 1, Day: 1}
	}
	return d
}

// IsZero reports whether none was given.
func (m MonthDay) IsZero() bool { return m == MonthDay{} }

// YearOf is the season that a day belongs to: the year of the last turn on or
// before it.
func YearOf(day civil.Date, turn MonthDay) int {
	if day.Before(turn.In(day.Year)) {
		return day.Year - 1
	}
	return day.Year
}

// A Rule is what a paddock must be given each fall. Heights are leaf heights
// in inches; they have no default, since those of the species count. Nobody rests
// native grass longer than the range, and no leaf stands taller.
//
// The tags here, and of the types of the trade that stand in the farm file as they
// are, are its keys (see config/settings).
type Rule struct {
	RestDays   int             `key:"days" as:"whole days" in:"0..200" read:"later" default:"45 days"` // R, before the planning frost; see UsualRest
	Leave      float64         `key:"leave" as:"length" in:"0..120" read:"later"`                      // L, height to leave at cutoff
	AtFrost    float64         `key:"at_frost" as:"length" in:"0..120" read:"later"`                   // T, height wanted at frost
	Min        float64         `key:"lowest" as:"length" in:"0..120" read:"later"`                     // M, lowest stubble that spares the growing point
	Begin      float64         `key:"begin" as:"length" in:"0..120" read:"later"`                      // B, height to begin grazing
	Confidence float64         `key:"confidence" as:"percent" in:"1..99" read:"later" default:"80%"`   // chance of T that the farm wants, 0-1
	EndsAt     frost.Threshold `key:"ends_at" as:"temperature" in:"10..36" read:"later" default:"28F"` // the freeze that ends rest
	Spring     MonthDay        `key:"spring" as:"day of the year" in:"01-01..07-31, the turn of the grass's year" read:"later" default:"04-01"`
}

// cover is D, the height to leave on a dormant paddock that went into winter at
// a height, 0 where that was not read: one that fell short keeps all of it.
func (r Rule) cover(end float64) float64 {
	if end >= r.AtFrost {
		return r.Min
	}
	return r.Leave
}

// A Paddock is a piece of ground with one rule.
type Paddock struct {
	ID      string        `key:"id" as:"id" missing:"a short word that never changes, such as id: creek"`
	Was     string        `key:"was" as:"id"` // the id it had before, where the farm file renamed it
	Name    string        `key:"name"`        // as people say it, at most 20 septets
	Aliases []string      `key:"aliases" read:"later"`
	Acres   float64       `key:"area" as:"area" in:"0.01..100000" missing:"its size with the unit, such as area: 22 acres"`
	Grass   grass.Species `key:"grass" as:"grass" missing:"what grows there, such as grass: big bluestem"`
	Soil    grass.Soil    `key:"soil" as:"one of, in any case" in:"dry average moist"`
	Stand   grass.Stand   `key:"stand" as:"one of, in any case" in:"thin average dense"`
	Rule    Rule          `key:"rest" read:"later"` // meaningless where the grass is no native
	// FrostOffset moves the station's frost dates for a frost pocket, in days;
	// negative is earlier. The widest is that of a deep pocket.
	FrostOffset int            `key:"frost_offset" as:"whole days" in:"-45..45"`
	Hazards     []grass.Hazard `key:"hazard_plants" as:"hazard"`   // named in the farm file
	OutBy       MonthDay       `key:"out_by" as:"day of the year"` // when it must be given back; zero where never
}

// Native reports whether the paddock has a rest rule.
func (p Paddock) Native() bool { return p.Grass.Native }

// Floor is the height in inches under which animals leave while the paddock is
// open: L, or the residual of its species where it is no native.
func (p Paddock) Floor() float64 {
	if p.Native() {
		return p.Rule.Leave
	}
	return p.Grass.Leave.Value
}

// begin is B: what the farm file says, else the species' own.
func (p *Paddock) begin() float64 {
	if p.Native() || p.Rule.Begin > 0 {
		return p.Rule.Begin
	}
	return p.Grass.Begin.Value
}

// BeginsAt is B as it applies now: later after a rest that failed, and never where a
// short stand of the grass itself is a danger.
func (p *Paddock) BeginsAt(failed bool) float64 {
	b := p.begin()
	if failed {
		b += failedLater
	}
	return max(b, grass.StandHazard(p.Grass).Tall.Value)
}

// Word is the shortest word that a paddock acts on.
func (p Paddock) Word() string {
	best := p.ID
	for _, a := range p.Aliases {
		if len(a) < len(best) {
			best = a
		}
	}
	return best
}

// A FallUse is a paddock grazed on purpose through its rest in one year.
type FallUse struct {
	Year    int     `key:"year" as:"number" in:"1900..2199" missing:"the year of the fall, such as year: 2026"`
	Paddock string  `key:"paddock" missing:"the id of a paddock, such as paddock: hill"`
	Acres   float64 `key:"area" as:"area" in:"0.01..100000"` // 0 is the whole paddock
}

// A Plan is the frost that a farm counts back from.
type Plan struct {
	Threshold frost.Threshold // 32F by default
	// Level is 0 for the average of the seasons that had frost, else the
	// chance in percent that frost comes on or before the date.
	Level  int
	Years  int           // how many of the latest falls count; 0 is all
	Record *frost.Record // nil where the date was typed by hand
	Hand   *Hand         // nil where a record is used
	Place  string        // the station's name as people say it
}

// Hand is a frost date by hand.
type Hand struct {
	Date   MonthDay
	Spread float64 // standard deviation in days; 0 is 'just that day'
}

// A Farm is what the rules of the trade know of a farm.
type Farm struct {
	Name     string
	Zone     *time.Location // of its clocks
	Plan     Plan
	Rule     Rule // the farm's own, before a paddock's exceptions
	Paddocks []Paddock
	Herds    []herd.Herd
	FallUse  []FallUse
	Hay      herd.Hay
}

// Paddock finds one by id.
func (f *Farm) Paddock(id string) (*Paddock, bool) {
	for i := range f.Paddocks {
		if f.Paddocks[i].ID == id {
			return &f.Paddocks[i], true
		}
	}
	return nil, false
}

// OtherStock reports whether a herd on file is not of cattle.
func (f *Farm) OtherStock() bool {
	return slices.ContainsFunc(f.Herds, func(h herd.Herd) bool { return h.Kind.Is != "" && h.Kind.Is != herd.Cattle })
}

// UsedIn reports whether the paddock is in fall use in a year, and on how many
// acres.
func (f *Farm) UsedIn(id string, year int) (FallUse, bool) {
	for _, u := range f.FallUse {
		if u.Paddock == id && u.Year == year {
			return u, true
		}
	}
	return FallUse{}, false
}

func (f *Farm) natives() []*Paddock {
	var out []*Paddock
	for i := range f.Paddocks {
		if p := &f.Paddocks[i]; p.Native() {
			out = append(out, p)
		}
	}
	return out
}

// acres are the native and all the grazed acres of the farm.
func (f *Farm) acres() (native, grazed float64) {
	for i := range f.Paddocks {
		p := &f.Paddocks[i]
		grazed += p.Acres
		if p.Native() {
			native += p.Acres
		}
	}
	return native, grazed
}
