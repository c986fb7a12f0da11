package season

import (
	"math"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/herd"
)

// A play is an invented farm whose diary is written as the test goes. Unless
// the test gives it a station its frost is by hand, Oct 16 and no other day, so
// that 45 days put the cutoff on Sep 1 (common practice).
type play struct {
	t     testing.TB
	farm  Farm
	book  *diary.Book
	cache *Cache
	air   *frost.Record
	last  int64
}

var tallRule = Rule{
	RestDays: 45, Leave: 8, AtFrost: 18, Min: 6, Begin: 14, Confidence: 0.8,
	EndsAt: frost.KillingFreeze28F, Spring: MonthDay{4, 1},
}

func species(t testing.TB, name string) grass.Species {
	t.Helper()
	sp, ok := grass.Grasses.Find(name)
	if !ok {
		t.Fatalf("no species %q", name)
	}
	return sp
}

func hazard(t testing.TB, name string) grass.Hazard {
	t.Helper()
	h, ok := grass.Hazards.Find(name)
	if !ok {
		t.Fatalf("no hazard %q", name)
	}
	return h
}

// cows are 38 cows of 1,300 lb without calves: 38 x 1.3 x 26 = 1,284.4 lb a day.
func cows(id, paddock string) herd.Herd {
	dry, _ := herd.Kinds.Find("dry cow")
	return herd.Herd{ID: id, Head: 38, Kind: dry, WeightLb: 1300, Paddock: paddock}
}

func newPlay(t testing.TB) *play {
	egg, fescue := species(t, "eastern gamagrass"), species(t, "tall fescue")
	return &play{
		t: t, book: diary.NewBook(), cache: &Cache{},
		farm: Farm{
			Name: "Quail Fork", Rule: tallRule,
			Plan: Plan{Threshold: frost.Freeze32F, Hand: &Hand{Date: MonthDay{10, 16}}},
			Paddocks: []Paddock{
				{ID: "creek", Name: "Creek", Acres: 20, Grass: egg, Rule: tallRule},
				{ID: "hill", Name: "Hill", Acres: 10, Grass: egg, Rule: tallRule},
				{ID: "lane", Name: "Lane", Acres: 30, Grass: fescue, Rule: Rule{Spring: tallRule.Spring}, Hazards: []grass.Hazard{hazard(t, "johnsongrass")}},
			},
			Herds: []herd.Herd{cows("cows", "the yard")}, // no paddock of the plan
		},
	}
}

func (p *play) paddock(id string) *Paddock {
	p.t.Helper()
	pad, ok := p.farm.Paddock(id)
	if !ok {
		p.t.Fatalf("no paddock %q", id)
	}
	return pad
}

// write adds a fact, said at eight in the morning of its day unless it has an
// instant of its own.
func (p *play) write(f diary.Fact) int64 {
	p.last++
	f.ID = p.last
	if f.At.IsZero() {
		f.At = f.Day.In(time.UTC).Add(8*time.Hour + time.Duration(f.ID)*time.Second)
	}
	if f.By == "" {
		f.By = "Ana"
	}
	p.book.Add(f)
	return f.ID
}

func (p *play) tells(on string, kind diary.Kind, paddock string) int64 {
	return p.write(diary.Fact{Day: day(on), Kind: kind, Paddock: paddock})
}

func (p *play) reads(on, paddock string, heights ...float64) int64 {
	return p.write(diary.Fact{Day: day(on), Kind: diary.Reading, Paddock: paddock, Heights: heights})
}

func (p *play) moves(on string, kind diary.Kind, paddock, herd string) int64 {
	return p.write(diary.Fact{Day: day(on), Kind: kind, Paddock: paddock, Herd: herd})
}

// freeze is a measured minimum in degrees F, known when its day is over.
func (p *play) freeze(on string, f float64) int64 {
	c := (f - 32) / 1.8
	return p.write(diary.Fact{
		Day: day(on), Kind: diary.Frost, TempC: &c, By: "station", Source: diary.FromRecord,
		At: day(on).AddDays(1).In(time.UTC),
	})
}

func (p *play) takesBack(id int64) { p.write(diary.Fact{Kind: diary.Void, Voids: id}) }

func (p *play) sight(today string) Sight {
	return Sight{Farm: &p.farm, Book: p.book, Today: day(today), Cache: p.cache, Air: p.air}
}

func (p *play) look(today string) *look { return p.sight(today).look() }

func (p *play) view(today, paddock string) View {
	p.t.Helper()
	for _, v := range Look(p.sight(today)) {
		if v.Paddock.ID == paddock {
			return v
		}
	}
	p.t.Fatalf("no paddock %q", paddock)
	return View{}
}

// plants is a reading of so many plants with this mean, half an inch either way.
func plants(n int, mean float64) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = mean
	}
	for i := 0; i+1 < n; i += 2 {
		all[i], all[i+1] = mean-0.5, mean+0.5
	}
	return all
}

// A fall is one invented fall of a record: warm days of 21.4 degree-days each
// (15 and 25 C are 59 and 77 F, mean 68, less 46.6) until the day of the first
// frost, and cold ones of none after it.
type fall struct {
	year  int
	frost string // MM-DD; empty for none
}

// record makes a station of invented falls, May 1 to Dec 31, with rain on every
// day.
func record(falls ...fall) *frost.Record {
	var days []frost.Day
	for _, f := range falls {
		first := civil.Date{Year: f.year + 1, Month: time.January, Day: 1}
		if f.frost != "" {
			first = day(civil.Date{Year: f.year}.String()[:4] + "-" + f.frost)
		}
		for d := (civil.Date{Year: f.year, Month: time.May, Day: 1}); d.Year == f.year; d = d.AddDays(1) {
			one := frost.Day{Date: d, Min: frost.FromC(15), Max: frost.FromC(25), Rain: 2000}
			if !d.Before(first) {
				one.Min, one.Max = frost.FromC(-1), frost.FromC(15)
			}
			days = append(days, one)
		}
	}
	return (&frost.Record{}).With(days...)
}

// onStation gives the farm a station.
func (p *play) onStation(falls ...fall) {
	p.farm.Plan = Plan{Threshold: frost.Freeze32F, Record: record(falls...), Place: "Quail Fork"}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > within {
		t.Errorf("%s: got %.4f, want %.4f within %g", what, got, want, within)
	}
}
