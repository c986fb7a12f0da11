package notify

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
)

func TestTheWallCardGoesWithTheMailAheadOfFallAlone(t *testing.T) {
	page := func(language string) ([]byte, error) { return []byte("card in " + language), nil }
	fails := func(string) ([]byte, error) { return nil, errors.New("the database cannot be read") }
	f := &ladder.FarmFacts{}
	f.Day = civil.Date{Year: 2026, Month: 7, Day: 2}
	f.Shuts = []ladder.Shut{{Place: ladder.Place{Paddock: "creek", Name: "Creek Bottom"}, Native: true}}
	facts := []ladder.Facts{f}
	for _, tc := range []struct {
		name string
		card func(string) ([]byte, error)
		kind ladder.Kind
		want bool
	}{
		{"ahead of fall", page, ladder.FallAhead, true},
		{"on a Monday", page, ladder.MondayMail, false},
		{"where none can be made the mail goes without", fails, ladder.FallAhead, false},
		{"where nobody makes one", nil, ladder.FallAhead, false},
	} {
		files, err := enclose(Rules{Farm: "Quail Fork", Zone: time.UTC, Card: tc.card}, wording.Options{Lang: "es"}, tc.kind, facts, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		got := slices.ContainsFunc(files, func(f File) bool { return f.Name == "card.html" && string(f.Data) == "card in es" })
		if got != tc.want || !slices.ContainsFunc(files, func(f File) bool { return f.Name == "cutoffs.ics" }) {
			t.Errorf("%s: a card goes with it: %t, of %d files", tc.name, got, len(files))
		}
	}
}
