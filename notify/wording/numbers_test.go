package wording

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

func TestAHeightIsToldOnTheRightSideOfTheHeightThatDecides(t *testing.T) {
	inches, metric := newVoice(Options{}), newVoice(Options{Lang: "es", Centimetres: true})
	for _, c := range []struct {
		name     string
		v        voice
		h, floor float64
		want     string
	}{
		{"to the half inch", inches, 10.6, 8, "10.5"},
		{"a whole number has no decimal", inches, 11.02, 8, "11"},
		{"a hair under is not the floor itself", inches, 7.97, 8, "7.9"},
		{"a hair over is not the floor itself", inches, 8.04, 8, "8.1"},
		{"on the floor is on the floor", inches, 8, 8, "8"},
		{"a quarter under would round up to it", inches, 7.8, 8, "7.8"},
		{"against a floor with a half", inches, 8.4, 8.5, "8.4"},
		{"no floor, no care", inches, 7.97, 0, "8"},
		{"8 in are 20 cm", metric, 8, 0, "20"},
		{"a hair under 20 cm", metric, 19.9 / 2.54, 20 / 2.54, "19.9"},
		{"in centimetres whole ones", metric, 27.6 / 2.54, 20 / 2.54, "28"},
	} {
		if got := c.v.against(c.h, c.floor); got != c.want {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := inches
		unit := 1.0
		if rapid.Bool().Draw(t, "cm") {
			v, unit = metric, 2.54
		}
		floor := float64(rapid.IntRange(4, 40).Draw(t, "floor")) / 2
		if unit != 1 {
			floor = math.Round(floor*unit) / unit
		}
		h := rapid.Float64Range(0.1, 40).Draw(t, "h")
		told, err := strconv.ParseFloat(v.against(h, floor), 64)
		if err != nil || math.Abs(told-h*unit) > 0.51 {
			t.Fatalf("%v told as %v: %v", h*unit, told, err)
		}
		at := floor * unit
		if h < floor && told >= at-1e-9 || h > floor && told <= at+1e-9 {
			t.Fatalf("%v against %v told as %v", h*unit, at, told)
		}
	})
}

// 28, 32 and 36 F are -2.22, 0 and 2.22 C by the definition of the scales;
// 28 F stands as -2.2 C in a record kept in tenths.
func TestATemperatureIsToldOnTheRightSideOfItsThreshold(t *testing.T) {
	us, metric := newVoice(Options{}), newVoice(Options{Centimetres: true})
	for _, c := range []struct {
		name string
		v    voice
		c    float64
		want string
	}{
		{"freezing", us, 0, "32 F"},
		{"a killing freeze as a Celsius record has it", us, -2.2, "28 F"},
		{"a tenth above is none", us, -2.1, "28.2 F"},
		{"just above freezing", us, 0.1, "32.2 F"},
		{"well between", us, -0.6, "31 F"},
		{"36 F", us, 2.2, "36 F"},
		{"a tenth above 36 F", us, 2.3, "36.1 F"},
		{"no sign before a zero", us, -17.78, "0 F"},
		{"below zero", us, -23.3, "-10 F"},
		{"metric", metric, -0.6, "-0.6 C"},
		{"metric, no sign before a zero", metric, -0.04, "0 C"},
	} {
		if got := c.v.degrees(c.c); got != c.want {
			t.Errorf("%s: %v C: got %s, want %s", c.name, c.c, got, c.want)
		}
	}
}

// A short ton is 2,000 lb and a tonne 1,000 kg; 1 lb = 0.45359237 kg (NIST SP 811).
func TestHayIsToldAsItIsSold(t *testing.T) {
	for _, c := range []struct {
		o    Options
		lb   float64
		want string
	}{
		{Options{}, 16_800, "9 tons"}, {Options{}, 2000, "1 ton"}, {Options{}, 1930, "2,000 lb"}, {Options{}, 850, "900 lb"},
		{Options{Centimetres: true}, 16_800, "8 tonnes"}, {Options{Centimetres: true}, 2100, "1,000 kg"},
		{Options{Lang: "es"}, 2000, "1 tonelada"}, {Options{Lang: "es"}, 16_800, "9 toneladas"}, {Options{Lang: "es", Centimetres: true}, 500, "250 kg"},
	} {
		if got := newVoice(c.o).hay(c.lb, c.lb); got != c.want {
			t.Errorf("%v lb: got %s, want %s", c.lb, got, c.want)
		}
	}
}

// Sep 1, 2026 is a Tuesday, Feb 29, 2028 too.
func TestDatesAreSaidAsPeopleSayThem(t *testing.T) {
	sep1, leap := civil.Date{Year: 2026, Month: 9, Day: 1}, civil.Date{Year: 2028, Month: 2, Day: 29}
	en, es := newVoice(Options{}), newVoice(Options{Lang: "es"})
	enMail, esMail := en, es
	enMail.roomy, esMail.roomy = true, true
	for want, got := range map[string]string{
		"Sep 1": en.date(sep1), "Tue Sep 1": en.weekday(sep1), "1 sep": es.date(sep1), "mar 1 sep": es.weekday(sep1),
		"September 1": enMail.date(sep1), "Tuesday, September 1": enMail.weekday(sep1),
		"1 de septiembre": esMail.date(sep1), "martes 1 de septiembre": esMail.weekday(sep1),
		"Tue Feb 29": en.weekday(leap), "a day not set": en.date(civil.Date{}), "día sin fijar": es.weekday(civil.Date{Year: 2026, Month: 2, Day: 30}),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	for m := time.January; m <= time.December; m++ {
		for d := 1; d <= 7; d++ {
			date := civil.Date{Year: 2026, Month: m, Day: d}
			for _, v := range []voice{en, es, enMail, esMail} {
				if s := v.weekday(date); strings.Contains(s, ".") || s == v.say("date.none") {
					t.Errorf("%v: %q", date, s)
				}
			}
		}
	}
}

func TestAChanceIsNeverToldAsCertain(t *testing.T) {
	v := newVoice(Options{})
	for _, c := range []struct {
		p       float64
		percent int
		falls   string
	}{
		{0, 1, "hardly any fall"}, {0.04, 4, "hardly any fall"}, {0.06, 6, "1 fall in 10"}, {0.62, 62, "6 falls in 10"},
		{0.94, 94, "9 falls in 10"}, {0.96, 96, "nearly every fall"}, {1, 99, "nearly every fall"}, {7, 99, "nearly every fall"},
	} {
		if got := v.percent(c.p); got != c.percent {
			t.Errorf("%v: got %d %%, want %d", c.p, got, c.percent)
		}
		if got := v.falls(c.p); got != c.falls {
			t.Errorf("%v: got %q, want %q", c.p, got, c.falls)
		}
	}
}

func TestTheHeightsOfAnExampleAreNearTheOnesAskedFor(t *testing.T) {
	for want, got := range map[string]string{
		"10 8 9":   newVoice(Options{}).samples(9),
		"26 20 23": newVoice(Options{Centimetres: true}).samples(9),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got := newVoice(Options{}).samples(0); got != "10 8 9" {
		t.Errorf("without a height to go by: got %q", got)
	}
}
