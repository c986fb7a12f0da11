package record

import (
	"math"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
)

// farm is invented: frost Oct 16, 45 days, cutoff Sep 1, leave 8 in.
const farm = `
farm: {name: Quail Fork, timezone: America/Chicago}
frost: {date: 10-16}
paddocks:
  - {id: creek, name: Creek Bottom, area: 20 acres, grass: eastern gamagrass}
  - {id: lane, name: Lane, area: 30 acres, grass: tall fescue}
herds:
  - {id: hundred, head: 100, kind: "cow, dry", weight: 1070 lb}
  - {id: thirty, head: 30, kind: "cow, dry", weight: 1200 lb}
  - {id: pairs, head: 10, kind: cow with calf, weight: 1300 lb, calving: march, paddock: lane}
contacts: [{name: Ana, role: manager, phone: "+15555550142"}]
`

func day(text string) civil.Date {
	d, err := civil.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// A told is one line of a diary kept by hand.
type told struct {
	day     string
	kind    diary.Kind
	paddock string
	herd    string
	heights []float64
	voids   int64
}

// kept is the record of a year, of a diary kept by hand.
func kept(t *testing.T, year int, today string, lines ...told) []Page {
	t.Helper()
	f, err := config.LoadText("farm.yaml", []byte(farm))
	if err != nil {
		t.Fatal(err)
	}
	book := diary.NewBook()
	for i, l := range lines {
		at := day(l.day)
		book.Add(diary.Fact{ID: int64(i + 1), At: time.Date(at.Year, at.Month, at.Day, 18, i, 0, 0, time.UTC), Day: at, Kind: l.kind,
			Paddock: l.paddock, Herd: l.herd, Heights: l.heights, Voids: l.voids, By: "Ana"})
	}
	return Year(season.Sight{Farm: &f.Farm, Book: book, Today: day(today), Cache: &season.Cache{}}, year)
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.005*max(1, math.Abs(want)/1000) {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

// Source: a public grazing-use sheet (template, publisher not shown): 100 head of
// 1.07 animal units each, in 5/15/08 and out 10/30/08, are 168 days and 599.2
// animal-unit months of 30 days.
func TestAHundredHeadFromMidMayToTheEndOfOctober(t *testing.T) {
	p := kept(t, 2008, "2009-02-01", told{day: "2008-05-15", kind: diary.On, paddock: "creek", herd: "hundred"},
		told{day: "2008-10-30", kind: diary.Off, paddock: "creek"})[0]
	s := p.Stays[0]
	if s.Days != 168 || s.Head != 100 || !s.Counted {
		t.Errorf("got %+v", s)
	}
	near(t, "animal-unit months", s.UnitDays/30, 599.2)
	near(t, "animal-unit days an acre", p.PerAcre(p.UnitDays), 100*1.07*168/20)
}

// Source: a public question page: 30 cows of 1,200 lb for 6 months are 1.2 x 30 x
// 6 = 216 animal-unit months.
func TestThirtyCowsForSixMonths(t *testing.T) {
	p := kept(t, 2026, "2027-02-01", told{day: "2026-05-01", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-10-28", kind: diary.Off, paddock: "creek", herd: "thirty"})[0]
	near(t, "animal-unit months", p.UnitDays/30, 216)
}

// By hand: calves born on Mar 15 count 0.3 from Jul 16 on.
func TestACalfCountsFromTheDayItIsFourMonthsOld(t *testing.T) {
	p := kept(t, 2026, "2026-09-01", told{day: "2026-07-10", kind: diary.On, paddock: "creek", herd: "pairs"},
		told{day: "2026-07-20", kind: diary.Off, paddock: "creek"})[0]
	near(t, "animal-unit days", p.UnitDays, 10*(1.3*10+0.3*4))
}

func TestWhatNobodySaidIsAGapAndNotANumber(t *testing.T) {
	pages := kept(t, 2026, "2026-12-01",
		told{day: "2026-05-01", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-06-01", kind: diary.On, paddock: "creek", herd: ""}, // three herds: nobody knows which
		told{day: "2026-06-10", kind: diary.Off, paddock: "lane", herd: "pairs"})
	creek, lane := pages[0], pages[1]
	if len(creek.Stays) != 2 || creek.Stays[0].Counted || creek.Stays[1].Head != 0 || !creek.Gaps || creek.UnitDays != 0 {
		t.Errorf("no day out, no herd: %+v", creek)
	}
	if s := lane.Stays[0]; !s.On.IsZero() || s.Off != day("2026-06-10") || s.Counted || len(s.Said) != 1 {
		t.Errorf("it stood there when the farm file was written: %+v", s)
	}
	if creek.LeaveKept() != Unknown || creek.RestKept() != Unknown || creek.FloorKept(creek.Stays[0]) != Unknown {
		t.Error("what nobody read was kept, or was not")
	}
}

func TestAHerdThatStoodThereByTheFarmFileIsInFromTheDaySomebodySaysSo(t *testing.T) {
	lane := kept(t, 2026, "2026-12-01", told{day: "2026-05-10", kind: diary.On, paddock: "lane", herd: "pairs"},
		told{day: "2026-05-20", kind: diary.Off, paddock: "lane", herd: "pairs"})[1]
	if s := lane.Stays[0]; s.On != day("2026-05-10") || s.Days != 10 || len(s.Said) != 2 {
		t.Errorf("got %+v", s)
	}
}

func TestAHerdToldOfElsewhereIsCountedUpToThatDay(t *testing.T) {
	p := kept(t, 2026, "2026-12-01", told{day: "2026-05-01", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-05-11", kind: diary.On, paddock: "lane", herd: "thirty"})[0]
	if s := p.Stays[0]; !s.Off.IsZero() || s.Elsewhere != day("2026-05-11") || s.Days != 10 {
		t.Errorf("got %+v", s)
	}
}

func TestWhatWasTakenBackIsLeftOut(t *testing.T) {
	p := kept(t, 2026, "2026-12-01", told{day: "2026-05-01", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-05-02", kind: diary.Void, voids: 1})[0]
	if len(p.Stays) != 0 {
		t.Errorf("got %+v", p.Stays)
	}
}

func TestAStayOverTheTurnIsCountedInBothYearsOnce(t *testing.T) {
	lines := []told{{day: "2026-03-22", kind: diary.On, paddock: "creek", herd: "thirty"}, {day: "2026-04-11", kind: diary.Off, paddock: "creek"}}
	before, after := kept(t, 2025, "2026-12-01", lines...)[0], kept(t, 2026, "2026-12-01", lines...)[0]
	if before.Stays[0].Days != 10 || after.Stays[0].Days != 10 {
		t.Errorf("got %d and %d days", before.Stays[0].Days, after.Stays[0].Days)
	}
	if none := kept(t, 2024, "2026-12-01", lines...)[0]; len(none.Stays) != 0 {
		t.Errorf("the year before: %+v", none.Stays)
	}
}

// By hand: off Aug 30 at 8.5 in, killed by a freeze on Oct 27 (58 days) at 19 in.
func TestTheRestAndTheHeightsThatItBeganAndEndedWith(t *testing.T) {
	p := kept(t, 2026, "2026-12-01",
		told{day: "2026-08-18", kind: diary.Reading, paddock: "creek", heights: []float64{16, 16}},
		told{day: "2026-08-20", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-08-30", kind: diary.Off, paddock: "creek"},
		told{day: "2026-08-31", kind: diary.Reading, paddock: "creek", heights: []float64{8, 9}},
		told{day: "2026-10-27", kind: diary.Brown, paddock: "creek"},
		told{day: "2026-10-30", kind: diary.Reading, paddock: "creek", heights: []float64{19}})[0]
	if p.RestDays != 58 || p.RestBegan != 8.5 || p.AtFrost != 19 {
		t.Errorf("got %d days, %g to %g in", p.RestDays, p.RestBegan, p.AtFrost)
	}
	if s := p.Stays[0]; s.HeightIn != 16 || s.HeightOut != 8.5 || p.FloorKept(s) != Yes {
		t.Errorf("got %+v", s)
	}
	if p.LeaveKept() != Yes || p.RestKept() != Yes {
		t.Errorf("leave %q, rest %q", p.LeaveKept(), p.RestKept())
	}
}

func TestUnderTheLeaveAndUnderTheFloorAreTwoThings(t *testing.T) {
	p := kept(t, 2026, "2026-09-20", told{day: "2026-08-20", kind: diary.On, paddock: "creek", herd: "thirty"},
		told{day: "2026-08-30", kind: diary.Off, paddock: "creek"},
		told{day: "2026-08-30", kind: diary.Reading, paddock: "creek", heights: []float64{7}})[0]
	if p.LeaveKept() != No || p.FloorKept(p.Stays[0]) != Yes {
		t.Errorf("7 in of gamagrass: leave %q, floor %q", p.LeaveKept(), p.FloorKept(p.Stays[0]))
	}
}

func TestAYearThatHasNotBegunIsEmpty(t *testing.T) {
	if p := kept(t, 2027, "2026-09-20", told{day: "2026-08-20", kind: diary.On, paddock: "creek", herd: "thirty"})[0]; len(p.Stays) != 0 {
		t.Errorf("got %+v", p.Stays)
	}
}
