package season

import (
	"fmt"
	"testing"
	"time"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/grass"
)

// longRecord is 150 invented falls, their first frosts spread over October.
func longRecord() []fall {
	falls := make([]fall, 150)
	for i := range falls {
		falls[i] = fall{1876 + i, day("2026-10-01").AddDays(i * 7 % 31).String()[5:]}
	}
	return falls
}

// bigFarm is a farm of so many native paddocks, a tenth of them with weeds that
// turn on stock, each with three finished falls in the diary and a reading of
// this season.
func bigFarm(tb testing.TB, paddocks int) *play {
	p := newPlay(tb)
	p.onStation(longRecord()...)
	p.air = p.farm.Plan.Record
	creek := *p.paddock("creek")
	p.farm.Paddocks = p.farm.Paddocks[:0]
	for i := range paddocks {
		one := creek
		one.ID = fmt.Sprintf("p%d", i)
		one.FrostOffset = -(i % 5)
		if i%10 == 0 {
			one.Hazards = append(one.Hazards, hazard(tb, "johnsongrass"))
		}
		p.farm.Paddocks = append(p.farm.Paddocks, one)
	}
	for year := 2023; year < 2026; year++ {
		for i := range paddocks {
			id, off := p.farm.Paddocks[i].ID, day(fmt.Sprintf("%d-09-01", year)).AddDays(-(i % 5))
			p.moves(off.AddDays(-3).String(), diary.On, id, "")
			p.moves(off.String(), diary.Off, id, "")
			p.reads(off.String(), id, plants(10, 8)...)
		}
		for d := day(fmt.Sprintf("%d-10-01", year)); d.Month == time.October; d = d.AddDays(3) {
			p.freeze(d.String(), 31)
		}
		p.freeze(fmt.Sprintf("%d-11-03", year), 27)
		for i := range paddocks {
			p.reads(fmt.Sprintf("%d-11-05", year), p.farm.Paddocks[i].ID, plants(10, 17)...)
		}
	}
	for i := range paddocks {
		p.reads("2026-08-20", p.farm.Paddocks[i].ID, plants(10, 14)...)
	}
	return p
}

// BenchmarkVerdict is one paddock's verdict with its chance over 150 frost dates,
// its forecast summed anew, against the same with nothing kept from before: the
// almanac and what the paddock's seasons teach worked out too. x-of-sum is how
// much longer it takes than the sum over the frost dates alone.
func BenchmarkVerdict(b *testing.B) {
	p := bigFarm(b, 1)
	const runs = 20
	began := time.Now()
	for range runs {
		p.cache = &Cache{}
		Look(p.sight("2026-08-22"))
	}
	anew := float64(time.Since(began).Nanoseconds()) / runs
	l := p.look("2026-08-22")
	pad := &p.farm.Paddocks[0]
	if v := l.view(pad); v.Ahead == nil || v.Ahead.Falls != 150 || v.Verdict.Days == nil {
		b.Fatalf("not a whole verdict: %+v", v.Verdict)
	}
	b.ReportAllocs()
	for b.Loop() {
		clear(tableOf[string, kept[forecastFrom, expected]](p.cache))
		l.view(pad)
	}
	v := l.view(pad)
	q := grass.Ask{Start: v.Ahead.From, Ahead: l.almanac(2026).ahead(l.Today, pad.FrostOffset), Target: pad.Rule.AtFrost}
	g := l.learn(pad, 2026).growth
	began = time.Now()
	for range 100 * runs {
		g.Forecast(q)
	}
	sum := float64(time.Since(began).Nanoseconds()) / (100 * runs)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/sum, "x-of-sum")
	b.ReportMetric(anew/(float64(b.Elapsed().Nanoseconds())/float64(b.N)), "x-faster")
}

// BenchmarkLook is a whole farm at one look, as every pass takes one: how much
// longer it takes than 100 paddocks, for each paddock. 1 is in proportion.
func BenchmarkLook(b *testing.B) {
	var hundred float64
	for _, n := range []int{100, 1_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := bigFarm(b, n).sight("2026-08-22")
			Look(s)
			b.ReportAllocs()
			for b.Loop() {
				Look(s)
			}
			each := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(n)
			if hundred == 0 {
				hundred = each
			}
			b.ReportMetric(each/1000, "us/paddock")
			b.ReportMetric(each/hundred, "x-of-100")
		})
	}
}

// BenchmarkLookAfterAFact is the look after one text: the diary grew by a reading
// and a move, and only what they change is worked out anew.
func BenchmarkLookAfterAFact(b *testing.B) {
	p := bigFarm(b, 1_000)
	s := p.sight("2026-08-22")
	Look(s)
	const runs = 5
	began := time.Now()
	for range runs {
		Look(s)
	}
	still := float64(time.Since(began).Nanoseconds()) / runs
	for b.Loop() {
		p.reads("2026-08-22", "p7", 12)
		p.moves("2026-08-22", diary.On, "p7", "cows")
		p.moves("2026-08-22", diary.Off, "p7", "cows")
		Look(s)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/still, "x-of-unchanged")
}
