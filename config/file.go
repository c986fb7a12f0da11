package config

import (
	"reflect"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// farmFile is how a farm file is read.
var farmFile = settings.Format{
	Name: "farm file", Sections: "farm, frost, paddocks and contacts",
	EnvPrefix: "STUBBLED_", NoSettings: []string{"STUBBLED_FARM", "STUBBLED_DB", "STUBBLED_DATA"},
	Quoted: quoted,
}.For(reflect.TypeFor[file]())

// quoted is what to put in quotes: a number as it stands, and a phone number
// with what it needs in front.
func quoted(key, value string) string {
	if full := values.WithCountry(value); full != "" && strings.HasSuffix(key, ".phone") {
		return full
	}
	return value
}

// file is the farm file: every key that may stand in it, in the order in which
// they are asked for, and the value where nobody wrote one. See
// config/settings for the tags.
type file struct {
	Farm struct {
		Name     string           `key:"name" as:"farm name" missing:"the place as people call it, such as name: Quail Fork"`
		Was      string           `key:"was" as:"farm name"`
		Timezone *time.Location   `key:"timezone" as:"zone" missing:"the zone of the farm's clock, such as timezone: America/Chicago"`
		Units    Units            `key:"units" as:"units" default:"inches"`
		Morning  ladder.TimeOfDay `key:"morning" as:"time" default:"06:30"`
		Cap      int              `key:"cap" as:"texts" in:"1..50" default:"3 texts"`
	} `key:"farm" read:"always"`
	Frost struct {
		Station   string          `key:"station"`
		From      string          `key:"from" as:"url"` // where the station's record is fetched anew each night
		Place     string          `key:"place" as:"farm name"`
		Threshold frost.Threshold `key:"threshold" as:"temperature" in:"20..40" default:"32F"`
		PlanOn    frost.PlanOn    `key:"plan_on" as:"plan on" read:"later" default:"average"`
		Date      season.MonthDay `key:"date" as:"day of the year" in:"08-01..12-31, the season of first frosts" read:"later"`
		Spread    float64         `key:"spread" as:"days" in:"0..60" read:"later"`
		Years     int             `key:"years" as:"number" in:"10..500"` // the latest falls alone; 0 is all
		Units     frost.Unit      `key:"units" as:"record units"`
		Columns   columnNames     `key:"columns"`
	} `key:"frost" read:"always"`
	Rest     ruleKeys      `key:"rest" read:"always"`
	Paddocks []paddockKeys `key:"paddocks" missing:"want at least one, such as {id: creek, area: 22 acres, grass: eastern gamagrass}"`
	Herds    []herdKeys    `key:"herds"`
	Hay      hayKeys       `key:"hay"`
	Contacts []contactKeys `key:"contacts" missing:"want at least one, such as {name: Ana, role: manager, phone: \"+15555550142\"}"`
	FallUse  []fallUseKeys `key:"fall_use"`
	Ladder   []rungKeys    `key:"ladder"`
	Tell     struct {      // what is said beside the fall's rest
		Spring    bool `key:"spring" as:"yes or no" default:"true"`
		Summer    bool `key:"summer" as:"yes or no" default:"true"`
		Scorecard bool `key:"scorecard" as:"yes or no" default:"true"`
		Drought   bool `key:"drought" as:"yes or no" default:"true"`
		Winter    bool `key:"winter" as:"yes or no" default:"true"`
	} `key:"tell" read:"always"`
	Carriers links.Carriers       `key:"carriers"`
	Weather  links.WeatherSection `key:"weather"`
	Backup   Backup               `key:"backup" read:"always"`
	Board    *Board               `key:"board" or:"off"`
}

// columnNames are what the columns of a station file are called.
type columnNames struct {
	Date  string `key:"date"`
	TMinC string `key:"tmin_c"`
	TMinF string `key:"tmin_f"`
	TMaxC string `key:"tmax_c"`
	TMaxF string `key:"tmax_f"`
	Rain  string `key:"rain_mm"`
}

// ruleKeys is a rest rule, of the farm or of one paddock. Heights have no
// default: where neither a paddock nor the farm gives one, the species' own
// figure counts; days are season.UsualRest. Nobody rests native grass longer than the
// range, and no leaf stands taller.
type ruleKeys struct {
	Days       int             `key:"days" as:"whole days" in:"0..200" read:"later" default:"45 days"`
	Leave      float64         `key:"leave" as:"length" in:"0..120" read:"later"`
	AtFrost    float64         `key:"at_frost" as:"length" in:"0..120" read:"later"`
	Lowest     float64         `key:"lowest" as:"length" in:"0..120" read:"later"`
	Begin      float64         `key:"begin" as:"length" in:"0..120" read:"later"`
	Confidence float64         `key:"confidence" as:"percent" in:"1..99" read:"later" default:"80%"`
	EndsAt     frost.Threshold `key:"ends_at" as:"temperature" in:"10..36" read:"later" default:"28F"`
	Spring     season.MonthDay `key:"spring" as:"day of the year" in:"01-01..07-31, the turn of the grass's year" read:"later" default:"04-01"`
}

// paddockKeys is one paddock. The widest offset is that of a deep frost pocket.
type paddockKeys struct {
	ID          string          `key:"id" as:"id" missing:"a short word that never changes, such as id: creek"`
	Was         string          `key:"was" as:"id"`
	Name        string          `key:"name"`
	Aliases     []string        `key:"aliases" read:"later"`
	Area        float64         `key:"area" as:"area" in:"0.01..100000" missing:"its size with the unit, such as area: 22 acres"`
	Grass       grass.Species   `key:"grass" as:"grass" missing:"what grows there, such as grass: big bluestem"`
	Soil        grass.Soil      `key:"soil" as:"soil"`
	Stand       grass.Stand     `key:"stand" as:"stand"`
	Rest        ruleKeys        `key:"rest" read:"later"`
	FrostOffset int             `key:"frost_offset" as:"whole days" in:"-45..45"`
	Hazards     []grass.Hazard  `key:"hazard_plants" as:"hazard"`
	OutBy       season.MonthDay `key:"out_by" as:"day of the year"`
}

// herdKeys is one herd.
type herdKeys struct {
	ID      string     `key:"id" as:"id" missing:"a short word that never changes, such as id: creek"`
	Aliases []string   `key:"aliases" read:"later"`
	Head    int        `key:"head" as:"number" in:"0..100000" missing:"how many there are, such as head: 38"`
	Kind    herd.Kind  `key:"kind" as:"stock" missing:"what they are, such as kind: cow with calf"`
	Weight  float64    `key:"weight" as:"weight"`
	Calving time.Month `key:"calving" as:"month"`
	Weaned  civil.Date `key:"weaned" as:"date"`
	Paddock string     `key:"paddock"`
}

// hayKeys is the hay of the farm. A bale is 5 ft wide and 5 high where nobody said.
type hayKeys struct {
	OnHand int     `key:"on_hand" as:"bales" in:"0..100000"`
	Bale   float64 `key:"bale" as:"bale" default:"1100 lb"`
	Fed    string  `key:"fed" as:"one of" in:"bunk cone cradle ground ring sheeted shredded trailer unrolled"`
	Stored string  `key:"stored" as:"one of" in:"barn outside"`
}

// contactKeys is somebody who is told.
type contactKeys struct {
	Name     string       `key:"name" as:"person" missing:"who it is, such as name: Ana"`
	Role     string       `key:"role" as:"role" missing:"what they do: manager, owner, helper, or a word of your own"`
	Phone    string       `key:"phone" as:"phone"`
	Email    string       `key:"email" as:"email"`
	Language string       `key:"language" as:"language" default:"en"`
	Quiet    values.Quiet `key:"quiet" as:"quiet hours"`
}

// fallUseKeys is a paddock that is grazed through its rest on purpose.
type fallUseKeys struct {
	Year    int     `key:"year" as:"number" in:"1900..2199" missing:"the year of the fall, such as year: 2026"`
	Paddock string  `key:"paddock" missing:"the id of a paddock, such as paddock: hill"`
	Area    float64 `key:"area" as:"area" in:"0.01..100000"`
}

// rungKeys is one rung of the ladder.
type rungKeys struct {
	Before      *int            `key:"before" as:"whole days" in:"0..200" missing:"how long before cutoff, such as before: 10 days"`
	Tell        []string        `key:"tell" read:"later" missing:"which roles are told, such as tell: [manager]"`
	AlsoBy      []ladder.Medium `key:"also_by" as:"medium"`
	RepeatAfter *time.Duration  `key:"repeat_after" as:"span" in:"0 s..1 day"`
}
