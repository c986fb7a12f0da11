package wording

import (
	"encoding/json"
	"fmt"
	"strconv"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/dry"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/scheduler/season/shut"
	"stubbled/scheduler/spring"
)

// The farm of these cases, its people, places and figures are invented.

// A sample is one message of the catalogue.
type sample struct {
	name  string
	kind  ladder.Kind
	facts []flat
}

// said is the sample as the program gets it.
func (s sample) said() []ladder.Facts { return stored(s.kind, s.facts...) }

// stored are facts that come out of the outbox.
func stored(kind ladder.Kind, all ...flat) []ladder.Facts {
	out := make([]ladder.Facts, len(all))
	for i, f := range all {
		data, err := json.Marshal(f)
		if err != nil {
			panic(err)
		}
		n := ladder.Notice{Kind: kind}
		if err := n.Decode(string(data)); err != nil {
			panic(err)
		}
		out[i] = n.Facts
	}
	return out
}

// flat is the facts of any kind as released versions stored them: one wide row,
// of which each kind takes what is its own.
type flat struct {
	dry.Call

	Farm    string     `json:"farm,omitempty"`
	Paddock string     `json:"paddock,omitempty"`
	Name    string     `json:"name,omitempty"`
	Say     string     `json:"say,omitempty"`
	Day     civil.Date `json:"day,omitzero"`

	Cutoff      civil.Date `json:"cutoff,omitzero"`
	WasCutoff   civil.Date `json:"was_cutoff,omitzero"`
	Frost       civil.Date `json:"frost,omitzero"`
	OutBy       civil.Date `json:"out_by,omitzero"`
	Days        int        `json:"days,omitempty"`
	RestDay     int        `json:"rest_day,omitempty"`
	DaysToFrost int        `json:"days_to_frost,omitempty"`

	Leave       float64          `json:"leave,omitempty"`
	Target      float64          `json:"target,omitempty"`
	Grazed      bool             `json:"grazed,omitempty"`
	Unknown     bool             `json:"unknown,omitempty"`
	BackIn      bool             `json:"back_in,omitempty"`
	Fescue      bool             `json:"fescue,omitempty"`
	DroughtOver bool             `json:"drought_over,omitempty"`
	Counts      []ladder.Count   `json:"counts,omitempty"`
	FallUse     bool             `json:"fall_use,omitempty"`
	NoRest      bool             `json:"cold,omitempty"`
	MoveTo      []string         `json:"move_to,omitempty"`
	Herds       []string         `json:"herds,omitempty"`
	Changed     []season.Change  `json:"changed,omitempty"`
	Cautions    []season.Caution `json:"cautions,omitempty"`
	Move        *spring.Move     `json:"move,omitempty"`
	Turn        *spring.TurnIn   `json:"turn,omitempty"`
	Early       *spring.Early    `json:"early,omitempty"`

	Card      []spring.Score  `json:"card,omitempty"`
	Grid      *spring.Stand   `json:"grid,omitempty"`
	Height    *ladder.Height  `json:"height,omitempty"`
	Verdict   *season.Verdict `json:"verdict,omitempty"`
	Expect    *ladder.Expect  `json:"expect,omitempty"`
	Hold      *ladder.Hold    `json:"hold,omitempty"`
	Wait      *ladder.Wait    `json:"wait,omitempty"`
	Resting   bool            `json:"resting,omitempty"`
	Failed    bool            `json:"failed,omitempty"`
	GoesOn    bool            `json:"rest_goes_on,omitempty"`
	FrostSeen *ladder.Frost   `json:"frost_seen,omitempty"`
	Result    *ladder.Result  `json:"result,omitempty"`
	Wishes    []season.Wish   `json:"wishes,omitempty"`
	Feed      *ladder.Feed    `json:"feed,omitempty"`
	Pass      []ladder.Stop   `json:"pass,omitempty"`
	When      string          `json:"when,omitempty"`
	Missing   []string        `json:"missing,omitempty"`
	Repeat    bool            `json:"repeat,omitempty"`
	Read      bool            `json:"read,omitempty"`
	Owner     bool            `json:"owner,omitempty"`
	Winter    *ladder.Feed    `json:"winter,omitempty"`
	Shuts     []ladder.Shut   `json:"shuts,omitempty"`

	Recorded []diary.Fact      `json:"recorded,omitempty"`
	Stale    civil.Date        `json:"stale,omitzero"`
	Question *diary.Question   `json:"question,omitempty"`
	Causes   []ladder.Cleared  `json:"causes,omitempty"`
	Names    map[string]string `json:"names,omitempty"`
	Undone   []diary.Fact      `json:"undone,omitempty"`
	Who      string            `json:"who,omitempty"`
	None     string            `json:"none,omitempty"`
	Words    string            `json:"words,omitempty"`
	Planned  civil.Date        `json:"planned,omitzero"`
	Supposed *ladder.Supposed  `json:"supposed,omitempty"`
	Note     bool              `json:"note,omitempty"`
	Horses   bool              `json:"horses,omitempty"`
	Alarm    string            `json:"alarm,omitempty"`
	Stop     string            `json:"stop,omitempty"`
	Detail   string            `json:"detail,omitempty"`
	Health   *ladder.Health    `json:"health,omitempty"`
	And      []flatPart        `json:"and,omitempty"`
}

type flatPart struct {
	Kind  ladder.Kind `json:"kind"`
	Facts flat        `json:"facts"`
}

func (f flat) place() ladder.Place { return ladder.Place{Paddock: f.Paddock, Name: f.Name, Say: f.Say} }

func day(month time.Month, d int) civil.Date { return civil.Date{Year: 2026, Month: month, Day: d} }

func ptr[T any](x T) *T { return &x }

// toGround is the one place to go, with what may harm animals there.
func toGround(ground string, why season.Risk, plants ...string) func(*flat) {
	return func(f *flat) {
		f.MoveTo, f.Cautions = []string{ground}, []season.Caution{{Why: why, Plants: plants}}
	}
}

// creek is a paddock of native grass before its cutoff, grazed.
func creek(changes ...func(*flat)) flat {
	f := flat{
		Farm: "Quail Fork", Paddock: "creek", Name: "Creek Bottom", Say: "cb",
		Cutoff: day(9, 1), Frost: day(10, 16), Days: 10, Leave: 8, Target: 18, Grazed: true,
		MoveTo: []string{"Lane", "Mill"},
	}
	for _, change := range changes {
		change(&f)
	}
	return f
}

// inSpring is a paddock that may be begun about a day.
func inSpring(month time.Month, d int, changes ...func(*flat)) flat {
	f := creek(empty, days(118), set(func(f *flat) *civil.Date { return &f.Day }, day(4, 20)))
	f.Turn = &spring.TurnIn{Begin: 14, About: day(month, d), Early: day(month, d).AddDays(-9), Late: day(month, d).AddDays(9), Rested: true}
	for _, change := range changes {
		change(&f)
	}
	return f
}

// begunEarly is ground on which animals came in April.
func begunEarly(f *flat) {
	f.Early = &spring.Early{Begin: 14, Since: day(4, 20), Height: 9, Read: day(4, 18)}
}

// hill is a second paddock, and north40 a third.
func hill(changes ...func(*flat)) flat {
	return creek(append([]func(*flat){func(f *flat) {
		f.Paddock, f.Name, f.Say, f.Leave = "hill", "Hill", "hill", 6
	}}, changes...)...)
}

func north40(changes ...func(*flat)) flat {
	return creek(append([]func(*flat){func(f *flat) {
		f.Paddock, f.Name, f.Say = "north40", "North 40", "n40"
	}}, changes...)...)
}

// lane is cool-season ground with johnsongrass in it.
func lane(changes ...func(*flat)) flat {
	return creek(append([]func(*flat){func(f *flat) {
		f.Paddock, f.Name, f.Say, f.NoRest = "lane", "Lane", "lane", true
		f.Cutoff, f.Frost, f.Leave, f.Target = civil.Date{}, civil.Date{}, 4, 0
	}}, changes...)...)
}

// changed is a paddock whose herd was sent to Hill before.
func changed(c season.Change) func(*flat) {
	c.Herds, c.Was, c.Now = []string{"cows"}, "Hill", "Lane"
	return func(f *flat) { f.Changed = []season.Change{c} }
}

func unreadYet(f *flat) { f.Read = true }

func many(n int, changes ...func(*flat)) []flat {
	names := []string{"Creek Bottom", "Hill", "North 40", "Lane", "Mill", "East", "Pasture 3", "Nine Oaks"}
	out := make([]flat, n)
	for i := range out {
		out[i] = creek(changes...)
		out[i].Name, out[i].Paddock, out[i].Say = names[i%len(names)], names[i%len(names)], "p"+strconv.Itoa(1+i%12)
	}
	return out
}

func set[T any](field func(*flat) *T, value T) func(*flat) {
	return func(f *flat) { *field(f) = value }
}

func days(n int) func(*flat)    { return func(f *flat) { f.Days = n } }
func restDay(n int) func(*flat) { return func(f *flat) { f.RestDay, f.Days = n, -n } }
func unknown(f *flat)           { f.Grazed, f.Unknown = false, true }
func empty(f *flat)             { f.Grazed = false }
func again(f *flat)             { f.Repeat = true }
func moved(f *flat)             { f.Cutoff, f.WasCutoff = day(9, 4), day(9, 1) }
func toReturn(f *flat)          { f.OutBy = day(11, 15) }
func toFrost(n int) func(*flat) { return func(f *flat) { f.DaysToFrost = n } }
func missing(names ...string) func(*flat) {
	return func(f *flat) { f.Missing = names }
}

func height(mean float64, plants int, d civil.Date) func(*flat) {
	return func(f *flat) { f.Height = &ladder.Height{Mean: mean, Plants: plants, Day: d} }
}

func verdict(v season.Verdict) func(*flat) {
	return func(f *flat) { f.Verdict = &v }
}

func hold(until civil.Date, plants ...string) func(*flat) {
	return func(f *flat) { f.Hold = &ladder.Hold{Plants: plants, Until: until} }
}

func cold(c ladder.Frost) func(*flat) { return func(f *flat) { f.FrostSeen = &c } }

func expectCutoff(mean float64) func(*flat) {
	return func(f *flat) {
		f.Expect = &ladder.Expect{At: day(10, 16), Mean: 17.6, Low: 13.2, High: 22.1, ByCutoff: mean}
	}
}

func expectFrost(chance *float64) func(*flat) {
	return func(f *flat) {
		f.Expect = &ladder.Expect{At: day(10, 16), Mean: 17.6, Low: 13.2, High: 22.1, Chance: chance, Seasons: 3}
	}
}

func recordedFacts(facts ...diary.Fact) func(*flat) {
	return func(f *flat) {
		f.Recorded = facts
		f.Names = names()
	}
}

func names() map[string]string {
	return map[string]string{"creek": "Creek Bottom", "hill": "Hill", "lane": "Lane", "north40": "North 40", "mill": "Mill", "cows": "cows", "heifers": "heifers"}
}

func question(q diary.Question) []flat {
	return []flat{{Farm: "Quail Fork", Question: &q, Names: names()}}
}

func choice(names ...string) []diary.Choice {
	out := make([]diary.Choice, len(names))
	for i, n := range names {
		out[i].Name = n
	}
	return out
}

// samples is the whole catalogue: every kind in every variant that makes sense.
func samples() []sample {
	var all []sample
	for _, part := range [][]sample{rungSamples(), fallSamples(), coldSamples(), verdictSamples(), answerSamples(), askSamples(), farmSamples()} {
		all = append(all, part...)
	}
	return all
}

// isItDry is the question that a letter answers.
var isItDry = &diary.Question{Why: diary.Likely, Choices: []diary.Choice{{Facts: []diary.Fact{{Kind: diary.Dry}}}}}

// rainless is a call on June 1; those that tell of short rain say what is to come.
func rainless(c dry.Call) []flat {
	c.Date, c.Since = day(6, 1), day(4, 1)
	if c.Tells() {
		c.Known, c.ComeLow, c.ComeHigh = true, 0.5, 0.8
	}
	return []flat{{Farm: "Quail Fork", Call: c, Question: isItDry}}
}

func rungSamples() []sample {
	one := func(f flat) []flat { return []flat{f} }
	return []sample{
		{"ten days, grazed", ladder.HeadsUp, one(creek())},
		{"ten days, nobody knows whether cattle are in", ladder.HeadsUp, one(creek(unknown))},
		{"ten days, with a reading", ladder.HeadsUp, one(creek(height(14.2, 12, day(8, 20))))},
		{"ten days, the cutoff was moved", ladder.HeadsUp, one(creek(moved))},
		{"ten days, ground to be given back", ladder.HeadsUp, one(lane(toReturn))},
		{"ten days, two paddocks", ladder.HeadsUp, []flat{creek(), hill()}},
		{"ten days, two with their own days", ladder.HeadsUp, []flat{creek(), hill(moved)}},
		{"ten days, eight paddocks", ladder.HeadsUp, many(8)},
		{"five days, never read", ladder.LastLook, one(creek(days(5)))},
		{"five days, with grass", ladder.LastLook, one(creek(days(5), height(11, 20, day(8, 25)),
			verdict(season.Verdict{Say: season.Go, Action: season.Stay, Reason: season.GrazedEnough, Days: ptr(4.7), Floor: 8})))},
		{"five days, two herds", ladder.LastLook, []flat{creek(days(5), twoHerds), hill(days(5), twoHerds)}},
		{"five days, eaten down", ladder.LastLook, one(creek(days(5), height(7.8, 10, day(8, 26)),
			verdict(season.Verdict{Say: season.Wait, Action: season.TakeOff, Reason: season.UnderLeave, Floor: 8, Lacks: .2})))},
		{"five days, two paddocks", ladder.LastLook, []flat{creek(days(5)), hill(days(5))}},
		{"five days, ground to be given back", ladder.LastLook, one(lane(toReturn, days(5)))},
		{"one day, late in the plan", ladder.LastLook, one(creek(days(1)))},
		{"two days", ladder.MovePlan, one(creek(days(2)))},
		{"two days, other ground since a height", ladder.MovePlan, one(creek(days(2), changed(season.Change{Fact: &diary.Fact{
			Kind: diary.Reading, Paddock: "hill", Heights: []float64{6, 5, 7, 6, 6, 6, 6, 6, 6, 6}, Day: day(8, 12)}, Names: map[string]string{"hill": "Hill"}})))},
		{"two days, other ground since it is held", ladder.MovePlan, one(creek(days(2), changed(season.Change{Why: season.Held})))},
		{"two days, other ground since it shuts", ladder.MovePlan, one(creek(days(2), changed(season.Change{Why: season.Shuts, Day: day(8, 31)})))},
		{"two days, other ground that saves feed", ladder.MovePlan, one(creek(days(2), changed(season.Change{Why: season.Saves, Days: 4})))},
		{"two days, other ground since a text was taken back", ladder.MovePlan, one(creek(days(2), changed(season.Change{
			Why: season.TakenBy, Fact: &diary.Fact{Kind: diary.On, Paddock: "hill", Herd: "cows", Day: day(8, 12)}, Names: map[string]string{"hill": "Hill"}})))},
		{"green-up, rested", ladder.GreenUp, one(inSpring(5, 6))},
		{"green-up, its rest failed", ladder.GreenUp, one(inSpring(5, 6, func(f *flat) { f.Turn.Rested, f.Turn.Failed, f.Turn.Begin = false, true, 18 }))},
		{"green-up, three paddocks", ladder.GreenUp, []flat{inSpring(5, 6), inSpring(5, 22, func(f *flat) {
			f.Name, f.Paddock, f.Say, f.Turn.Begin, f.Turn.Rested = "Hill", "hill", "hill", 9, false
		}), inSpring(5, 22, func(f *flat) { f.Name, f.Paddock, f.Say = "North 40", "north40", "n40" })}},
		{"green-up, eight paddocks", ladder.GreenUp, many(8, func(f *flat) { f.Turn = inSpring(5, 6).Turn })},
		{"too early", ladder.TooEarly, one(creek(begunEarly))},
		{"too early, not read", ladder.TooEarly, one(creek(begunEarly, func(f *flat) { f.Early.Height, f.Early.About = 0, day(5, 6) }))},
		{"too early, two paddocks", ladder.TooEarly, []flat{creek(begunEarly), hill(begunEarly)}},
		{"two days, to ground that may bloat", ladder.MovePlan, one(creek(days(2), toGround("Clover", season.RiskBloat, "clover")))},
		{"two days, goats to switchgrass", ladder.MovePlan, one(creek(days(2), toGround("Mill", season.RiskLiver), changed(season.Change{Why: season.Held, Now: "Mill"})))},
		{"two days, nowhere to go", ladder.MovePlan, one(creek(days(2), set(func(f *flat) *[]string { return &f.MoveTo }, nil)))},
		{"two days, unanswered", ladder.MovePlan, one(creek(days(2), again))},
		{"two days, nobody knows whether cattle are in", ladder.MovePlan, one(creek(days(2), unknown))},
		{"two days, a contact is out of reach", ladder.MovePlan, one(creek(days(2), missing("Luis")))},
		{"two days, two paddocks", ladder.MovePlan, []flat{creek(days(2)), hill(days(2))}},
		{"two days, ground to be given back", ladder.MovePlan, one(lane(toReturn, days(2)))},
		{"cutoff", ladder.ShutToday, one(creek(restDay(1), toFrost(45)))},
		{"cutoff, unanswered", ladder.ShutToday, one(creek(restDay(1), again))},
		{"cutoff, nobody knows whether cattle are in", ladder.ShutToday, one(creek(restDay(1), unknown))},
		{"cutoff, moved while it ran", ladder.ShutToday, one(creek(restDay(1), moved))},
		{"cutoff, two paddocks", ladder.ShutToday, []flat{creek(restDay(1)), hill(restDay(1))}},
		{"cutoff, eight paddocks", ladder.ShutToday, many(8, restDay(1))},
		{"cutoff, eight paddocks, unanswered", ladder.ShutToday, many(8, restDay(1), again)},
		{"to be given back today", ladder.ShutToday, one(lane(toReturn, restDay(1)))},
		{"third day of rest", ladder.Overdue, one(creek(restDay(3), toFrost(42)))},
		{"past the planned frost", ladder.Overdue, one(creek(restDay(52), toFrost(-7)))},
		{"tenth day of rest", ladder.Overdue, one(creek(restDay(10), toFrost(35)))},
		{"twentieth day of rest", ladder.Overdue, one(creek(restDay(20), toFrost(25)))},
		{"tenth day, nowhere to go", ladder.Overdue, one(creek(restDay(10), toFrost(35), func(f *flat) { f.MoveTo = nil }))},
		{"third day, nobody knows whether cattle are in", ladder.Overdue, one(creek(restDay(3), unknown))},
		{"put back in during rest", ladder.Overdue, one(creek(restDay(12), set(func(f *flat) *bool { return &f.BackIn }, true)))},
		{"third day, a contact is out of reach", ladder.Overdue, one(creek(restDay(3), missing("Luis", "Ruth")))},
		{"third day, given back late", ladder.Overdue, one(lane(toReturn, restDay(3)))},
		{"two late, the same day", ladder.Overdue, []flat{creek(restDay(3), toFrost(42)), hill(restDay(3), toFrost(42))}},
		{"two of which nobody knows, the same day", ladder.Overdue, []flat{creek(restDay(3), unknown), hill(restDay(3), unknown)}},
		{"three late, each its own day", ladder.Overdue, []flat{creek(restDay(3)), hill(restDay(5)), north40(restDay(2), unknown)}},
		{"eight late", ladder.Overdue, many(8, restDay(3), missing("Luis"))},
		{"two that rest to other days", ladder.KeepShut, []flat{creek(empty, restDay(10)), hill(empty, restDay(3), set(func(f *flat) *civil.Date { return &f.Frost }, day(10, 9)))}},
		{"empty, ten days before", ladder.KeepShut, one(creek(empty))},
		{"empty at cutoff", ladder.KeepShut, one(creek(empty, days(0)))},
		{"two empty at cutoff", ladder.KeepShut, []flat{creek(empty, days(0)), hill(empty, days(0))}},
		{"empty at cutoff, not read", ladder.KeepShut, one(creek(empty, days(0), unreadYet))},
		{"two empty at cutoff, not read", ladder.KeepShut, []flat{creek(empty, days(0), unreadYet), hill(empty, days(0), unreadYet)}},
		{"empty, in the middle of rest", ladder.KeepShut, one(creek(empty, days(-17)))},
		{"two empty, ten days before", ladder.KeepShut, []flat{creek(empty), hill(empty)}},
		{"empty and given back today", ladder.KeepShut, one(lane(empty, days(0)))},
		{"the farm file moved it", ladder.CutoffMoved, one(creek(moved))},
		{"the farm file moved two", ladder.CutoffMoved, []flat{creek(moved), hill(moved)}},
	}
}

func fallSamples() []sample {
	one := func(f flat) []flat { return []flat{f} }
	shuts := []ladder.Shut{
		{Place: ladder.Place{Paddock: "creek", Name: "Creek Bottom"}, Standing: ladder.Standing{Cutoff: day(9, 1), Frost: day(10, 16), Leave: 8, Target: 18, Grazed: true}, Native: true},
		{Place: ladder.Place{Paddock: "hill", Name: "Hill"}, Standing: ladder.Standing{Cutoff: day(9, 4), Frost: day(10, 19), Leave: 6, Target: 12}, Native: true},
		{Place: ladder.Place{Paddock: "north40", Name: "North 40"}, Standing: ladder.Standing{Cutoff: day(8, 21), Frost: day(10, 20), Leave: 8, Target: 18, FallUse: true}, Native: true},
		{Place: ladder.Place{Paddock: "lane", Name: "Lane"}},
	}
	ahead := func(feed *ladder.Feed) []flat {
		return []flat{{Farm: "Quail Fork", Days: 60, Shuts: shuts, Feed: feed}}
	}
	short := &ladder.Feed{From: day(9, 1), To: day(11, 15), ShortDays: 12, FirstShort: day(11, 3), HayLb: 16_800, FewerHead: 9, Wean: true, Herd: "cows"}
	result := func(r ladder.Result) []flat {
		return one(creek(empty, func(f *flat) { f.Result = &r }))
	}
	return []sample{
		{"rain is short", ladder.Drought, rainless(dry.Call{Median: 332, RainMM: 241, Years: 30, Of: 54, MoveLow: 17, MoveHigh: 22, WaitDays: 10})},
		{"it is very short", ladder.Drought, rainless(dry.Call{Median: 332, RainMM: 140, Years: 30, Of: 38, MoveLow: 16, MoveHigh: 16, OrMore: true, WaitDays: 10, Told: true})},
		{"some have gone", ladder.Drought, rainless(dry.Call{Median: 332, RainMM: 241, Years: 30, Of: 34, MoveHigh: 2, WaitDays: 1})},
		{"one is to go", ladder.Drought, rainless(dry.Call{Median: 332, RainMM: 241, Years: 30, Of: 2, MoveLow: 1, MoveHigh: 1, WaitDays: 14})},
		{"rain is short and no herd is on file", ladder.Drought, rainless(dry.Call{Median: 332, RainMM: 241, Years: 30})},
		{"nobody knows the rain", ladder.Drought, rainless(dry.Call{})},
		{"rain was told and no years are known", ladder.Drought, rainless(dry.Call{Known: true, Told: true, RainMM: 51})},
		{"little rain for 60 days", ladder.Drought, []flat{{Farm: "Quail Fork", Question: isItDry}}},
		{"feed runs short", ladder.FallAhead, ahead(short)},
		{"only hay closes it", ladder.FallAhead, ahead(&ladder.Feed{ShortDays: 1, FirstShort: day(11, 14), HayLb: 900})},
		{"nobody read the ground lately", ladder.FallAhead, ahead(&ladder.Feed{ShortDays: 26, ShortLow: 10, ShortHigh: 40, Settle: "Old Mill", FirstShort: day(9, 30), HayLb: 34_000, HayLow: 12_000, HayHigh: 61_000,
			StockDays: 38.4, RunsOut: day(11, 20)})},
		{"hay on hand, in bales", ladder.FallAhead, ahead(&ladder.Feed{ShortDays: 26, ShortLow: 0, ShortHigh: 40, Settle: "Old Mill", FirstShort: day(9, 30), HayLb: 34_000, HayHigh: 61_000, BaleLb: 1000, GreenUp: day(4, 1)})},
		{"feed reaches", ladder.FallAhead, ahead(&ladder.Feed{From: day(9, 1), To: day(11, 15)})},
		{"no herds on file", ladder.FallAhead, ahead(nil)},
		{"fall use starts", ladder.FallUseStarts, one(creek(restDay(1)))},
		{"fall use, a height is wanted", ladder.FallUseAsk, one(creek(restDay(11), height(22, 12, day(9, 4))))},
		{"two in fall use, heights wanted", ladder.FallUseAsk, []flat{creek(restDay(11)), north40(restDay(11))}},
		{"fall use has run out", ladder.FallUseOut, one(creek(restDay(20), height(18.3, 12, day(9, 18))))},
		{"fall use has run out by an old reading", ladder.FallUseOut, one(creek(restDay(20), height(18.3, 12, day(9, 10)), verdict(season.Verdict{Say: season.Wait, Action: season.ReadIt, Reason: season.OldReading})))},
		{"height at cutoff", ladder.AskHeight, one(creek(set(func(f *flat) *string { return &f.When }, "cutoff")))},
		{"height at mid-rest", ladder.AskHeight, one(creek(empty, height(9, 20, day(9, 1)), set(func(f *flat) *string { return &f.When }, "mid-rest")))},
		{"height at the last of rest", ladder.AskHeight, one(creek(empty, set(func(f *flat) *string { return &f.When }, "end")))},
		{"three heights at cutoff", ladder.AskHeight, many(3, set(func(f *flat) *string { return &f.When }, "cutoff"))},
		{"eight heights at the last of rest", ladder.AskHeight, many(8, set(func(f *flat) *string { return &f.When }, "end"))},
		{"made it", ladder.SeasonResult, result(ladder.Result{Year: 2026, RealRest: 57, Start: 9, StartOn: day(9, 3), End: 19, Target: 18, Met: true})},
		{"short, and what would cure it", ladder.SeasonResult, result(ladder.Result{Year: 2026, RealRest: 41, Start: 8, StartOn: day(9, 3), End: 15, Target: 18,
			Lesson: &season.Lesson{LeaveIn: ptr(10.5), RestDays: ptr(58), RestMore: 13, RestHayLb: 24018}})},
		{"a first short fall", ladder.SeasonResult, result(ladder.Result{Year: 2026, RealRest: 45, End: 14, Target: 18,
			Lesson: &season.Lesson{Thumb: &season.Cures{LeaveFor: grass.Cure{Found: true, Value: 11}, RestFor: grass.Cure{Found: true, Value: 58}}}})},
		{"short, leave more", ladder.SeasonResult, result(ladder.Result{Year: 2026, RealRest: 41, Start: 8, StartOn: day(9, 3), End: 15, Target: 18,
			Lesson: &season.Lesson{LeaveIn: ptr(10.0)}})},
		{"never read at the last of rest", ladder.SeasonResult, result(ladder.Result{Year: 2026, Target: 18})},
		{"two never read", ladder.SeasonResult, []flat{
			creek(func(f *flat) { f.Result = &ladder.Result{Year: 2026} }), hill(func(f *flat) { f.Result = &ladder.Result{Year: 2026} })}},
		{"three results", ladder.SeasonResult, []flat{
			creek(func(f *flat) { f.Result = &ladder.Result{Year: 2026, End: 15, Target: 18} }),
			hill(func(f *flat) { f.Result = &ladder.Result{Year: 2026, End: 13, Target: 12, Met: true} }),
			north40(func(f *flat) { f.Result = &ladder.Result{Year: 2026} })}},
		{"lessons", ladder.LessonsMail, lessonFacts()},
	}
}

func lessonFacts() []flat {
	finished := []season.Finished{
		{Year: 2024, Cutoff: day(9, 1), RestEnd: day(10, 28), RealRest: 49, Start: 8, End: 14, Teaches: true, Heat: 905, RainMM: 61},
		{Year: 2025, Cutoff: day(9, 1), RestEnd: day(10, 28), RealRest: 1, Start: 9, StartOn: day(9, 3), End: 0, RainMM: -1, WhyNot: "never read at the last of rest"},
		{Year: 2026, Cutoff: day(9, 1), RestEnd: day(10, 28), RealRest: 57, Start: 8.5, End: 18.5, Met: true, Teaches: true, Heat: 1012, RainMM: 134},
	}
	return []flat{
		creek(func(f *flat) {
			f.Result = &ladder.Result{Year: 2026, Target: 18, End: 18.5, Lesson: &season.Lesson{Paddock: "creek", Seasons: finished,
				Chance: ptr(0.58), LeaveIn: ptr(10.0), LeaveChance: .81, RestDays: ptr(61), RestChance: .8, RestMore: 16, RestHayLb: 29560}}
		}),
		hill(func(f *flat) {
			f.Target, f.Wishes = 12, []season.Wish{{Leave: 7, Told: day(8, 4), By: "Ana"}, {Days: 60, Told: day(8, 5), By: "Ana"}}
			f.Result = &ladder.Result{Year: 2026, Target: 12, End: 13, Lesson: &season.Lesson{Paddock: "hill", Seasons: finished[2:], Thumb: &season.Cures{LeaveFor: grass.Cure{Found: true, Value: 8.5}}}}
		}),
		north40(func(f *flat) {
			f.Result = &ladder.Result{Year: 2026, Target: 18, End: 21, Lesson: &season.Lesson{Paddock: "north40", Seasons: []season.Finished{finished[2], finished[0]}, Chance: ptr(0.97), Easy: true}}
		}),
	}
}

func coldSamples() []sample {
	one := func(f flat) []flat { return []flat{f} }
	light := ladder.Frost{Day: day(9, 28), MinC: ptr(1.1), Place: "Quail Fork"}
	freeze := ladder.Frost{Day: day(10, 14), MinC: ptr(-0.6), Place: "Quail Fork"}
	killing := ladder.Frost{Day: day(10, 28), MinC: ptr(-3.3), Place: "Quail Fork", RestOver: true}
	told := ladder.Frost{Day: day(9, 28), ByWho: "Luis"}
	early := ladder.Frost{Day: day(8, 28), MinC: ptr(1.9), Place: "Quail Fork", BeforeCutoff: true}
	hurt := func(f *flat) { f.Who, f.Words = "Luis", "dead cow in lane, two more down" }
	return []sample{
		{"an emergency", ladder.EmergencyTold, one(lane(hurt))},
		{"horses on sorghum kin", ladder.EmergencyTold, one(lane(hurt, set(func(f *flat) *bool { return &f.Horses }, true)))},
		{"an emergency somewhere", ladder.EmergencyTold, []flat{{Who: "Luis", Words: "cow down, hurry"}}},
		{"an emergency of which nobody said where", ladder.EmergencyTold, []flat{{Who: "Luis", Words: "cow down, hurry", Shuts: []ladder.Shut{shutOf(creek()), shutOf(hill())}}}},
		{"two who do not say the same of a night", ladder.FrostDisputed, one(flat{Who: "Luis", None: "Ana", Day: day(9, 12)})},
		{"news that is passed on", ladder.PassedOn, []flat{{Who: "Luis", Note: true, Words: "fence down hill"}}},
		{"a stranger's emergency", ladder.PassedOn, []flat{{Who: "+15555550199", Words: "theres a dead cow by the road at your lane gate. two more dont look good. im not from here"}}},
		{"light frost in rest", ladder.FrostSeen, one(creek(empty, restDay(28), cold(light)))},
		{"frost that a person saw", ladder.FrostSeen, one(creek(empty, restDay(28), cold(told)))},
		{"light frost over three paddocks", ladder.FrostSeen, many(3, empty, cold(light))},
		{"light frost before the cutoff", ladder.FrostSeen, one(creek(cold(early)))},
		{"the freeze counted from", ladder.FreezeSeen, one(creek(empty, restDay(44), cold(freeze)))},
		{"the freeze over eight paddocks", ladder.FreezeSeen, many(8, empty, cold(freeze))},
		{"killing freeze", ladder.KillingFreeze, one(creek(empty, restDay(58), cold(killing)))},
		{"killing freeze with a hold", ladder.KillingFreeze, one(creek(empty, restDay(58), cold(killing), hold(day(11, 11), "johnsongrass")))},
		{"killing freeze with holds of their own days", ladder.KillingFreeze, []flat{creek(empty, restDay(58), cold(killing), hold(day(11, 11), "johnsongrass")), hill(empty, restDay(58), cold(killing), hold(civil.Date{}, "wild cherry"))}},
		{"killing freeze over eight paddocks", ladder.KillingFreeze, many(8, empty, cold(killing))},
		{"killing freeze before the cutoff", ladder.FrostFirst, one(creek(cold(ladder.Frost{Day: day(8, 29), MinC: ptr(-2.8), Place: "Quail Fork", BeforeCutoff: true})))},
		{"34 F tonight, cattle on johnsongrass", ladder.FrostWarning, one(lane(cold(ladder.Frost{Day: day(10, 3), MinC: ptr(1.1)}), hold(civil.Date{}, "johnsongrass")))},
		{"34 F tonight, cattle on alfalfa", ladder.FrostWarning, one(lane(cold(ladder.Frost{Day: day(10, 3), MinC: ptr(1.1)}), func(f *flat) {
			f.Hold = &ladder.Hold{Plants: []string{"alfalfa"}}
		}))},
		{"34 F tonight, two paddocks", ladder.FrostWarning, []flat{
			lane(cold(ladder.Frost{Day: day(10, 3), MinC: ptr(1.1)}), hold(civil.Date{}, "johnsongrass")),
			hill(cold(ladder.Frost{Day: day(10, 3), MinC: ptr(1.1)}), hold(civil.Date{}, "indiangrass"))}},
		{"cattle on johnsongrass before the first frost", ladder.HazardAhead, one(lane(cold(ladder.Frost{Day: day(9, 25)}), hold(civil.Date{}, "johnsongrass")))},
		{"cattle in two paddocks before the first frost", ladder.HazardAhead, []flat{
			lane(cold(ladder.Frost{Day: day(9, 25)}), hold(civil.Date{}, "johnsongrass")),
			hill(cold(ladder.Frost{Day: day(9, 25)}), hold(civil.Date{}, "sorghum"))}},
		{"hold begins, empty", ladder.HoldBegins, one(lane(empty, hold(day(11, 10), "johnsongrass")))},
		{"a hold, cattle in", ladder.HoldAnimals, one(lane(hold(day(11, 10), "johnsongrass", "wild cherry")))},
		{"a hold, cattle in three", ladder.HoldAnimals, []flat{lane(hold(day(11, 10), "johnsongrass")), hill(hold(day(11, 10), "johnsongrass")), creek(hold(civil.Date{}, "johnsongrass"))}},
		{"a hold, nobody knows whether stock is in", ladder.HoldUnsure, one(lane(unsure, hold(day(11, 10), "johnsongrass")))},
		{"frost not known, cattle in", ladder.WaitAnimals, one(lane(notKnown))},
		{"frost not known, two paddocks", ladder.WaitAnimals, []flat{lane(notKnown), hill(notKnown)}},
		{"two reasons to wait, cattle in", ladder.WaitAnimals, []flat{lane(notKnown), hill(func(f *flat) {
			f.Wait = &ladder.Wait{Why: shut.Drought, Plants: []string{"sorghum"}, Since: day(8, 3)}
		})}},
		{"sorghum that nobody read lately, cattle in", ladder.WaitAnimals, one(lane(height(30.5, 10, day(6, 22)), shortKin))},
		{"sorghum that was read short, cattle in", ladder.WaitAnimals, one(lane(height(20, 10, day(7, 10)), shortKin))},
		{"has it frozen", ladder.FrostAsk, one(farmWide(func(f *flat) { f.Shuts = []ladder.Shut{shutOf(lane(empty, notKnown))} }))},
		{"has it frozen, cattle in", ladder.FrostAsk, one(farmWide(func(f *flat) {
			f.Shuts = []ladder.Shut{shutOf(lane(empty, notKnown)), shutOf(hill(notKnown, func(f *flat) { f.Grazed = true }))}
		}))},
		{"has it frozen, asked of twenty-three", ladder.FrostAsk, one(farmWide(func(f *flat) {
			for i := range 23 {
				f.Shuts = append(f.Shuts, shutOf(lane(empty, notKnown, func(f *flat) { f.Name = fmt.Sprintf("Long Paddock Name %02d", i+1) })))
			}
		}))},
		{"are the tops brown", ladder.FrostAsk, one(farmWide(func(f *flat) {
			f.Shuts = []ladder.Shut{shutOf(lane(empty, notKnown)), {Place: creek().place(), Wants: "brown"}}
		}))},
		{"a killing freeze that came too soon", ladder.FrostAsk, one(farmWide(cold(killing), func(f *flat) {
			f.Shuts = []ladder.Shut{{Place: creek().place(), Wants: "brown"}}
		}))},
		{"a killing freeze that came too soon, two paddocks rest", ladder.FrostAsk, one(farmWide(cold(killing), func(f *flat) {
			f.Shuts = []ladder.Shut{{Place: creek().place(), Wants: "brown"}, {Place: hill().place(), Wants: "brown"}}
		}))},
		{"hold begins, a short stand", ladder.HoldBegins, one(creek(empty, func(f *flat) {
			f.Hold = &ladder.Hold{Plants: []string{"indiangrass"}, Until: day(11, 10), Short: true}
		}))},
		{"hold begins, no killing freeze yet", ladder.HoldBegins, one(lane(empty, hold(civil.Date{}, "sorghum")))},
		{"a hold of cherry, cattle in", ladder.HoldAnimals, one(lane(hold(civil.Date{}, "wild cherry"), func(f *flat) { f.Hold.ByEye = true }))},
		{"hold begins, two paddocks", ladder.HoldBegins, []flat{lane(empty, hold(day(11, 10), "johnsongrass")), hill(empty, hold(day(11, 10), "indiangrass"))}},
		{"hold begins, plants that poison and some that bloat", ladder.HoldBegins, []flat{lane(empty, hold(day(11, 10), "sorghum-sudangrass")), hill(empty, hold(day(11, 10), "johnsongrass", "alfalfa")), creek(empty, hold(day(11, 10), "indiangrass"))}},
		{"hold begins, two with their own days", ladder.HoldBegins, []flat{lane(empty, hold(day(11, 10), "johnsongrass")), hill(empty, hold(day(11, 4), "clover"))}},
		{"hold over", ladder.HoldOver, one(lane(empty, hold(day(11, 10), "johnsongrass")))},
		{"a hold is over, and nobody knows if it froze", ladder.StillShut, []flat{lane(empty, notKnown), hill(empty, notKnown)}},
		{"a hold is over, and an emergency that nobody cleared", ladder.StillShut, one(lane(empty, func(f *flat) {
			f.Wait = &ladder.Wait{Why: shut.Emergency, Since: day(7, 5)}
		}))},
		{"hold over in mid-rest", ladder.HoldOver, one(creek(empty, inRest))},
		{"hold over, cattle in", ladder.HoldOver, one(lane())},
		{"hold over in rest, cattle in", ladder.HoldOver, one(creek(inRest))},
		{"hold over, cattle in after a failed rest", ladder.HoldOver, one(creek(failed))},
		{"hold over after a failed rest and beside one", ladder.HoldOver, []flat{creek(empty, failed), hill(empty)}},
		{"killing freeze after a failed rest, cattle in", ladder.KillingFreeze, one(creek(cold(killing), failed))},
		{"rest over on three, of which two came to too little", ladder.RestOver, []flat{creek(empty), hill(empty, failed), lane(empty, failed)}},
		{"killing freeze, one held and one that failed with cattle in", ladder.KillingFreeze, []flat{creek(empty, cold(killing), hold(day(11, 11), "johnsongrass")), hill(cold(killing), failed)}},
		{"hold over on two", ladder.HoldOver, []flat{lane(empty), hill(empty)}},
		{"rest over by brown tops", ladder.RestOver, one(creek(empty, restDay(60)))},
		{"rest over, no freeze all year", ladder.RestOver, one(creek(empty, func(f *flat) { f.Result = &ladder.Result{Year: 2026, NoFrost: true} }))},
		{"rest over on eight", ladder.RestOver, many(8, empty)},
	}
}

// notKnown is a frost that nobody knows of, on ground with johnsongrass.
func notKnown(f *flat) {
	f.Wait = &ladder.Wait{Why: shut.NotKnown, Plants: []string{"johnsongrass"}, Since: day(10, 3)}
}

// shortKin is ground of sorghum kin without a height that lets stock in.
func shortKin(f *flat) {
	f.Wait = &ladder.Wait{Why: shut.Low, Plants: []string{"sorghum-sudangrass"}, Since: day(7, 10), Height: 24}
}

func failed(f *flat) { f.Failed = true }

func inRest(f *flat) { f.Resting = true }

func unsure(f *flat) { f.Grazed, f.Unknown = false, true }

// shutOf is a paddock's line in a list.
func shutOf(f flat) ladder.Shut {
	s := ladder.Shut{Place: f.place()}
	s.Wait, s.Grazed = f.Wait, f.Grazed
	return s
}

// twoHerds is the plan of two herds, of which one stays where it is when the other joins.
func twoHerds(f *flat) {
	stop := func(id, name string, out civil.Date, herds ...string) ladder.Stop {
		return ladder.Stop{Paddock: id, Name: name, Herds: herds, In: day(8, 27), Out: out}
	}
	f.Pass = []ladder.Stop{stop("creek", "Creek Bottom", day(8, 29), "cows"), stop("hill", "Hill", day(8, 29), "steers"),
		stop("hill", "Hill", day(9, 1), "cows", "steers"), stop("mill", "Mill", day(9, 9), "cows")}
}

func farmWide(changes ...func(*flat)) flat {
	f := flat{Farm: "Quail Fork", Day: day(10, 3)}
	for _, change := range changes {
		change(&f)
	}
	return f
}
