package reply

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

// What changes on a farm is told in a whole text; what only resembles one is not.
func TestWhatChangesOnAFarmIsTold(t *testing.T) {
	for text, want := range map[string]string{
		"sold 8 cows":                   "sold cows 8",
		"Sold 8 cows yesterday, thanks": "sold cows 8 Oct 25",
		"sold eight cows":               "sold cows 8",
		"bought 10 heifers":             "bought heifers 10",
		"cows 30":                       "head cows 30",
		"hay 60 bales":                  "hay 60",
		"60 bales":                      "hay 60",
		"bought 60 bales":               "hay +60",
		"fed 2 bales":                   "fed 2",
		"fed 2.5 bales":                 "fed 2.5",
		"sold 8 cows, hay 60 bales":     "sold cows 8; hay 60",
		"leave creek 10":                "wish creek 10 in",
		"rest hill 60 days":             "wish hill 60 days",
		"fence down hill":               "note hill",
		"Vendí 8 vacas":                 "sold cows 8",
		"compre 10 vaquillas":           "bought heifers 10",
		"di 2 pacas":                    "fed 2",
		"dejar creek en 10":             "wish creek 10 in",
		"sold 50 cows":                  "ask too-many 38",
		"sold 8":                        "ask which-herd ",
		"cows 9":                        "ask likely ",
		"sold 8.5 cows":                 "ask unclear ",
		"sold 0 cows":                   "ask unclear ",
		"rest hill 900 days":            "ask unclear ",
		"leave creek 90":                "ask unclear ",
		"will sell 8 cows":              "",
		"did we sell 8 cows?":           "",
		"sold 8 cows?":                  "",
		"if we sold 8 cows":             "",
		"neighbor sold 8 cows":          "",
		"not sold 8 cows":               "",
		"sold 8 cows off hill":          "",
		"maybe fed 2 bales":             "",
		"if it rains I will move them":  "",
		"need 60 bales":                 "",
	} {
		farm := testFarms["quail"]
		h := New(farm.places, farm.herds, farm.units).Read(text, farm.people["Ana"], Asked{}, testDay)
		var got []string
		for _, f := range h.Facts {
			switch s := fmt.Sprint(f.Kind); s {
			case "sold", "bought", "head", "hay", "fed", "wish", "note":
				for _, more := range []string{f.Paddock, f.Herd} {
					if more != "" {
						s += " " + more
					}
				}
				if f.Adds {
					s += fmt.Sprintf(" +%g", f.Amount)
				} else if f.Amount > 0 {
					s += fmt.Sprintf(" %g", f.Amount)
				}
				if len(f.Heights) > 0 {
					s += fmt.Sprintf(" %g in", f.Heights[0])
				}
				if f.Wait > 0 {
					s += fmt.Sprintf(" %g days", f.Wait.Hours()/24)
				}
				if f.Day != testDay {
					s += f.Day.In(time.UTC).Format(" Jan 2")
				}
				got = append(got, s)
			}
		}
		if h.Ask != nil && len(got) == 0 && want != "" {
			got = append(got, fmt.Sprintf("ask %s %s", h.Ask.Why, h.Ask.Word))
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("%s: %q, want %q (%v %+v)", text, strings.Join(got, "; "), want, h.Facts, h.Ask)
		}
	}
}

// Questions are answered and never written down, with their mark and without; what only
// begins like one is none.
func TestWhatIsAskedOfAFarm(t *testing.T) {
	farm := testFarms["quail"]
	for text, want := range map[string]string{
		"where next": "where-next  ", "where next cows?": "where-next  cows", "feed": "feed  ", "when frost?": "when  ", "when creek": "when creek ",
		"how tall is creek?": "how-tall creek ", "days creek": "days creek ", "\u00bfa d\u00f3nde siguen las vacas?": "where-next  cows", "cuando helada": "when  ", "dias creek": "days creek ",
		"if it rains I will move them": "", "feed the cows": "", "where next is the trailer": "", "when frost comes move them": "",
	} {
		h := New(farm.places, farm.herds, farm.units).Read(text, farm.people["Ana"], Asked{}, testDay)
		got := ""
		for _, f := range h.Facts {
			if f.Kind.Recorded() {
				t.Errorf("%s is written down: %v", text, f)
			}
			got = fmt.Sprintf("%s %s %s", f.Kind, f.Paddock, f.Herd)
		}
		if got != want {
			t.Errorf("%s: %q, want %q (%+v)", text, got, want, h)
		}
	}
}

// Head sold are taken off: the herd is whole with what is left.
func TestAHerdIsWholeWithTheHeadThatAreLeft(t *testing.T) {
	farm := testFarms["quail"]
	r := New(farm.places, farm.herds, farm.units).Counting(map[string]int{"cows": 30})
	for text, want := range map[string]string{"sold 31 cows": "30", "sold 30 cows": ""} {
		h := r.Read(text, farm.people["Ana"], Asked{}, testDay)
		word := ""
		if h.Ask != nil {
			word = h.Ask.Word
		}
		if word != want {
			t.Errorf("%s: %v, %+v", text, h.Facts, h.Ask)
		}
	}
}

// A wish is the manager's.
func TestOnlyTheManagerWishes(t *testing.T) {
	farm := testFarms["quail"]
	who := farm.people["Ana"]
	who.Manager = false
	if h := New(farm.places, farm.herds, farm.units).Read("leave creek 10", who, Asked{}, testDay); len(h.Facts) > 0 || h.Ask == nil || h.Ask.Why != "not-allowed" {
		t.Errorf("%+v", h)
	}
}

// A frame is thrown on a paddock, and its cells with a plant are counted: they are no heights.
func TestAFrameCountIsNoHeight(t *testing.T) {
	farm := testFarms["quail"]
	for text, want := range map[string]string{
		"grid creek 14 17 15 18": "grid creek [14 17 15 18]", "Grid creek 14, 17, 15, 18": "grid creek [14 17 15 18]", "cuadrícula creek 14 17 15 18": "grid creek [14 17 15 18]",
		"creek grid 0 25": "grid creek [0 25]", "grid creek 14 26": "ask cells", "grid creek 14.5": "", "grid creek": "", "grid 14 17 15 18": "", "grid creek 14 17?": "",
	} {
		h := New(farm.places, farm.herds, farm.units).Read(text, farm.people["Ana"], Asked{}, testDay)
		got := ""
		for _, f := range h.Facts {
			if f.Kind == diary.Reading {
				t.Errorf("%s is a height: %+v", text, f)
			}
			got = fmt.Sprintf("%s %s %v", f.Kind, f.Paddock, f.Heights)
		}
		if h.Ask != nil && got == "" && want != "" {
			got = "ask " + string(h.Ask.Why)
		}
		if got != want {
			t.Errorf("%s: %q, want %q (%+v)", text, got, want, h)
		}
	}
}
