package reply

import (
	"strings"
	"sync"
	"testing"
	"time"

	"stubbled/scheduler/diary"
)

func quail() (*Reader, Who) {
	farm := testFarms["quail"]
	return New(farm.places, farm.herds, farm.units), farm.people["Ana"]
}

// The question that waits, with two paddocks to choose from.
func creekOrHill() Asked {
	off := func(id string) []diary.Fact { return []diary.Fact{{Kind: diary.Off, Paddock: id, Day: testDay}} }
	return Asked{Choices: []diary.Choice{{Name: "Creek Bottom", Facts: off("creek")}, {Name: "Hill", Facts: off("hill")}}}
}

func TestAnAnswerToAQuestion(t *testing.T) {
	r, ana := quail()
	for _, c := range []struct{ name, text, want string }{
		{"a letter chooses", "a", "[off creek]"},
		{"a letter with a bracket chooses", "B)", "[off hill]"},
		{"a name chooses", "hill", "[off hill]"},
		{"an alias chooses", "cb", "[off creek]"},
		{"a slip of the finger in a name chooses", "hlil", "[off hill]"},
		{"politeness around a name does not matter", "Hill please, thanks", "[off hill]"},
		{"a correction is what was asked for", "I meant hill", "[off hill]"},
		{"a number is never an answer", "1", "ask which-paddock"},
		{"a letter beyond the choices is asked about", "c", `ask unclear "c" (Creek Bottom) (Hill)`},
		{"a name that was no choice asks for its height", "mill", "ask no-number of mill"},
		{"yes answers no question of two choices", "yes", "[ack]"},
		{"none of them is heard", "neither", "ignored"},
		{"a new text is heard as such", "mill 9", "[reading mill [9]]"},
		{"stop stops, whatever was asked", "stop", "[stop]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := strings.TrimSpace(show(r.Read(c.text, ana, creekOrHill(), testDay))); got != c.want {
				t.Errorf("%q: got %s, want %s", c.text, got, c.want)
			}
		})
	}
}

func TestBareNumbers(t *testing.T) {
	r, ana := quail()
	for _, c := range []struct {
		name, text, want string
		asked            Asked
	}{
		{"go to the only paddock asked about", "9 8", "[reading creek [9 8]]", Asked{Paddocks: []string{"creek"}}},
		{"add plants to the reading just made", "7 10", "[reading hill [7 10]]", Asked{Recent: "hill", Paddocks: []string{"creek"}}},
		{"are asked about where two paddocks were asked for", "9", "ask which-paddock (Creek Bottom) (Hill)", Asked{Paddocks: []string{"creek", "hill"}}},
		{"are asked about where none was", "9", "ask which-paddock", Asked{}},
		{"are asked back when the text is old", "9", "ask stale-text of creek (Creek Bottom)", Asked{Paddocks: []string{"creek"}, Stale: true}},
		{"of a paddock that left the farm go nowhere", "9", "ask which-paddock", Asked{Paddocks: []string{"gone"}, Recent: "gone too"}},
		{"asked for twice are asked for once", "9", "[reading creek [9]]", Asked{Paddocks: []string{"creek", "creek"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := strings.TrimSpace(show(r.Read(c.text, ana, c.asked, testDay))); got != c.want {
				t.Errorf("%q: got %s, want %s", c.text, got, c.want)
			}
		})
	}
	h := r.Read("7 10", ana, Asked{Recent: "hill"}, testDay)
	if !h.Facts[0].Adds {
		t.Error("plants read after a reading do not add to it")
	}
	if h := r.Read("hill 7 10", ana, Asked{Recent: "hill"}, testDay); h.Facts[0].Adds {
		t.Error("a reading by name adds to the one before")
	}
}

func TestAcknowledgements(t *testing.T) {
	r, ana := quail()
	for _, c := range []struct {
		name, want string
		asked      Asked
		nod        bool
	}{
		{"an ok confirms the newest open question", "[ack hill]", Asked{OpenQuestion: "hill", Paddocks: []string{"creek"}}, false},
		{"an ok confirms the only paddock asked about", "[ack creek]", Asked{Paddocks: []string{"creek"}}, false},
		{"an ok with nothing open is a nod", "[ack]", Asked{}, true},
		{"an old ok is asked back", "ask stale-text of hill (Hill)", Asked{OpenQuestion: "hill", Stale: true}, false},
		{"an old ok with nothing open is a nod", "[ack]", Asked{Stale: true}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := r.Read("ok", ana, c.asked, testDay)
			if got := strings.TrimSpace(show(h)); got != c.want || h.Nod != c.nod {
				t.Errorf("got %s, nod %v; want %s, nod %v", got, h.Nod, c.want, c.nod)
			}
		})
	}
}

func TestOldTexts(t *testing.T) {
	r, ana := quail()
	asked := creekOrHill()
	asked.Stale = true
	if h := r.Read("a", ana, asked, testDay); h.Ask == nil || h.Ask.Why != diary.StaleText || len(h.Ask.Choices) != 2 {
		t.Errorf("an old answer was taken: %s", show(h))
	}
	if h := r.Read("cows are off", ana, Asked{Paddocks: []string{"creek"}, Stale: true}, testDay); h.Ask == nil || h.Ask.Why != diary.StaleText {
		t.Errorf("an old text without a paddock was taken: %s", show(h))
	}
	if h := r.Read("creek 9", ana, Asked{Stale: true}, testDay); len(h.Facts) != 1 || h.Facts[0].Day != testDay {
		t.Errorf("an old text that says all was not taken: %s", show(h))
	}
}

func TestWhoMaySayIt(t *testing.T) {
	farm := testFarms["quail"]
	r, ana := quail()
	for _, text := range []string{"clear hill", "dry", "limpio hill", "sequía"} {
		if h := r.Read(text, ana, Asked{}, testDay); len(h.Facts) != 1 {
			t.Errorf("the manager's %q was not heard: %s", text, show(h))
		}
		h := r.Read(text, farm.people["Luis"], Asked{}, testDay)
		if h.Ask == nil || h.Ask.Why != diary.NotAllowed || len(h.Facts) > 0 || h.Ask.Word != text {
			t.Errorf("a helper's %q: got %s, want it refused by name", text, show(h))
		}
	}
}

func TestUndoOfAFrost(t *testing.T) {
	r, ana := quail()
	h := r.Read("undo frost 10/14", ana, Asked{}, testDay)
	f := h.Facts[0]
	if f.Kind != diary.Undo || f.Words != "frost" || f.Day.Day != 14 || f.Day.Month != time.October {
		t.Errorf("got %+v", f)
	}
	if f := r.Read("undo", ana, Asked{}, testDay).Facts[0]; f.Words != "" || !f.Day.IsZero() {
		t.Errorf("a plain undo names %q on %v", f.Words, f.Day)
	}
}

func TestTextsBeyondBounds(t *testing.T) {
	r, ana := quail()
	for name, text := range map[string]string{
		"too many bytes":  strings.Repeat("x", longest+1),
		"too many words":  strings.Repeat("creek 9 ", mostTokens),
		"too many plants": "creek" + strings.Repeat(" 9", mostHeights+1),
	} {
		if h := r.Read(text, ana, Asked{}, testDay); h.Ask == nil || h.Ask.Why != diary.TooLong || len(h.Facts) > 0 {
			t.Errorf("%s: got %s, want it asked for in less", name, show(h))
		}
	}
}

func TestDatesAgainstTheDayOfTheText(t *testing.T) {
	r, ana := quail()
	newYear := testDay
	newYear.Month, newYear.Day = time.January, 2
	for _, c := range []struct{ name, text, want string }{
		{"a frost of last fall told in January is of last year", "frost 12/30", "2025-12-30"},
		{"the day before New Year is of last year", "frost 3 days ago", "2025-12-30"},
		{"yesterday in January", "frost yesterday", "2026-01-01"},
	} {
		h := r.Read(c.text, ana, Asked{}, newYear)
		if len(h.Facts) != 1 || h.Facts[0].Day.String() != c.want {
			t.Errorf("%s: got %s, want %s", c.name, show(h), c.want)
		}
	}
	leap := testDay
	leap.Year, leap.Month, leap.Day = 2028, time.March, 5
	if h := r.Read("frost 2/29", ana, Asked{}, leap); len(h.Facts) != 1 || h.Facts[0].Day.String() != "2028-02-29" {
		t.Errorf("February 29 of a leap year: got %s", show(h))
	}
	leap.Year = 2027
	if h := r.Read("frost 2/29", ana, Asked{}, leap); h.Ask == nil || h.Ask.Why != diary.WhichDay {
		t.Errorf("February 29 of a common year: got %s", show(h))
	}
}

func TestOneReaderForManyTexts(t *testing.T) {
	r, ana := quail()
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 50 {
				if h := r.Read("moved cows from creek to hill", ana, Asked{}, testDay); len(h.Facts) != 2 {
					t.Errorf("got %s", show(h))
				}
			}
		})
	}
	wg.Wait()
}

func TestOneSlipOfTheFinger(t *testing.T) {
	// Distances after Damerau, A technique for computer detection and correction
	// of spelling errors (1964): one insertion, deletion, substitution, or swap
	// of neighbours.
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"creek", "creek", 0}, {"crek", "creek", 1}, {"creeek", "creek", 1}, {"vreek", "creek", 1}, {"rceek", "creek", 1},
		{"crekk", "creek", 1}, {"ckeer", "creek", 2}, {"crk", "creek", 2}, {"", "a", 1}, {"", "", 0}, {"ab", "", 2},
		{"añejo", "anejo", 1},
	} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance(c.b, c.a); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

func TestWhatIsLikelyIsConfirmedByALetter(t *testing.T) {
	r, ana := quail()
	for _, c := range []struct{ name, text, want string }{
		{"a slip in the name where a hold would be lifted", "clear hlil", "[clear hill]"},
		{"an order, or past with its accent left out", "saque las vacas de hill", "[off hill cows]"},
		{"a word that nobody knows before the number", "creek flumped 9", "[reading creek [9]]"},
		{"a height that is only guessed", "creek about 9 i think", "[reading creek [9]]"},
	} {
		h := r.Read(c.text, ana, Asked{}, testDay)
		if len(h.Facts) > 0 || h.Ask == nil || h.Ask.Why != diary.Likely || len(h.Ask.Choices) != 1 {
			t.Errorf("%s: %q: got %s, want it put to a letter", c.name, c.text, show(h))
			continue
		}
		confirms := []string{"a", "A)", "yes", "ok"}
		if h.Ask.Choices[0].Facts[0].Kind == diary.Off { // what empties a paddock needs the letter
			confirms = []string{"a", "A)", c.text}
		}
		for _, yes := range confirms {
			said := r.Read(yes, ana, Asked{Choices: h.Ask.Choices}, testDay)
			if got := strings.TrimSpace(show(said)); got != c.want {
				t.Errorf("%s: %q, then %q: got %s, want %s", c.name, c.text, yes, got, c.want)
			}
		}
	}
}

func TestACorrectionOffersToChangeTheLastEntry(t *testing.T) {
	r, ana := quail()
	last := Asked{Last: []diary.Fact{{Kind: diary.Reading, Paddock: "creek", Day: testDay, Heights: []float64{9}}}}
	for _, c := range []struct{ name, text, want string }{
		{"another number", "I meant 8", "[undo][reading creek [8]]"},
		{"another paddock", "sorry, hill not creek", "[undo][reading hill [9]]"},
		{"another paddock, the wrong one first", "not creek, hill", "[undo][reading hill [9]]"},
	} {
		h := r.Read(c.text, ana, last, testDay)
		if h.Ask == nil || len(h.Ask.Choices) != 1 || len(h.Facts) > 0 {
			t.Errorf("%s: %q: got %s, want it offered", c.name, c.text, show(h))
			continue
		}
		if got := strings.TrimSpace(show(Heard{Facts: h.Ask.Choices[0].Facts})); got != c.want {
			t.Errorf("%s: %q offers %s, want %s", c.name, c.text, got, c.want)
		}
	}
	if h := r.Read("mill 8", ana, last, testDay); len(h.Facts) != 1 || h.Facts[0].Paddock != "mill" {
		t.Errorf("a new reading was taken for a correction: %s", show(h))
	}
}

func TestWhatMakesThingsStricterIsTakenInAnyCompany(t *testing.T) {
	r, ana := quail()
	for text, want := range map[string]string{
		"frost, cows still in hill":         "[frost][on hill cows]",
		"froze last night hill looks bad":   "[frost on 2026-10-25]",
		"light frost in the low spots":      "[frost]",
		"helo poquito":                      "[frost]",
		"johnsongrass in mill":              "[plant mill]",
		"dead cow in hill":                  "[emergency hill]",
		"cow down in mill, calling the vet": "[emergency mill]",
		"se murio una vaca en creek":        "[emergency creek]",
		"cherry down creek":                 "[danger creek]",
	} {
		if got := strings.TrimSpace(show(Heard{Facts: r.Read(text, ana, Asked{}, testDay).Facts})); got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
}

func TestAfterAMoveOrder(t *testing.T) {
	r, ana := quail()
	order := Asked{Paddocks: []string{"creek"}, Moves: []string{"creek"}}
	for text, want := range map[string]string{
		"they're out":  "[off creek]",
		"moved em":     "[off creek]",
		"ya las saqué": "[off creek]",
		"not yet":      `ask negation "not yet"`,
		"half of em":   `ask part-of-herd "half"`,
	} {
		if got := strings.TrimSpace(show(r.Read(text, ana, order, testDay))); got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
	h := r.Read("done", ana, order, testDay)
	if h.Ask == nil || h.Ask.Why != diary.Likely || h.Ask.Choices[0].Facts[0].Kind != diary.Off {
		t.Errorf("done: got %s, want it asked whether they are off", show(h))
	}
	if h := r.Read("moved em", ana, Asked{Paddocks: []string{"creek"}}, testDay); len(h.Facts) > 0 {
		t.Errorf("who was asked for a height has moved them, and it is written down: %s", show(h))
	}
}

func TestAYesOptsInOnlyWhoHasOptedOut(t *testing.T) {
	r, ana := quail()
	for _, yes := range []string{"yes", "Yes!", "si", "sí"} {
		if h := r.Read(yes, ana, Asked{}, testDay); len(h.Facts) > 0 && h.Facts[0].Kind == diary.Start {
			t.Errorf("%q opted in who gets messages", yes)
		}
		gone := ana
		gone.Out = true
		if h := r.Read(yes, gone, Asked{}, testDay); len(h.Facts) != 1 || h.Facts[0].Kind != diary.Start {
			t.Errorf("%q of who has opted out: got %s, want a start", yes, show(h))
		}
	}
}
