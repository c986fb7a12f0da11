package record

import (
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/herd"
	"stubbled/scheduler/season"
)

// A Stay is one herd's time in a paddock.
type Stay struct {
	// On and Off are the days that were told; zero where nobody told one. A herd that
	// stood there when the farm file was written has no day on; one that was only
	// told of elsewhere has no day off.
	On, Off civil.Date
	// Elsewhere is the day that the herd was told of in another paddock, where nobody
	// said off; it is counted up to that day.
	Elsewhere civil.Date
	Herd      string // id; empty where nobody named one
	Head      int    // on the first day of it that the page has; 0 where unknown
	HeadOut   int    // on the last
	// Days are those of the page's year, the day out not counted; 0 where a day on or
	// off is missing, so that nothing can be counted, or in and out were one day.
	Days int
	// UnitDays is animal units summed over those days, head, calves and weaning as
	// they were on each; Counted is false where nothing can be.
	UnitDays float64
	Counted  bool
	// HeightIn and HeightOut are leaf heights in inches; 0 where none was read near
	// enough.
	HeightIn, HeightOut float64
	Said                []Saying // who told in and out, and when
}

// A Saying is who said something, and when it was said.
type Saying struct {
	By string
	At time.Time
}

// Units is the stay's animal units, on the mean of its days.
func (s Stay) Units() float64 { return s.UnitDays / float64(max(1, s.Days)) }

// How far a reading may lie from the day in or out (assumption: as long as a
// height of empty ground counts as fresh; less where animals are in).
const (
	before  = 10 // days before they came
	leaving = 2  // days before they left
	after   = 10 // days after
)

// around is how far from the cutoff a height still tells what rest began from, as
// the lessons take it.
const (
	beforeCutoff = 30
	afterCutoff  = 14
)

type writer struct {
	season.Sight
	page   *Page
	visits []season.Visit
	today  civil.Date
	last   civil.Date // the last day out so far
}

// take writes one period down, where any of it is of the page's year.
func (w *writer) take(p season.Period) {
	w.begin(&p)
	if !w.concerns(p) {
		return
	}
	s := Stay{On: p.From, Herd: p.Herd}
	if p.Told {
		s.Off = p.To
	} else {
		s.Elsewhere = p.To
	}
	if p.On.ID != 0 {
		s.Said = append(s.Said, Saying{p.On.By, p.On.At})
	}
	if f := w.off(p); f != nil {
		s.Said = append(s.Said, Saying{f.By, f.At})
	}
	w.count(&s, p)
	s.HeightIn, s.HeightOut = w.heights(p)
	w.page.Stays = append(w.page.Stays, s)
	w.page.UnitDays += s.UnitDays
	w.page.Gaps = w.page.Gaps || !s.Counted
	w.last = diary.LaterDay(w.last, p.To)
}

// begin gives a stay that the farm file began the day on which somebody told of it
// all the same.
func (w *writer) begin(p *season.Period) {
	if !p.From.IsZero() {
		return
	}
	for _, f := range w.Book.Of(w.page.Paddock.ID) {
		of := f.Herd == p.Herd || f.Herd == "" && len(w.Farm.Herds) == 1
		if f.Kind == diary.On && of && (p.To.IsZero() || f.Day.Before(p.To)) {
			p.From, p.On = f.Day, f
			return
		}
	}
}

// concerns reports whether a period is of the page's year. One whose beginning
// nobody told is of the year of its end; one that goes on is of the years so far.
func (w *writer) concerns(p season.Period) bool {
	end := p.To
	if end.IsZero() {
		end = w.today.AddDays(1)
	}
	if p.From.IsZero() {
		return w.page.holds(end.AddDays(-1))
	}
	return p.From.Before(w.page.To) && (end.After(w.page.From) || p.From == end && w.page.holds(end))
}

// off is the fact that told a period's end; nil where none did.
func (w *writer) off(p season.Period) *diary.Fact {
	for _, f := range w.Book.Of(w.page.Paddock.ID) {
		if p.Told && f.Kind == diary.Off && !f.Day.Before(p.To) && (f.Herd == "" || p.Herd == "" || f.Herd == p.Herd) {
			return f
		}
	}
	return nil
}

// count sums a stay's animal units day by day.
func (w *writer) count(s *Stay, p season.Period) {
	first, end := diary.LaterDay(p.From, w.page.From), diary.EarlierDay(p.To, w.page.To)
	in, known := w.herd(p.Herd, first)
	if !known {
		return
	}
	out, _ := w.herd(p.Herd, diary.LaterDay(first, end.AddDays(-1)))
	s.Head, s.HeadOut = in.Head, out.Head
	if p.From.IsZero() || p.To.IsZero() {
		return
	}
	s.Counted = true
	for day := first; day.Before(end); day = day.AddDays(1) {
		h, _ := w.herd(p.Herd, day)
		s.Days++
		s.UnitDays += h.AnimalUnits(day)
	}
}

func (w *writer) herd(id string, day civil.Date) (herd.Herd, bool) {
	for _, h := range w.Farm.HerdsOn(w.Book, day) {
		if h.ID == id {
			return h, true
		}
	}
	return herd.Herd{}, false
}

func (w *writer) heights(p season.Period) (in, out float64) {
	first := w.nearest(p.From, diary.LaterDay(w.last, p.From.AddDays(-before)), p.From)
	if first != nil {
		in = first.Sample.Mean
	}
	if p.To.IsZero() {
		return in, 0
	}
	left := w.nearest(p.To, diary.LaterDay(p.From, p.To.AddDays(-leaving)), diary.EarlierDay(p.To.AddDays(after), w.next(p)))
	if left != nil && (first == nil || left.Fact > first.Fact) {
		out = left.Sample.Mean
	}
	return in, out
}

// next is the day on which animals come again after a period.
func (w *writer) next(p season.Period) civil.Date {
	for _, f := range w.Book.Of(w.page.Paddock.ID) {
		if f.Kind == diary.On && f.Day.After(p.To) {
			return f.Day
		}
	}
	return w.page.To
}

// atCutoff is the height that a rest began with which has not ended.
func (w *writer) atCutoff() float64 {
	v := w.nearest(w.page.Cutoff, diary.LaterDay(w.last, w.page.Cutoff.AddDays(-beforeCutoff)), w.page.Cutoff.AddDays(afterCutoff))
	if v == nil {
		return 0
	}
	return v.Sample.Mean
}

// nearest is the reading nearest to a day of those between two days, both counted
// in; the later of two as near.
func (w *writer) nearest(day, from, to civil.Date) (best *season.Visit) {
	if day.IsZero() {
		return nil
	}
	far := func(v *season.Visit) int { return max(v.Day.DaysSince(day), day.DaysSince(v.Day)) }
	for i := range w.visits {
		if v := &w.visits[i]; !v.Day.Before(from) && !v.Day.After(to) && (best == nil || far(v) <= far(best)) {
			best = v
		}
	}
	return best
}
