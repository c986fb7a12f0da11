package report

import (
	"strings"
	"testing"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

func page(t *testing.T, name string, about any) string {
	t.Helper()
	farm := &season.Farm{Name: "Quail Fork", Paddocks: []season.Paddock{{ID: "creek", Name: "Creek Bottom"}, {ID: "hill", Name: "Hill"}}}
	var b strings.Builder
	if err := printPage(&b, name, farm, about); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func at[T any](v T) *T { return &v }

func TestWhatToDoIsSaidForEveryLesson(t *testing.T) {
	const low, high = 0.45, 0.85
	for want, l := range map[string]season.Lesson{
		"1 season(s) that teach; a rule is judged from two on. Read it at cutoff and within two weeks after rest ends.": {Taught: 1},
		"Met easily three falls running: it could rest later or be left shorter.":                                       {Easy: true},
		"Keep the rule: 85 % chance of the height, from 3 seasons.":                                                     {Chance: at(high), Taught: 3},
		"Keep the rule: 85 % chance. Met easily three falls running: it could rest later or be left shorter.":           {Chance: at(high), Easy: true},
		"No sensible rest reaches it: 45 % chance now, from 3 seasons. Ask why it does not grow, or want less of it.":   {Chance: at(low), Taught: 3, NoCure: true},
		"Change the rule: 45 % chance now, from 3 seasons. Leave 11.5 in (85 %), or rest 56 days (80 %).": {
			Chance: at(low), Taught: 3, LeaveIn: at(11.5), LeaveChance: high, RestDays: at(56), RestChance: 0.8},
		"Change the rule: 45 % chance now, from 3 seasons. No height to leave does it alone, or rest 56 days (80 %; 11 days more cost up to 20300 lb of hay).": {
			Chance: at(low), Taught: 3, RestDays: at(56), RestChance: 0.8, RestMore: 11, RestHayLb: 20300},
		"Change the rule: 45 % chance now, from 3 seasons. No height to leave does it alone; no longer rest does it alone.": {Chance: at(low), Taught: 3},
	} {
		l.Paddock, l.Confidence = "creek", 0.8
		about := struct {
			Farm    *season.Farm
			Lessons []season.Lesson
			Uses    []herd.Offer
		}{&season.Farm{Name: "Quail Fork"}, []season.Lesson{l}, nil}
		if got := page(t, "lessons.txt", about); !strings.HasSuffix(got, "\n\nCreek Bottom: leave 0 in, rest 0 days, want 0 in at frost\n  "+want+"\n") {
			t.Errorf("printed %q\nwant %q", got, want)
		}
	}
}

func TestTheFeedPageTellsAHerdThatIsFedFromOneThatIsShort(t *testing.T) {
	day := func(n int) civil.Date { return civil.Date{Year: 2026, Month: 9, Day: n} }
	plan := season.FeedPlan{From: day(1), To: day(30), Winter: season.Winter{GreenUp: day(30), RunsOut: day(9)}, Guessed: []string{"Hill"}, Settle: "Hill", Feed: herd.Feed{
		Short: 50, ShortDays: 5, StockpileDays: 20,
		Herds: []herd.HerdFeed{
			{ID: "cows", Supply: 100, Demand: 100, Days: []herd.Day{
				{Date: day(1), Bites: []herd.Bite{{Ground: "creek"}}}, {Date: day(2), Bites: []herd.Bite{{Ground: "creek"}}}, {Date: day(3), Bites: []herd.Bite{{Ground: "hill"}}}}},
			{ID: "steers", Supply: 40, Demand: 90, ShortDays: 5, FirstShort: day(4)},
		},
		Closes: []herd.Close{
			{Way: herd.FeedHay, HayAsFed: 60, HayDays: 5, On: day(4)}, {Way: herd.WeanNow, Herd: "cows", On: day(3), ShortDays: 2},
			{Way: herd.FewerHead, Herd: "steers", Head: 3, On: day(2)}, {Way: herd.UseNative, Paddock: "hill"}},
	}}
	plan.Poor, plan.Good = plan.Feed, plan.Feed
	plan.Poor.Short, plan.Poor.ShortDays = 100, 12
	about := struct {
		season.Sight
		season.FeedPlan
	}{season.Sight{Farm: &season.Farm{Name: "Quail Fork"}, Today: day(1)}, plan}
	want := `Quail Fork, where the herds eat from Sep 1 to about Sep 30, 2026, as of Sep 1, 2026

cows: fed every day. Eats 100 lb
  Sep 1 to Sep 2  Creek Bottom
  Sep 3 to Sep 3  Hill

steers: SHORT on 5 days from Sep 4. Wants 90 lb, finds 40 lb

In all 5 to 12 days short. The fall eats 20 days of winter grass. What is left then lasts to about Sep 9; grass greens up about Sep 30.
  To close it: 72 to 144 lb of hay as fed, on hand by Sep 4
  To close it: wean cows by Sep 3; 2 days are still short
  To close it: 3 head of steers fewer by Sep 2
  To close it: graze Hill through its rest on purpose, and write it under fall_use

Not read within the last month, taken at the height to begin grazing: Hill. A height of Hill would settle most of it. Nobody is advised to sell before.
A rough plan: pounds per inch differ several-fold between stands. Your extension office knows local figures.
`
	if got := page(t, "feed.txt", about); got != want {
		t.Errorf("printed\n%s\nwant\n%s", got, want)
	}
}
