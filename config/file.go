package config

import (
	"reflect"
	"strings"
	"time"

	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/frost"
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
// they are asked for, and the value where nobody wrote one; those of a type of the
// trade stand there. See config/settings for the tags.
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
	Rest     season.Rule          `key:"rest" read:"always"`
	Paddocks []season.Paddock     `key:"paddocks" missing:"want at least one, such as {id: creek, area: 22 acres, grass: eastern gamagrass}"`
	Herds    []herd.Herd          `key:"herds"`
	Hay      hayKeys              `key:"hay"`
	Contacts []ladder.Contact     `key:"contacts" missing:"want at least one, such as {name: Ana, role: manager, phone: \"+15555550142\"}"`
	FallUse  []season.FallUse     `key:"fall_use"`
	Ladder   []rungKeys           `key:"ladder"`
	Tell     ladder.Tell          `key:"tell" read:"always"`
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

// hayKeys is the hay of the farm. A bale is 5 ft wide and 5 high where nobody said.
type hayKeys struct {
	OnHand int     `key:"on_hand" as:"bales" in:"0..100000"`
	Bale   float64 `key:"bale" as:"bale" default:"1100 lb"`
	Fed    string  `key:"fed" as:"one of" in:"bunk cone cradle ground ring sheeted shredded trailer unrolled"`
	Stored string  `key:"stored" as:"one of" in:"barn outside"`
}

// rungKeys is one rung of the ladder.
type rungKeys struct {
	Before      *int            `key:"before" as:"whole days" in:"0..200" missing:"how long before cutoff, such as before: 10 days"`
	Tell        []string        `key:"tell" read:"later" missing:"which roles are told, such as tell: [manager]"`
	AlsoBy      []ladder.Medium `key:"also_by" as:"medium"`
	RepeatAfter *time.Duration  `key:"repeat_after" as:"span" in:"0 s..1 day"`
}
