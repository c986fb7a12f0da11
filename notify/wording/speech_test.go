package wording

import (
	"regexp"
	"strings"
	"testing"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
)

func heldLane() []ladder.Facts {
	held := func(id, name string) ladder.Facts {
		return &ladder.PaddockFacts{
			Head: ladder.Head{Farm: "Quail Fork", Place: ladder.Place{Paddock: id, Name: name, Say: id}},
			Standing: ladder.Standing{Grazed: true,
				Hold: &ladder.Hold{Plants: []string{"johnsongrass"}, Until: day(10, 13)}},
		}
	}
	return []ladder.Facts{held("lane", "Lane"), held("n40", "North 40")}
}

// What is read out is whole words, said twice, and names every paddock.
func TestACallSaysAHoldTwiceInWholeWords(t *testing.T) {
	short := regexp.MustCompile(`\b(in|F|Sep|Oct|lb|ac|pulg|oct)\.?(\s|$)|\+\d| -- `)
	for _, tag := range language.Tags() {
		said := Speech(Options{Lang: tag}, ladder.HoldBegins, heldLane())
		for _, name := range []string{"Lane", "North 40", "Quail Fork"} {
			want := 2
			if name == "Quail Fork" {
				want = 1
			}
			if n := strings.Count(said, name); n < want {
				t.Errorf("%s: %q is said %d times, want %d: %s", tag, name, n, want, said)
			}
		}
		if m := short.FindString(strings.ReplaceAll(said, "Frost can", "")); m != "" {
			t.Errorf("%s: %q is no word for the ear: %s", tag, m, said)
		}
		if strings.Contains(said, "{") || strings.Contains(said, "+1 more") {
			t.Errorf("%s: %s", tag, said)
		}
	}
	want := "This is Quail Fork. This call is about your animals. " + strings.Repeat("Take the animals off Lane and North 40 now. Frost can make johnsongrass poisonous. "+
		"If one of them is down, or breathes hard, call your vet before anything else. When they are off, send a text: off, and Lane or North 40. Once more. ", 2)
	want = strings.TrimSuffix(want, "Once more. ") + "Good-bye."
	if said := Speech(Options{Lang: "en"}, ladder.HoldBegins, heldLane()); said != want {
		t.Errorf("said\n%s\nwant\n%s", said, want)
	}
}

// A farm may prove its calls before there is any hold.
func TestACallOfAnyKindCanBeRead(t *testing.T) {
	for _, tag := range language.Tags() {
		said := Speech(Options{Lang: tag}, ladder.Enrolment, []ladder.Facts{&ladder.PersonFacts{Head: ladder.Head{Farm: "Quail Fork"}, Who: "Ana"}})
		if !strings.Contains(said, "Quail Fork") || strings.Contains(said, "{") {
			t.Errorf("%s: %s", tag, said)
		}
	}
}
