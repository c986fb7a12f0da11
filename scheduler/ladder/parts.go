package ladder

import (
	"github.com/golang-sql/civil"

	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
	"stubbled/scheduler/spring"
)

// Height is a reading as it is said.
type Height struct {
	Mean      float64    `json:"mean"` // in
	Plants    int        `json:"plants"`
	Day       civil.Date `json:"day,omitzero"`
	Low       float64    `json:"low,omitempty"`  // 95 % interval of the mean; 0,0 for a single plant
	High      float64    `json:"high,omitempty"` //
	More      int        `json:"more,omitempty"` // plants still to read before it settles the answer
	Patchy    bool       `json:"patchy,omitempty"`
	TodayOnly bool       `json:"today_only,omitempty"` // too few plants to hold for longer
}

// Expect is a height to come.
type Expect struct {
	At       civil.Date `json:"at,omitzero"`         // the frost
	ByCutoff float64    `json:"by_cutoff,omitempty"` // in, at the cutoff if rested from today; 0 past it
	Mean     float64    `json:"mean"`
	Low      float64    `json:"low"`  // 10 % point
	High     float64    `json:"high"` // 90 % point
	// Chance of the height wanted, 0-1; nil before the paddock has two
	// seasons of its own.
	Chance  *float64 `json:"chance,omitempty"`
	Seasons int      `json:"seasons,omitempty"` // the paddock's own finished seasons
}

// Hold keeps a paddock shut because plants may be poisonous.
type Hold struct {
	Plants  []string   `json:"plants"`
	Until   civil.Date `json:"until,omitzero"`    // the last day held; zero where only a person ends it
	Short   bool       `json:"short,omitempty"`   // because the stand is short or was not read
	Turned  []string   `json:"turned,omitempty"`  // of the plants those that a frost turned, where not all are held by one
	Wilted  bool       `json:"wilted,omitempty"`  // cherry is down or wilted
	Regrown bool       `json:"regrown,omitempty"` // new shoots were seen
	ByEye   bool       `json:"by_eye,omitempty"`  // cherry, which is safe once somebody saw its leaves brown and dry
}

// A Wait keeps a paddock shut without a hold.
type Wait struct {
	Why    shut.Why   `json:"why"`
	Plants []string   `json:"plants,omitempty"`
	Since  civil.Date `json:"since,omitzero"`
	Height float64    `json:"height,omitempty"` // in, the safe height that it is short of
	Who    string     `json:"who,omitempty"`    // has not answered what was asked
}

// Cleared is a cause that a manager's word lifts: since its last night or report it
// is day N of Of; 0 of 0 where no calendar ends it.
type Cleared struct {
	Why   shut.Why   `json:"why"`
	Day   civil.Date `json:"day,omitzero"`
	N, Of int        `json:",omitempty"`
}

// Frost is a frost that was seen or is forecast.
type Frost struct {
	Day          civil.Date `json:"day,omitzero"`
	MinC         *float64   `json:"min_c,omitempty"`
	Place        string     `json:"place,omitempty"` // who or what said so
	ByWho        string     `json:"by,omitempty"`
	BeforeCutoff bool       `json:"before_cutoff,omitempty"`
	RestOver     bool       `json:"rest_over,omitempty"`
}

// Result is how a season ended on a paddock.
type Result struct {
	Year     int            `json:"year"`
	RestEnd  civil.Date     `json:"rest_end,omitzero"`
	NoFrost  bool           `json:"no_frost,omitempty"`  // Dec 31 came first
	RealRest int            `json:"real_rest,omitempty"` // days from the last off to the end of rest
	Start    float64        `json:"start,omitempty"`
	StartOn  civil.Date     `json:"start_on,omitzero"` // the day that it was read
	End      float64        `json:"end,omitempty"`     // 0 where it was never read
	Target   float64        `json:"target,omitempty"`
	Met      bool           `json:"met,omitempty"`
	Lesson   *season.Lesson `json:"lesson,omitempty"`
}

// Shut is one paddock's line in a plan.
type Shut struct {
	Place
	Standing
	Judged
	RestDay  int            `json:"rest_day,omitempty"` // day n of rest, the cutoff is day 1
	Phase    season.Phase   `json:"phase,omitempty"`
	Native   bool           `json:"native,omitempty"`
	Late     int            `json:"late,omitempty"`  // days grazed past the cutoff
	Wants    string         `json:"wants,omitempty"` // read, off, keep-shut, brown, nothing
	Sends                   // those that must come off
	Turn     *spring.TurnIn `json:"turn,omitempty"`      // when it may be begun in spring
	TooEarly *spring.Early  `json:"too_early,omitempty"` // it was, too early
	Steer    *spring.Steer  `json:"steer,omitempty"`     // whether it will have what it must leave
	// For the season's picture.
	Early    civil.Date `json:"early,omitzero"`  // by which frost came in 10 of 100 falls
	Latest   civil.Date `json:"latest,omitzero"` // and in 90
	End      civil.Date `json:"end,omitzero"`    // of rest, as it came or is likely
	Ended    bool       `json:"ended,omitempty"`
	Readings []Point    `json:"readings,omitempty"`
}

// Point is a height on a day.
type Point struct {
	Day civil.Date `json:"day,omitzero"`
	In  float64    `json:"in"`
}

// Feed is where the herds eat, in short.
type Feed struct {
	From       civil.Date `json:"from,omitzero"`
	To         civil.Date `json:"to,omitzero"`
	ShortDays  int        `json:"short_days"`           // with the grass that is taken to stand there
	ShortLow   int        `json:"short_low,omitempty"`  // with as much as is likely where nobody read it lately
	ShortHigh  int        `json:"short_high,omitempty"` // and with as little
	Settle     string     `json:"settle,omitempty"`     // the paddock whose reading would say most
	FirstShort civil.Date `json:"first_short,omitzero"`
	HayLb      float64    `json:"hay_lb,omitempty"` // still to get, as fed
	HayLow     float64    `json:"hay_low,omitempty"`
	HayHigh    float64    `json:"hay_high,omitempty"`
	BaleLb     float64    `json:"bale_lb,omitempty"`
	FewerHead  int        `json:"fewer_head,omitempty"`
	Wean       bool       `json:"wean,omitempty"`       // weaning closes it
	Herd       string     `json:"herd,omitempty"`       // that is sold from
	StockDays  float64    `json:"stock_days,omitempty"` // days of winter grass that the fall eats
	RunsOut    civil.Date `json:"runs_out,omitzero"`    // the day in winter on which all feed is gone
	GreenUp    civil.Date `json:"green_up,omitzero"`    // until when it lasts where none is
	Winter     *Winter    `json:"winter,omitempty"`
}

// Winter is what the winter's feed is made of, in days of what the herds want.
type Winter struct {
	From   civil.Date `json:"from,omitzero"` // the end of rest, or today
	Stock  int        `json:"stock,omitempty"`
	Native int        `json:"native,omitempty"`
	Hay    int        `json:"hay,omitempty"`
	Unread []string   `json:"unread,omitempty"` // dormant natives that nobody has read; they are not counted
	// Guessed is other ground that nobody has read lately.
	Guessed []string `json:"guessed,omitempty"`
}

// Short is the days short as they are said.
func (f *Feed) Short() (low, high int) { return Spread(f.ShortLow, f.ShortDays, f.ShortHigh) }

// Hay is the hay still to get, lb, said the same way.
func (f *Feed) Hay() (low, high float64) { return Spread(f.HayLow, f.HayLb, f.HayHigh) }

// Spread is a range as it is said: the middle alone where low and high agree within a
// quarter of it.
func Spread[T int | float64](low, middle, high T) (T, T) {
	if high-low <= middle/4 {
		return middle, middle
	}
	return low, high
}

// Health is how the machine is, for the person.
type Health struct {
	OK         bool       `json:"ok"`
	Unsent     int        `json:"unsent,omitempty"`
	Failing    []string   `json:"failing,omitempty"` // carriers and sources that fail, by name
	LastBackup civil.Date `json:"last_backup,omitzero"`
	NotSaid    []NotSaid  `json:"not_said,omitempty"` // what could not be said in the last week
}

// NotSaid is a notice that never went out, and why.
type NotSaid struct {
	To, Paddock, Why string
	Kind             Kind
	Day              civil.Date `json:",omitzero"`
}

// Stop is one visit of the last pass before rest.
type Stop struct {
	Paddock string     `json:"paddock"` // id
	Name    string     `json:"name"`
	Herds   []string   `json:"herds"`
	In      civil.Date `json:"in"`
	Out     civil.Date `json:"out"` // to be out by
	// Wants is how many days before the last cutoff those herds have no open
	// grass left, told with their last stop; 0 is fed to the end.
	Wants int `json:"wants,omitempty"`
	// Unproved is ground with plants that can poison and no height yet that lets
	// anybody in.
	Unproved bool `json:"unproved,omitempty"`
	// Cautions are what may harm those herds there.
	Cautions []season.Caution `json:"cautions,omitempty"`
}

// Sends is where the herds of a paddock go.
type Sends struct {
	MoveTo []string `json:"move_to,omitempty"` // paddocks that can take them, best first, as people say them
	Herds  []string `json:"herds,omitempty"`   // those that stand there, by id
	// Cautions are what may harm them in the best of those paddocks, or where they were
	// just turned in.
	Cautions []season.Caution `json:"cautions,omitempty"`
	Changed  []season.Change  `json:"changed,omitempty"` // why it is another ground than they were sent to before
}

// Warned reports whether the ground that they are sent to carries a caution.
func (s Sends) Warned() bool { return len(s.Cautions) > 0 }

// Supposed is what would come of something that has not happened, or how low ground
// may be grazed.
type Supposed struct {
	Grounds []SupposedGround `json:"grounds"`
	Had     int              `json:"had,omitempty"`  // head of the herd as it is
	Head    int              `json:"head,omitempty"` // and as it would be, where that is supposed
	// HayDays is how many more days than now no grass is left for, until green-up; fewer
	// where negative.
	HayDays int `json:"hay_days,omitempty"`
}

// A SupposedGround is one paddock of it, as it stands and as it would.
type SupposedGround struct {
	Shut
	In     civil.Date `json:"in,omitzero"`      // from when on animals would be in
	Out    civil.Date `json:"out,omitzero"`     // and until when
	Leaves float64    `json:"leaves,omitempty"` // in, then; for how low the height itself
	Lowest float64    `json:"lowest,omitempty"` // that spares the growing point
	Empty  bool       `json:"empty,omitempty"`  // nobody is in now
	Now    Prospect   `json:"now"`
	Then   Prospect   `json:"then"`
	// Closed says that nothing is reckoned: what its verdict says stands against it, or
	// it cannot be as tall.
	Closed bool `json:"closed,omitempty"`
	Falls  int  `json:"falls,omitempty"` // of ten, in which it makes its height; 0: most
}

// A Prospect is what comes of a paddock.
type Prospect struct {
	Expect *Expect  `json:"expect,omitempty"`
	Chance float64  `json:"chance,omitempty"` // of the height wanted, 0-1, however little it rests on
	Days   *float64 `json:"days,omitempty"`   // of grass; nil where unknown
	More   bool     `json:"more,omitempty"`   // or longer
}

// A Count is how many head a herd has.
type Count struct {
	Herd string `json:"herd"`
	Head int    `json:"head"`
}
