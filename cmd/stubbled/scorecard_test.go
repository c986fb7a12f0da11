package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/scheduler/spring"
)

// scoredFarm is an invented farm of four native paddocks of three grasses.
const scoredFarm = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, name: Creek Bottom, area: 22 acres, grass: eastern gamagrass}
  - {id: north40, name: North 40, area: 40 acres, grass: big bluestem}
  - {id: hill, name: Hill, area: 28 acres, grass: big bluestem}
  - {id: east, name: East Bluestem, area: 28 acres, grass: mixed natives}
  - {id: lane, name: Lane, area: 30 acres, grass: tall fescue}
herds:
  - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march, paddock: lane}
contacts:
  - {name: Ana, role: manager, phone: "+15555550142", email: ana@example.org, quiet: "21:00-06:00"}
`

// An event is one thing that the people of a farm say.
type event struct {
	day     civil.Date
	kind    diary.Kind
	paddock string
	heights []float64
}

// A truth is what a farm's years are made with: which paddock lost its rest in which falls,
// and how many days later that makes the spring after.
type truth struct {
	broken string
	falls  []int
	later  float64
}

// yearsOf makes what is said of a farm in three years from the summer of 2026 on. Springs
// of a farm differ by a week, paddocks by three days in all years alike, one spring of a
// paddock by two more, and a mean height is read to three quarters of an inch (assumptions).
func yearsOf(r *rand.Rand, farm *config.Farm, t truth) (all []event) {
	own := map[string]float64{}
	for y := 2026; y <= 2028; y++ {
		at := func(year, month, day int) civil.Date {
			return civil.Date{Year: year, Month: time.Month(month), Day: day}
		}
		farmwide := 7 * r.NormFloat64()
		for i := range farm.Paddocks {
			p := &farm.Paddocks[i]
			if !p.Native() {
				continue
			}
			if _, known := own[p.ID]; !known {
				own[p.ID] = 3 * r.NormFloat64()
			}
			lost := p.ID == t.broken && slices.Contains(t.falls, y)
			end := 18 + 1.5*r.NormFloat64()
			if lost {
				all = append(all, event{at(y, 9, 20), diary.On, p.ID, nil}, event{at(y, 10, 14), diary.Off, p.ID, nil})
				end = 9 + r.NormFloat64()
			}
			all = append(all, event{at(y, 8, 30), diary.Reading, p.ID, plants(r, 9)}, event{at(y, 11, 3), diary.Reading, p.ID, plants(r, end)})
			begins := p.Grass.Starts.Value + 17 + farmwide + own[p.ID] + 2*r.NormFloat64()
			if lost {
				begins += t.later
			}
			jan := civil.Date{Year: y + 1, Month: 1, Day: 1}
			for d := at(y+1, 4, 14); d.Before(at(y+1, 7, 1)); d = d.AddDays(7) {
				height := p.Rule.Begin + 0.4*(float64(d.DaysSince(jan))-begins)
				if height < 2 {
					continue
				}
				all = append(all, event{d, diary.Reading, p.ID, plants(r, height+0.75*r.NormFloat64())})
				if height > p.Rule.Begin+2 {
					break // it is turned in by then
				}
			}
		}
		all = append(all, event{at(y, 10, 29), diary.Brown, "", nil})
	}
	slices.SortStableFunc(all, func(a, b event) int { return a.day.DaysSince(b.day) })
	return all
}

// plants are ten heights about a mean, to the half inch.
func plants(r *rand.Rand, mean float64) (all []float64) {
	for range 10 {
		all = append(all, max(1, float64(int(2*(mean+r.NormFloat64())+0.5))/2))
	}
	return all
}

// replies are the years as a replies file.
func replies(years []event) string {
	var b strings.Builder
	for i, x := range years {
		words := map[diary.Kind]string{diary.On: "cows in " + x.paddock, diary.Off: "off " + x.paddock, diary.Brown: "brown", diary.Reading: x.paddock}[x.kind]
		fmt.Fprintf(&b, "%sT%02d:%02d Ana: %s", x.day, 7+i%12, i%60, words)
		for _, h := range x.heights {
			fmt.Fprintf(&b, " %g", h)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// cardOf is a farm's scorecard in June of the last spring, from the facts alone.
func cardOf(farm *config.Farm, years []event) []spring.Score {
	book := diary.NewBook()
	for i, x := range years {
		herd := ""
		if x.kind == diary.On || x.kind == diary.Off {
			herd = "cows"
		}
		book.Add(diary.Fact{ID: int64(i + 1), At: x.day.In(farm.Zone).Add(8 * time.Hour), Day: x.day, Kind: x.kind, Paddock: x.paddock, Herd: herd, Heights: x.heights, By: "Ana", Source: diary.FromText})
	}
	sight := season.Sight{Farm: &farm.Farm, Book: book, Today: civil.Date{Year: 2029, Month: 6, Day: 15}, Cache: &season.Cache{}}
	land := sight.Land()
	return spring.Card(land.Look(), land.Springs)
}

func TestTheScorecardFindsABrokenRestAndCallsNoOther(t *testing.T) {
	farm, err := config.Load(farmtest.File(t, scoredFarm))
	if err != nil {
		t.Fatal(err)
	}
	const farms = 200
	for _, tc := range []struct {
		falls   []int
		later   float64
		atLeast float64 // share of farms in which the broken one is called
		atMost  float64
	}{
		{[]int{2026, 2027, 2028}, 12, 0.8, 1}, // it has no spring of its own to go by
		{[]int{2026, 2028}, 10, 0.8, 1},
		{[]int{2027}, 12, 0.8, 1},
		{[]int{2026, 2028}, 0, 0, 0.05},
		{[]int{2026, 2027, 2028}, 0, 0, 0.05},
	} {
		found, others, days := 0, 0, 0.0
		for seed := range uint64(farms) {
			r := rand.New(rand.NewPCG(seed, 7))
			names := []string{"creek", "north40", "hill", "east"}
			x := truth{broken: names[seed%4], falls: tc.falls, later: tc.later}
			for _, s := range cardOf(farm, yearsOf(r, farm, x)) {
				switch {
				case s.Paddock != x.broken && s.Called:
					others++
				case s.Paddock == x.broken && (s.Days == nil || s.Springs < len(tc.falls)-1):
					t.Fatalf("%v later by %g, farm %d: %+v", tc.falls, tc.later, seed, s)
				case s.Paddock == x.broken:
					days += *s.Days / farms
					if s.Called {
						found++
					}
				}
			}
		}
		share := float64(found) / farms
		t.Logf("%v, %g days later: called in %.0f %% of farms, others in %.1f %%, %.1f days in the mean", tc.falls, tc.later, 100*share, 100*float64(others)/farms, days)
		if share < tc.atLeast || share > tc.atMost || float64(others)/farms >= 0.05 || days < tc.later-2.5 || days > tc.later+2.5 {
			t.Errorf("%v, %g days later: called in %.2f, others in %d, %.1f days", tc.falls, tc.later, share, others, days)
		}
	}
}

func TestThreeYearsPlayedBringAScorecardEachJune(t *testing.T) {
	file := farmtest.File(t, scoredFarm)
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	years := yearsOf(rand.New(rand.NewPCG(3, 7)), farm, truth{broken: "hill", falls: []int{2026, 2028}, later: 12})
	all := rehearsed(t, scoredFarm, "2026-08-25", "2029-07-01", replies(years))
	var ana []report.Message
	for _, m := range all {
		if m.Kind == "scorecard" {
			ana = append(ana, m)
		}
	}
	if len(ana) != 3 {
		t.Fatalf("%d scorecards in three Junes", len(ana))
	}
	last := ana[2]
	if !strings.HasPrefix(last.At, "2029-06-") || last.To != "Ana" || last.Subject == "" {
		t.Errorf("%+v", last)
	}
	for _, s := range last.Card {
		if want := s.Paddock == "hill"; s.Called != want || want && (s.Springs != 2 || s.Later == nil || *s.Later < 5) {
			t.Errorf("%+v", s)
		}
	}
	if !strings.Contains(last.Text, "Hill: after a fall without its rest") || !strings.Contains(last.Text, "2 of 2 springs") || !strings.Contains(last.Text, "no proof") {
		t.Errorf("it is said with its springs: %s", last.Text)
	}
	for _, m := range rehearsed(t, scoredFarm+"tell: {scorecard: false}\n", "2029-06-10", "2029-06-30", "") {
		if m.Kind == "scorecard" {
			t.Error("turned off, and mailed all the same")
		}
	}
}
