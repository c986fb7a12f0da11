package report

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/record"
	"stubbled/scheduler/season"
)

func sheet(t *testing.T, pages []record.Page) [][]string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "record.csv")
	if err := RecordCSV(path, time.UTC, pages); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestARowIsAStayAndWhatNobodyKnowsIsEmpty(t *testing.T) {
	p := &season.Paddock{ID: "creek", Acres: 22}
	at := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	rows := sheet(t, []record.Page{{Paddock: p, UnitDays: 660, Stays: []record.Stay{
		{On: civil.Date{Year: 2026, Month: 5, Day: 1}, Off: civil.Date{Year: 2026, Month: 5, Day: 11}, Herd: "cows", Head: 38, Days: 10, UnitDays: 660, Counted: true,
			Said: []record.Saying{{By: "Ana", At: at}, {By: "Ana", At: at.AddDate(0, 0, 10)}}},
		{Off: civil.Date{Year: 2026, Month: 6, Day: 1}, Herd: "cows", Head: 38},
	}}})
	for i, want := range []string{
		"paddock,acres,on,off,days,herd,head,animal_units,animal_unit_days,animal_unit_days_per_acre,height_in,height_out,rest_days,height_at_frost,leave_kept,floor_kept,said_by,said_at",
		"creek,22,2026-05-01,2026-05-11,10,cows,38,66,660,30,,,,,,,Ana,2026-05-01T12:00:00Z / 2026-05-11T12:00:00Z",
		"creek,22,,2026-06-01,,cows,38,,,,,,,,,,,",
	} {
		if got := strings.Join(rows[i], ","); got != want {
			t.Errorf("row %d is\n%s, want\n%s", i, got, want)
		}
	}
}

// A herd that stood there since before anybody told took something: no sum of it is not 0.
func TestWhereNoStayCouldBeCountedTheSumIsADash(t *testing.T) {
	var out strings.Builder
	p := &season.Paddock{ID: "creek", Name: "Creek", Acres: 22}
	if err := Record(&out, &season.Farm{}, []record.Page{{Paddock: p, Gaps: true, Stays: []record.Stay{{Off: civil.Date{Year: 2026, Month: 6, Day: 1}, Herd: "cows", Head: 38}}}}); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); !strings.Contains(got, "in all -\n") || strings.Contains(got, "0 animal-unit days") {
		t.Errorf("got\n%s", got)
	}
}

func TestNoCellOfTheRecordIsComputedWhicheverSeparatorASpreadsheetTakes(t *testing.T) {
	p := &season.Paddock{ID: "=creek", Acres: 22}
	rows := sheet(t, []record.Page{{Paddock: p, Stays: []record.Stay{{Herd: "+cows;=1", Said: []record.Saying{{By: `@Ana,-1;=cmd|' /C calc'!A0`}}}}}})
	for _, cell := range rows[1] {
		for part := range strings.FieldsFuncSeq(cell, func(r rune) bool { return r == ';' || r == ',' || r == '\t' }) {
			if strings.ContainsAny(strings.TrimSpace(part)[:1], "=+-@") {
				t.Errorf("%q may be run", cell)
			}
		}
	}
}
