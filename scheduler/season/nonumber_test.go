package season

import (
	"math"
	"reflect"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"

	"stubbled/scheduler/diary"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/grass"
)

// TestNothingIsEverNoNumber: whatever is in a farm file and a diary, bad input
// included, nothing that could reach a phone is NaN or an infinity, no chance
// lies outside 0 and 1, and no day is before the year 1900.
func TestNothingIsEverNoNumber(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := newPlay(t)
		oddFarm(r, p)
		oddDiary(r, p)
		today := day("2026-01-01").AddDays(rapid.IntRange(0, 800).Draw(r, "today")).String()
		if p.farm.Plan.Record != nil && rapid.Bool().Draw(r, "observed") {
			p.air = p.farm.Plan.Record.Before(day(today))
		}
		s := p.sight(today)
		feed, _ := Feed(s)
		thumb, _ := RuleOfThumb(s)
		for _, got := range []any{Look(s), Lessons(s), feed, feed.Feed.Stops(), thumb, Uses(s)} {
			if bad := noNumber(reflect.ValueOf(got), reflect.TypeOf(got).String()); bad != "" {
				r.Fatalf("on %s: %s", today, bad)
			}
		}
		for _, v := range Look(s) {
			if a := v.Ahead; a != nil && !(a.Chance >= 0 && a.Chance <= 1 && a.Low <= a.High) {
				r.Fatalf("forecast %+v", a)
			}
			if d := v.Verdict.Days; d != nil && !(*d >= 0 && *d <= maxDays) {
				r.Fatalf("%.3f days told", *d)
			}
			if o := v.Verdict.OutBy; !o.IsZero() && v.Verdict.Say == Go && o.Before(s.Today) {
				r.Fatalf("GO, and out by %s on %s", o, s.Today)
			}
		}
	})
}

func oddFarm(r *rapid.T, p *play) {
	odd := func(what string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(r, what) }
	if rapid.Bool().Draw(r, "station") {
		p.onStation(sevenFalls[:rapid.IntRange(0, len(sevenFalls)).Draw(r, "falls")]...)
		p.farm.Plan.Level = rapid.SampledFrom([]int{0, 20, 50}).Draw(r, "level")
	} else {
		p.farm.Plan.Hand.Spread = odd("spread", 0, 1, 12, 60, math.NaN())
	}
	for i := range p.farm.Paddocks {
		pad := &p.farm.Paddocks[i]
		pad.Acres = odd("acres", 0, 0.01, 20, 1e6)
		pad.FrostOffset = rapid.IntRange(-60, 60).Draw(r, "offset")
		pad.Grass, _ = grass.Grasses.Find(rapid.SampledFrom(grass.Grasses.Names()).Draw(r, "grass"))
		pad.Soil = rapid.SampledFrom([]grass.Soil{"", grass.Dry, grass.Moist, "swamp"}).Draw(r, "soil")
		pad.Rule.RestDays = rapid.SampledFrom([]int{0, 1, 45, 60, 200}).Draw(r, "rest")
		pad.Rule.Leave, pad.Rule.AtFrost = odd("leave", 0, 4, 8, 30, 120), odd("at frost", 0, 8, 18, 120)
		pad.Rule.Confidence = odd("confidence", 0, 0.5, 0.8, 1)
		pad.Rule.Spring = rapid.SampledFrom([]MonthDay{{1, 1}, {4, 1}, {7, 31}}).Draw(r, "spring")
		if rapid.Bool().Draw(r, "give back") {
			pad.OutBy = MonthDay{rapid.IntRange(1, 12).Draw(r, "month"), rapid.IntRange(1, 28).Draw(r, "day")}
		}
	}
	p.farm.Herds[0].Head = rapid.SampledFrom([]int{-1, 0, 1, 38, 100_000}).Draw(r, "head")
	p.farm.Herds[0].WeightLb = odd("weight", 0, 1300, math.NaN())
	if rapid.Bool().Draw(r, "no herd") {
		p.farm.Herds = nil
	}
	if rapid.Bool().Draw(r, "used") {
		p.farm.FallUse = []FallUse{{Year: 2026, Paddock: "creek", Acres: odd("used acres", 0, 5, 1e9)}}
	}
}

func oddDiary(r *rapid.T, p *play) {
	kinds := []diary.Kind{
		diary.Reading, diary.Reading, diary.Reading, diary.On, diary.Off, diary.Hayed, diary.Burned, diary.Frost,
		diary.Brown, diary.Regrowth, diary.Clear, diary.Dry, diary.Wean,
	}
	for range rapid.IntRange(0, 40).Draw(r, "facts") {
		f := diary.Fact{
			Day:     day("2024-01-01").AddDays(rapid.IntRange(0, 1500).Draw(r, "day")),
			Kind:    rapid.SampledFrom(kinds).Draw(r, "kind"),
			Paddock: rapid.SampledFrom([]string{"", "creek", "hill", "lane", "gone"}).Draw(r, "paddock"),
			Herd:    rapid.SampledFrom([]string{"", "cows", "strange"}).Draw(r, "herd"),
			By:      rapid.SampledFrom([]string{"Ana", "Luis"}).Draw(r, "by"),
			Adds:    rapid.Bool().Draw(r, "adds"),
		}
		f.At = f.Day.In(time.UTC).Add(time.Duration(rapid.IntRange(0, 47).Draw(r, "hour")) * time.Hour)
		for range rapid.IntRange(0, 4).Draw(r, "plants") {
			f.Heights = append(f.Heights, rapid.SampledFrom([]float64{-1, 0, 0.1, 6, 8, 14, 20, 120, 500, math.NaN(), math.Inf(1)}).Draw(r, "height"))
		}
		if f.Kind == diary.Frost && rapid.Bool().Draw(r, "measured") {
			c := rapid.Float64Range(-30, 2.2).Draw(r, "c")
			f.TempC = &c
		}
		p.write(f)
		if rapid.IntRange(0, 9).Draw(r, "taken back") == 0 {
			p.takesBack(p.last)
		}
	}
}

var fact = reflect.TypeFor[diary.Fact]()

// noNumber finds a float that is none, or a day that cannot be, in a value.
func noNumber(v reflect.Value, at string) string {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return at
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*Paddock]() {
			return noNumber(v.Elem(), at)
		}
	case reflect.Slice:
		for i := range v.Len() {
			if bad := noNumber(v.Index(i), at); bad != "" {
				return bad
			}
		}
	case reflect.Struct:
		if v.Type() == fact || v.Type() == reflect.TypeFor[frost.Threshold]() {
			return ""
		}
		if d, ok := v.Interface().(civil.Date); ok {
			if !d.IsZero() && (d.Year < 1900 || d.Year > 2100 || !d.IsValid()) {
				return at + " " + d.String()
			}
			return ""
		}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				if bad := noNumber(v.Field(i), at+"."+f.Name); bad != "" {
					return bad
				}
			}
		}
	}
	return ""
}
