package season

import (
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

// The newest wish of a sort stands until the farm file says it; the farm file is the only
// place where a rule is.
func TestAWishStandsUntilTheFarmFileSaysIt(t *testing.T) {
	p := newPlay(t)
	wish := func(on string, f diary.Fact) {
		f.Day, f.Kind, f.Paddock = day(on), diary.Wish, "creek"
		p.write(f)
	}
	lines := func(paddock string) (all []string) {
		for _, w := range Wishes(p.paddock(paddock), p.book) {
			all = append(all, w.Line(false)+" "+w.Told.String())
		}
		return all
	}
	before := p.view("2026-08-20", "creek")
	wish("2026-08-04", diary.Fact{Heights: []float64{9}})
	wish("2026-08-05", diary.Fact{Heights: []float64{10}})
	wish("2026-08-06", diary.Fact{Wait: 60 * 24 * time.Hour})
	if got := lines("creek"); len(got) != 2 || got[0] != "rest: {leave: 10in} 2026-08-05" || got[1] != "rest: {days: 60 days} 2026-08-06" {
		t.Errorf("wished %v", got)
	}
	if len(lines("hill")) > 0 || len(lines("lane")) > 0 {
		t.Errorf("wished of other ground: %v %v", lines("hill"), lines("lane"))
	}
	if after := p.view("2026-08-20", "creek"); after.Dates != before.Dates || after.Paddock.Rule != before.Paddock.Rule {
		t.Error("a wish changed a rule")
	}
	if got := Wishes(p.paddock("creek"), p.book)[0].Line(true); got != "rest: {leave: 25cm}" {
		t.Errorf("in centimetres: %s", got)
	}
	p.paddock("creek").Rule.Leave, p.paddock("creek").Rule.RestDays = 10, 60
	if got := lines("creek"); len(got) > 0 {
		t.Errorf("the farm file says it, and it is still wished: %v", got)
	}
}
