package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// What is supposed at the keyboard is reckoned there, with or without 'what if', and
// nothing of it stands in the diary.
func TestWhatIfAtTheKeyboardIsReckonedAndNotWrittenDown(t *testing.T) {
	o := alone(t, "2026-08-24 12:00")
	o.types("say", "creek", "12", "12", "12", "12", "12", "12", "12", "12", "12", "12")
	facts := o.facts()
	for text, want := range map[string]string{
		"creek 5 more days": "Creek Bottom 5 more days (out Aug 29)", "what if creek 5 more days": "Out today: about", "how low creek": "in most falls",
		"i leave 10": "Leave 10 in Creek Bottom", "cows to north 40 tomorrow": "Read North 40", "it rains": "Text like: what if", "sell 500 cows": "Only 38 head",
		"creek 400 days": "too far ahead",
	} {
		if out, code := o.typed("what-if", text); code != exitFine || !strings.Contains(out, want) {
			t.Errorf("%s: %d %s, want %q", text, code, out, want)
		}
	}
	out, _ := o.typed("what-if", "creek 5 more days", "--json")
	var got struct {
		Paddocks []struct {
			ID       string
			Expected struct{ Now, Then *float64 } `json:"expected_at_frost_in"`
			Chance   struct{ Now, Then *float64 } `json:"chance_at_frost"`
			Days     struct{ Now, Then *float64 } `json:"days_of_grass"`
		}
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil || len(got.Paddocks) != 1 {
		t.Fatalf("%v: %s", err, out)
	}
	p := got.Paddocks[0]
	if p.ID != "creek" || p.Expected.Then == nil || *p.Expected.Then >= *p.Expected.Now || *p.Chance.Then >= *p.Chance.Now || *p.Days.Then >= *p.Days.Now {
		t.Errorf("%s", out)
	}
	if got := o.facts(); got != facts {
		t.Errorf("written down: %s, before %s", got, facts)
	}
	if out, code := o.typed("what-if"); code == exitFine {
		t.Errorf("nothing supposed: %s", out)
	}
}

// A paddock whose id is changed without was: leaves its stays and its holds behind: a
// check names what counts for nothing, and the mend.
func TestACheckNamesEntriesOfAPaddockThatIsGone(t *testing.T) {
	o := alone(t, "2026-08-24 12:00")
	o.types("say", "johnsongrass", "in", "creek")
	text, err := os.ReadFile(o.farm.File)
	if err != nil {
		t.Fatal(err)
	}
	write := func(with string) string {
		if err := os.WriteFile(o.farm.File, []byte(strings.ReplaceAll(strings.Replace(string(text), "id: creek", with, 1), "paddock: creek", "paddock: bottom")), 0o600); err != nil {
			t.Fatal(err)
		}
		out, _ := o.typed("check")
		return out
	}
	if out := write("id: bottom"); !strings.Contains(out, `1 entry is of a paddock "creek", the last of Aug 24`) || !strings.Contains(out, "was: creek") {
		t.Errorf("got\n%s", out)
	}
	if out := write("id: bottom, was: creek"); strings.Contains(out, "1 entry is of a paddock") {
		t.Errorf("renamed:\n%s", out)
	}
}

// What a manager wishes stands in a check with the line to write, until the farm file
// says it.
func TestACheckOffersToWriteAWishIntoTheFarmFile(t *testing.T) {
	o := alone(t, "2026-08-24 12:00")
	o.types("say", "leave", "creek", "10")
	o.types("say", "rest", "north", "40", "60", "days")
	out, _ := o.typed("check")
	for _, want := range []string{"wish       Ana on Aug 24 for Creek Bottom", "farm.yaml:5  rest: {leave: 10in}", "farm.yaml:6  rest: {days: 60 days}"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q:\n%s", want, out)
		}
	}
}
