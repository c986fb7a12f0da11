package season

import (
	"math"
	"slices"
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

// said is a reading at a time of day.
func (p *play) said(on, clock, by, paddock string, adds bool, heights ...float64) {
	at, err := time.Parse("2006-01-02 15:04", on+" "+clock)
	if err != nil {
		p.t.Fatal(err)
	}
	p.write(diary.Fact{Day: day(on), At: at, Kind: diary.Reading, Paddock: paddock, By: by, Adds: adds, Heights: heights})
}

func TestWhatCountsAsOneReading(t *testing.T) {
	const d = "2026-08-22"
	for _, tc := range []struct {
		name     string
		write    func(*play)
		readings int
		plants   int
		mean     float64
	}{
		{"bare numbers while walking add plants", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "07:20", "Ana", "creek", true, 8, 6)
			p.said(d, "08:50", "Ana", "creek", true, 8)
		}, 1, 4, 9},
		{"two hours after the last one they still do", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "09:00", "Ana", "creek", true, 8)
		}, 1, 2, 11},
		{"later they are a reading of their own", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "09:01", "Ana", "creek", true, 8)
		}, 2, 1, 8},
		{"another person's numbers are another reading", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "07:10", "Luis", "creek", true, 8)
		}, 2, 1, 8},
		{"two people walking at once each add to their own", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "07:05", "Luis", "creek", false, 8)
			p.said(d, "07:10", "Ana", "creek", true, 10)
			p.said(d, "07:15", "Luis", "creek", true, 6)
		}, 2, 2, 7},
		{"a second text with the paddock's name begins anew", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "07:10", "Ana", "creek", false, 8)
		}, 2, 1, 8},
		{"a height that cannot be is nobody's reading", func(p *play) {
			p.said(d, "07:00", "Ana", "creek", false, 14)
			p.said(d, "12:00", "Ana", "creek", false, 400)
			p.said(d, "13:00", "Ana", "creek", false, math.NaN())
		}, 1, 1, 14},
		{"all plants equal have a mean and no spread", func(p *play) { p.said(d, "07:00", "Ana", "creek", false, 9, 9, 9) }, 1, 3, 9},
		{"last winter's reading is none of this season's", func(p *play) { p.said("2026-03-31", "07:00", "Ana", "creek", false, 9) }, 0, 0, 0},
		{"one of the turn itself is", func(p *play) { p.said("2026-04-01", "07:00", "Ana", "creek", false, 9) }, 1, 1, 9},
		{"haying makes what was read before worthless", func(p *play) {
			p.said("2026-08-20", "07:00", "Ana", "creek", false, 20)
			p.tells(d, diary.Hayed, "creek")
		}, 1, 0, 0},
		{"and leaves a height where one was said", func(p *play) {
			p.said("2026-08-20", "07:00", "Ana", "creek", false, 20)
			p.write(diary.Fact{Day: day(d), Kind: diary.Hayed, Paddock: "creek", Heights: []float64{6}})
		}, 1, 1, 6},
		{"plants are never added to what haying left", func(p *play) {
			p.write(diary.Fact{Day: day(d), Kind: diary.Hayed, Paddock: "creek", Heights: []float64{6}, At: day(d).In(time.UTC).Add(7 * time.Hour)})
			p.said(d, "08:00", "Ana", "creek", true, 5)
		}, 1, 1, 5},
		{"so does fire", func(p *play) {
			p.said("2026-08-20", "07:00", "Ana", "creek", false, 20)
			p.tells(d, diary.Burned, "creek")
		}, 1, 0, 0},
		{"hay on another paddock changes nothing", func(p *play) {
			p.said("2026-08-20", "07:00", "Ana", "creek", false, 20)
			p.tells(d, diary.Hayed, "hill")
		}, 1, 1, 20},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			tc.write(p)
			v := p.view("2026-08-22", "creek")
			if v.Readings != tc.readings {
				t.Errorf("%d readings, want %d", v.Readings, tc.readings)
			}
			switch {
			case tc.plants == 0 && v.Reading != nil:
				t.Errorf("the height is %.1f in, and nothing that was read stands any more", v.Reading.Sample.Mean)
			case tc.plants == 0:
				if v.Verdict.Reason != NeverRead {
					t.Errorf("the verdict is %s, want it to ask for a reading", v.Verdict.Reason)
				}
			case v.Reading == nil || v.Reading.Sample.Plants() != tc.plants || v.Reading.Sample.Mean != tc.mean:
				t.Errorf("reading %+v, want %d plants of %.1f in", v.Reading, tc.plants, tc.mean)
			}
		})
	}
}

func TestTheEndOfRestIsReadWithinTwoWeeks(t *testing.T) {
	for _, tc := range []struct {
		name string
		on   string
		want float64
	}{
		{"on the day of the freeze", "2026-11-03", 19},
		{"fourteen days after it", "2026-11-17", 19},
		{"fifteen are too late", "2026-11-18", 0},
		{"the day before is not the end", "2026-11-02", 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := newPlay(t)
			p.freeze("2026-11-03", 27)
			p.reads(tc.on, "creek", 19)
			if v := p.view("2026-12-01", "creek"); v.EndHeight != tc.want {
				t.Errorf("end height %.1f, want %.1f", v.EndHeight, tc.want)
			}
		})
	}
	t.Run("what hay left is not what rest made", func(t *testing.T) {
		p := newPlay(t)
		p.freeze("2026-11-03", 27)
		p.write(diary.Fact{Day: day("2026-11-05"), Kind: diary.Hayed, Paddock: "creek", Heights: []float64{6}})
		p.reads("2026-11-08", "creek", 6)
		if v := p.view("2026-12-01", "creek"); v.EndHeight != 0 {
			t.Errorf("end height %.1f: it was cut three days before", v.EndHeight)
		}
	})
}

// What is read in a season that goes on from the one before is what is read of all of
// it, and two that go on from the same, such as what is and what is only supposed, do
// not write over each other.
func TestReadingsGoOnFromThoseThatWereThere(t *testing.T) {
	heights := func(all ...float64) (facts []*diary.Fact) {
		for i, h := range all {
			at := day("2026-08-01").AddDays(i)
			facts = append(facts, &diary.Fact{ID: int64(i + 1), Day: at, At: at.In(time.UTC), Kind: diary.Reading, Heights: []float64{h}})
		}
		return facts
	}
	means := func(r *readings) (all []float64) {
		for i := range r.visits {
			all = append(all, r.visits[i].mean())
		}
		return all
	}
	first := readFacts(heights(14, 12, 10))
	is, supposed := first.with(heights(14, 12, 10, 9, 8)), first.with(heights(14, 12, 10, 4))
	for _, tc := range []struct {
		got  *readings
		want []float64
	}{{first, []float64{14, 12, 10}}, {is, []float64{14, 12, 10, 9, 8}}, {supposed, []float64{14, 12, 10, 4}}} {
		if got := means(tc.got); !slices.Equal(got, tc.want) {
			t.Errorf("they read %v, want %v", got, tc.want)
		}
	}
	more := heights(14, 12, 10, 9, 8, 6)
	more[5].Adds, more[5].Day, more[5].At = true, more[4].Day, more[4].At.Add(time.Hour)
	if got, want := means(is.with(more)), []float64{14, 12, 10, 9, 7}; !slices.Equal(got, want) {
		t.Errorf("with a plant more of the last: %v, want %v", got, want)
	}
	if got := means(is); got[4] != 8 {
		t.Errorf("what was read before has become %v", got)
	}
}
