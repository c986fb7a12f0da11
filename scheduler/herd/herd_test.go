package herd

import (
	"math"
	"testing"
	"time"

	"github.com/golang-sql/civil"
	"pgregory.net/rapid"
)

func day(y int, m time.Month, d int) civil.Date { return civil.Date{Year: y, Month: m, Day: d} }

func kind(t testing.TB, name string) Kind {
	t.Helper()
	k, ok := Kinds.Find(name)
	if !ok {
		t.Fatalf("no kind %q", name)
	}
	return k
}

func TestKindsAreReadWithoutCaseAndCommas(t *testing.T) {
	for typed, want := range map[string]string{
		"cow with calf": "cow with calf", "Cow With Calf": "cow with calf", "COWS": "cow with calf", "cow-calf pairs": "cow with calf",
		"cow, dry": "cow, dry", "cow dry": "cow, dry", "Dry Cow": "cow, dry", "bull": "bull, mature", "Bull, Mature": "bull, mature",
		"cattle 1 yr": "cattle, 1 yr", "cattle, 1 yr": "cattle, 1 yr", "stockers": "cattle, 1 yr", "ewes": "sheep, mature",
		"sheep mature": "sheep, mature", "goats": "goat, mature", "Bison": "bison, mature", "white tailed deer": "white-tailed deer",
	} {
		if k, ok := Kinds.Find(typed); !ok || k.Name != want {
			t.Errorf("%q is %q, want %q", typed, k.Name, want)
		}
	}
	for _, typed := range []string{"", "  ", "dragon"} {
		if k, ok := Kinds.Find(typed); ok {
			t.Errorf("%q is %q", typed, k.Name)
		}
	}
}

// eXtension, 'animal units', 2015, from the NRCS National Range and Pasture Handbook.
func TestPublishedAnimalUnitTable(t *testing.T) {
	for name, want := range map[string]float64{
		"cow, dry": 0.92, "cow with calf": 1.00, "bull, mature": 1.35, "cattle, 1 yr": 0.60, "cattle, 2 yr": 0.80,
		"horse, mature": 1.25, "sheep, mature": 0.20, "lamb, 1 yr": 0.15, "goat, mature": 0.15, "kid, 1 yr": 0.10,
		"white-tailed deer": 0.15, "mule deer": 0.20, "elk": 0.60, "antelope": 0.20, "bison, mature": 1.00, "bighorn sheep": 0.20,
	} {
		if got := kind(t, name).AUE.Value; got != want {
			t.Errorf("%s: %g, want %g", name, got, want)
		}
	}
	// 1 dry cow, 1 bull, 10 mature ewes: 0.92 + 1.35 + 2.0 (worked out from the table).
	sum, on := 0.0, day(2026, time.September, 1)
	for name, head := range map[string]int{"dry cow": 1, "bull": 1, "mature ewes": 10} {
		h := Herd{Head: head, Kind: kind(t, name)}
		near(t, name+" without a weight", h.AnimalUnits(on), float64(head)*h.Kind.AUE.Value, 1e-12)
		sum += h.AnimalUnits(on)
	}
	near(t, "the herd", sum, 4.27, 1e-9)
}

func TestAnimalUnits(t *testing.T) {
	fall := day(2026, time.September, 1)
	pair := kind(t, "cow with calf")
	for _, c := range []struct {
		name string
		h    Herd
		on   civil.Date
		want float64
	}{
		// beef-cattle.extension.org: 1,200 lb cow, calf under 4 months 1.2, over 1.5.
		{"1,200 lb cow, calf under 4 months", Herd{Head: 1, Kind: pair, WeightLb: 1200, Calving: time.June}, fall, 1.2},
		{"1,200 lb cow, calf past 4 months", Herd{Head: 1, Kind: pair, WeightLb: 1200, Calving: time.March}, fall, 1.5},
		{"a cow counts 1,300 lb where no weight is given", Herd{Head: 1, Kind: pair, Calving: time.June}, fall, 1.3},
		{"38 pairs of 1,300 lb in September", Herd{Head: 38, Kind: pair, WeightLb: 1300, Calving: time.March}, fall, 38 * 1.6},
		{"the day the calf is 4 months old it does not count yet", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.March}, day(2026, time.July, 15), 1.0},
		{"the day after it does", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.March}, day(2026, time.July, 16), 1.3},
		{"fall calves past the new year", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.October}, day(2027, time.February, 16), 1.3},
		{"fall calves before it", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.October}, day(2026, time.December, 31), 1.0},
		{"weaned today", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.March, Weaned: fall}, fall, 1.0},
		{"weaned tomorrow", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.March, Weaned: fall.AddDays(1)}, fall, 1.3},
		{"last year's weaning does not wean this year's calves", Herd{Head: 1, Kind: pair, WeightLb: 1000, Calving: time.March, Weaned: day(2025, time.October, 1)}, fall, 1.3},
		{"no calving month counts the calf, the careful side", Herd{Head: 1, Kind: pair, WeightLb: 1000}, fall, 1.3},
		{"a bull is 1.35", Herd{Head: 2, Kind: kind(t, "bull")}, fall, 2.7},
		{"a bull with a weight goes by weight", Herd{Head: 1, Kind: kind(t, "bull"), WeightLb: 2000}, fall, 2.0},
		{"yearlings by the table", Herd{Head: 100, Kind: kind(t, "yearlings")}, fall, 60},
		{"yearlings by weight", Herd{Head: 100, Kind: kind(t, "yearlings"), WeightLb: 700}, fall, 70},
		{"a herd of 0", Herd{Kind: pair, WeightLb: 1300}, fall, 0},
		{"a herd below nothing", Herd{Head: -5, Kind: pair}, fall, 0},
		{"a weight that is no number counts as none given", Herd{Head: 1, Kind: pair, WeightLb: math.NaN(), Calving: time.June}, fall, 1.3},
		{"a weight of a whale counts as none given", Herd{Head: 1, Kind: pair, WeightLb: 1e9, Calving: time.June}, fall, 1.3},
		{"no kind and no weight is nothing", Herd{Head: 5}, fall, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			near(t, "animal units", c.h.AnimalUnits(c.on), c.want, 1e-9)
			near(t, "demand", c.h.Demand(c.on), c.want*26, 1e-7)
		})
	}
}

func TestDemandIsAlwaysANumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Herd{
			Head: rapid.Int().Draw(t, "head"), Kind: rapid.SampledFrom(Kinds).Draw(t, "kind"),
			WeightLb: rapid.Float64().Draw(t, "weight"), Calving: time.Month(rapid.IntRange(-3, 15).Draw(t, "calving")),
		}
		on := day(2026, time.January, 1).AddDays(rapid.IntRange(-5000, 5000).Draw(t, "day"))
		if d := h.Demand(on); !(d >= 0) || math.IsInf(d, 0) {
			t.Fatalf("%+v eats %g", h, d)
		}
	})
}
