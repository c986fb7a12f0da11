package grass

import (
	"math"
	"strings"
	"testing"

	"stubbled/scheduler/figure"
	"stubbled/scheduler/spell"
)

func TestDefaultsOfTheNatives(t *testing.T) {
	for name, want := range map[string][4]float64{ // leave, target, lowest, begin
		"eastern gamagrass": {8, 18, 6, 14}, "big bluestem": {8, 18, 6, 14}, "indiangrass": {8, 18, 6, 14},
		"switchgrass": {8, 18, 6, 14}, "mixed natives": {8, 18, 6, 14},
		"little bluestem": {6, 12, 4, 9}, "sideoats grama": {4, 8, 3, 6},
	} {
		s, ok := Grasses.Find(name)
		if got := [4]float64{s.Leave.Value, s.Target.Value, s.Min.Value, s.Begin.Value}; !ok || !s.Native || got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	fescue, ok := Grasses.Find("tall fescue")
	if !ok || fescue.Native || fescue.Leave.Value != 4 || fescue.Target.Known() || !fescue.CoolSeason() {
		t.Errorf("tall fescue: %+v", fescue)
	}
}

func TestEveryFigureHasAMarkAndASource(t *testing.T) {
	for _, s := range Grasses {
		for what, f := range map[string]figure.Figure{"leave": s.Leave, "target": s.Target, "min": s.Min, "begin": s.Begin, "max leaf": s.MaxLeaf} {
			if !f.Known() && (what == "target" && !s.Native) {
				continue
			}
			if !f.Known() || f.Mark.String() == "unmarked" || f.Source == "" {
				t.Errorf("%s, %s: %+v", s.Name, what, f)
			}
			if f.High > 0 && (f.Value < f.Low || f.Value > f.High) {
				t.Errorf("%s, %s: %g is outside %g-%g", s.Name, what, f.Value, f.Low, f.High)
			}
		}
		if s.Native && !(s.Min.Value < s.Leave.Value && s.Leave.Value < s.Begin.Value && s.Begin.Value < s.Target.Value && s.Target.Value < s.MaxLeaf.Value) {
			t.Errorf("%s: heights out of order", s.Name)
		}
		if s.Name != strings.ToLower(s.Name) {
			t.Errorf("%s is not lower case", s.Name)
		}
	}
	for _, h := range Hazards {
		if h.Days() < 1 || h.Days() != int(h.Wait.Value) || h.Wait.Source == "" || h.Danger == "" {
			t.Errorf("%+v", h)
		}
	}
}

func TestNoNameMeansTwoThings(t *testing.T) {
	seen := map[string]string{}
	for _, s := range Grasses {
		for _, n := range append([]string{s.Name}, s.Aliases...) {
			if other, twice := seen[spell.Fold(n)]; twice && other != s.Name {
				t.Errorf("%q is both %s and %s", n, other, s.Name)
			}
			seen[spell.Fold(n)] = s.Name
		}
	}
}

func TestLookup(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"Eastern Gamagrass", "eastern gamagrass"}, {"  EASTERN   gamagrass ", "eastern gamagrass"},
		{"Side-Oats Grama", "sideoats grama"}, {"Indian grass", "indiangrass"}, {"switchgrass, lowland", "lowland switchgrass"},
		{"Mixed Natives", "mixed natives"}, {"KY-31", "tall fescue"}, {"Johnson Grass", "johnsongrass"},
	} {
		if s, ok := Grasses.Find(c.typed); !ok || s.Name != c.want {
			t.Errorf("%q is %q, want %q", c.typed, s.Name, c.want)
		}
	}
	for _, typed := range []string{"", "  ", "thistle", "eastern"} {
		if s, ok := Grasses.Find(typed); ok {
			t.Errorf("%q is %q", typed, s.Name)
		}
	}
	for typed, want := range map[string]string{"eastern gammagrass": "eastern gamagrass", "big bluestm": "big bluestem", "tall fescu": "tall fescue", "indaingrass": "indiangrass"} {
		if got, ok := Grasses.Nearest(typed); !ok || got != want {
			t.Errorf("nearest to %q is %q, want %q", typed, got, want)
		}
	}
	for _, typed := range []string{"", "x", "thistle", "zzzzzzzzzz"} {
		if got, ok := Grasses.Nearest(typed); ok {
			t.Errorf("nearest to %q is %q", typed, got)
		}
	}
}

func TestHazards(t *testing.T) {
	for _, c := range []struct {
		typed, name string
		danger      Danger
		days        int
	}{
		{"Johnsongrass", "johnsongrass", PrussicAcid, 14}, {"sorghum-sudan", "sorghum-sudangrass", PrussicAcid, 14},
		{"shattercane", "shattercane", PrussicAcid, 14}, {"wild cherry", "wild cherry", PrussicAcid, 14},
		{"choke cherry", "chokecherry", PrussicAcid, 14}, {"black cherry", "black cherry", PrussicAcid, 14},
		{"alfalfa", "alfalfa", Bloat, 14}, {"Clover", "clover", Bloat, 14},
	} {
		if h, ok := Hazards.Find(c.typed); !ok || h.Name != c.name || h.Danger != c.danger || h.Days() != c.days {
			t.Errorf("%q: %+v", c.typed, h)
		}
	}
	if n, ok := Hazards.Nearest("jonsongrass"); !ok || n != "johnsongrass" {
		t.Errorf("nearest to jonsongrass is %q", n)
	}
	if _, ok := Hazards.Nearest("thistle"); ok {
		t.Error("thistle is no hazard plant")
	}
}

func TestStandsThatAreDoubtfulWhileShort(t *testing.T) {
	for name, tall := range map[string]float64{"indiangrass": 16, "mixed natives": 8} {
		s, _ := Grasses.Find(name)
		hs := s.HazardsOf()
		if len(hs) != 1 || !hs[0].Tall.Known() {
			t.Fatalf("%s brings %+v", name, hs)
		}
		for _, c := range []struct {
			what   string
			height float64
			age    int
			want   bool
		}{
			{"tall and read yesterday", tall + 6, 1, false},
			{"just tall enough is not under it", tall, 0, false},
			{"a little under it", tall - 0.1, 0, true},
			{"read 21 days before", tall + 6, 21, false},
			{"read 22 days before", tall + 6, 22, true},
			{"never read", 0, -1, true},
			{"a height that is no number", math.NaN(), 1, true},
		} {
			if got := hs[0].HeldWhen(c.height, c.age); got != c.want {
				t.Errorf("%s, %s: held %v", name, c.what, got)
			}
		}
	}
	for name, want := range map[string]string{"big bluestem": "", "tall fescue": "", "sudangrass": "sudangrass", "alfalfa": "alfalfa"} {
		s, _ := Grasses.Find(name)
		if h := StandHazard(s); h.Name != want || h.Name != "" && !h.HeldWhen(40, 0) {
			t.Errorf("%s by itself is %+v", name, h)
		}
	}
}

func TestADenserStandHoldsMore(t *testing.T) {
	for _, native := range []bool{true, false} {
		thin, avg, dense := Thin.Standing(native), Medium.Standing(native), Dense.Standing(native)
		if !(thin.Value < avg.Value && avg.Value < dense.Value) {
			t.Errorf("native %v: %g, %g, %g lb per acre-inch", native, thin.Value, avg.Value, dense.Value)
		}
		for _, f := range []figure.Figure{thin, avg, dense} {
			if f.Value < f.Low || f.Value > f.High || f.Source == "" {
				t.Errorf("native %v: %+v", native, f)
			}
		}
	}
	if Dry.Factor() >= 1 || Moist.Factor() <= 1 || Average.Factor() != 1 {
		t.Error("dry must grow less and moist more than average")
	}
}

func FuzzNames(f *testing.F) {
	f.Add("eastern gamagras")
	f.Add("\xff\x00, -")
	f.Fuzz(func(t *testing.T, typed string) {
		if len(typed) > 200 {
			return
		}
		s, ok := Grasses.Find(typed)
		if n, near := Grasses.Nearest(typed); ok && (!near || n != s.Name) {
			t.Fatalf("%q is %q, but nearest is %q", typed, s.Name, n)
		}
	})
}
