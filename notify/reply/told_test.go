package reply

import (
	"fmt"
	"slices"
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
		"sold 20 bales":                 "hay -20",
		"vendi 20 pacas":                "hay -20",
		"vendi 8 cows":                  "sold cows 8",
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
		"The truck came at seven and we sold 8 of the cows. I miss them":  "sold cows 8",
		"Hauled 8 cows to the sale barn this morning, brought good money": "sold cows 8",
		"we should have sold 8 cows, they are eating me alive":            "",
		"the neighbor sold 8 cows at the barn, good money":                "",
		"Bob sold 8 cows":                             "",
		"my brother sold 8 cows":                      "",
		"is it true we sold 8 cows":                   "",
		"we sold 8 cows worth of hay":                 "",
		"8 cows are sold on the idea":                 "",
		"hauled 8 cows to sale and brought them back": "",
		"took 8 cows to sale, they didn't sell":       "",
		"el año pasado vendimos 8 vacas":              "",
		"maybe fed 2 bales":                           "",
		"if it rains I will move them":                "",
		"need 60 bales":                               "",
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
				if f.Adds && f.Amount > 0 {
					s += fmt.Sprintf(" +%g", f.Amount)
				} else if f.Amount != 0 {
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

// The newest of a kind is taken back by its word.
func TestWhatChangedOnAFarmIsTakenBackByItsKind(t *testing.T) {
	farm := testFarms["quail"]
	for text, want := range map[string]diary.Kind{
		"undo sold": diary.Sold, "undo bought": diary.Bought, "undo head": diary.Head, "undo hay": diary.Hay, "undo fed": diary.Fed, "undo wish": diary.Wish,
		"deshacer venta": diary.Sold, "deshacer pacas": diary.Hay,
	} {
		h := New(farm.places, farm.herds, farm.units).Read(text, farm.people["Ana"], Asked{}, testDay)
		if len(h.Facts) != 1 || h.Facts[0].Kind != diary.Undo || h.Facts[0].Words != string(want) {
			t.Errorf("%s: %+v", text, h)
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

// What is supposed is asked and never written down, whatever order its words stand in;
// an 'if' that asks nothing supposes nothing.
func TestWhatIsSupposedIsHeard(t *testing.T) {
	farm := testFarms["quail"]
	for text, want := range map[string]string{
		"what if creek 5 more days":                         "creek 5d",
		"What if Creek five more days?":                     "creek 5d",
		"what if creek another week":                        "creek 7d",
		"what if we graze creek 5 days longer":              "creek 5d",
		"what if I keep the cows on creek for 5 more days":  "creek cows 5d",
		"what if they stay 5 more days":                     "5d",
		"what if creek off friday":                          "creek 4d",
		"what if I pull them off creek tomorrow":            "creek 1d",
		"what if we stay in creek till friday":              "creek 4d",
		"what if creek 400 days":                            "creek 400d",
		"what if cows to hill tomorrow":                     "hill cows Oct 27",
		"what if I move the cows from creek to hill friday": "hill cows Oct 30",
		"what if I move them to hill 11/5":                  "hill Nov 5",
		"what if heifers go to hill in 3 days":              "hill heifers Oct 29",
		"what if cows to hill":                              "hill cows Oct 26",
		"what if cows to hill sep 5":                        "hill cows Sep 5 2027",
		"what if I leave 10":                                "10 in",
		"what if I leave 10 in creek":                       "creek 10 in",
		"suppose I leave creek at 10 inches":                "creek 10 in",
		"what if I leave 25 cm":                             "9.8 in",
		"what if I sell 8 cows":                             "cows -8",
		"what if 500 more cows":                             "cows +500",
		"what if cows 30":                                   "cows -8",
		"creek 9 8 10, what if 5 more days":                 "reading creek; 5d",
		"qué pasa si creek 5 días más":                      "creek 5d",
		"y si dejo las vacas otra semana en creek":          "creek cows 7d",
		"¿Y si paso las vacas a hill mañana?":               "hill cows Oct 27",
		"y si dejo 10 en creek":                             "creek 10 in",
		"que pasa si vendo 8 vacas":                         "cows -8",
		"how low creek":                                     "low creek",
		"How low can I graze creek today?":                  "low creek",
		"how low":                                           "low",
		"¿qué tan bajo creek?":                              "low creek",
		"what if I sell 500 cows":                           "ask too-many 38",
		"what if horses to hill tomorrow":                   "ask which-herd ",
		"what if I leave 90 in creek":                       "ask impossible-height ",
		"what if":                                           "ask suppose ",
		"what if creek":                                     "ask suppose ",
		"what if creek 9":                                   "ask suppose ",
		"what if it rains":                                  "ask suppose rains",
		"what if valley 5 more days":                        "ask suppose valley",
		"y si llueve":                                       "ask suppose llueve",
		"what if creek 5 more days. dead cow in hill":       "emergency hill",
		"if it rains I will move them":                      "ask plan if",
		"if creek 5 more days":                              "ask plan if",
		"if I leave creek 10 will it come back":             "ask plan if",
		"si llueve los muevo":                               "ask plan si",
		"si dejo creek 5 dias mas":                          "ask plan si",
	} {
		h := New(farm.places, farm.herds, farm.units).Read(text, farm.people["Ana"], Asked{}, testDay)
		var got []string
		for _, f := range h.Facts {
			got = append(got, supposedWords(f))
		}
		if h.Ask != nil {
			got = append(got, fmt.Sprintf("ask %s %s", h.Ask.Why, h.Ask.Word))
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("%s: %q, want %q", text, strings.Join(got, "; "), want)
		}
	}
}

func supposedWords(f diary.Fact) string {
	words := []string{f.Paddock, f.Herd}
	switch f.Kind {
	case diary.WhatIf:
	case diary.HowLow:
		words = append([]string{"low"}, words...)
	default:
		return fmt.Sprintf("%s %s", f.Kind, f.Paddock)
	}
	if f.Wait > 0 {
		words = append(words, fmt.Sprintf("%gd", f.Wait.Hours()/24))
	}
	if !f.Day.IsZero() {
		words = append(words, strings.TrimSuffix(f.Day.In(time.UTC).Format("Jan 2 2006"), " 2026"))
	}
	if len(f.Heights) > 0 {
		words = append(words, strings.TrimSuffix(fmt.Sprintf("%.1f", f.Heights[0]), ".0")+" in")
	}
	if f.Amount != 0 {
		words = append(words, fmt.Sprintf("%+g", f.Amount))
	}
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), " ")
}

// What is typed to be reckoned with needs no 'what if'.
func TestWhatIsTypedToBeReckonedWithIsSupposed(t *testing.T) {
	farm := testFarms["quail"]
	r := New(farm.places, farm.herds, farm.units)
	for text, want := range map[string]string{
		"creek 5 more days": "creek 5d", "what if creek 5 more days": "creek 5d", "cows to hill tomorrow": "hill cows Oct 27", "how low creek": "low creek",
		"creek 5 dias mas": "creek 5d", "i leave 10": "10 in",
	} {
		h := r.Suppose(text, farm.people["Ana"], testDay)
		if len(h.Facts) != 1 || supposedWords(h.Facts[0]) != want {
			t.Errorf("%s: %+v", text, h)
		}
	}
	for text, why := range map[string]diary.Why{"creek 9": diary.Suppose, "off creek": diary.Suppose, "": diary.Suppose, "sell 500 cows": diary.TooMany} {
		if h := r.Suppose(text, farm.people["Ana"], testDay); h.Ask == nil || h.Ask.Why != why || len(h.Facts) > 0 {
			t.Errorf("%q: %+v", text, h)
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
