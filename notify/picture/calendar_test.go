package picture

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/golang-sql/civil"
)

var shut = Calendar{
	Farm:   `Quail Fork, "north" side; \ hill`,
	Issued: time.Date(2026, 8, 22, 6, 30, 0, 0, time.FixedZone("CDT", -5*3600)),
	Entries: []Entry{
		{Paddock: "creek", Season: 2026, Day: civil.Date{Year: 2026, Month: 9, Day: 3}, Title: "Creek Bottom shuts",
			Note: "Leave 8 in; walk it, then text:\ncreek 9 8 11\nC:\\hay, oats\n" + strings.Repeat("Rest is counted back from the frost. ", 8)},
		{Paddock: "hill", Season: 2026, Day: civil.Date{Year: 2026, Month: 12, Day: 31}, Title: "Potrero de la Peña — se cierra 🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂🐂"},
		{Paddock: "lane", Season: 2026, Day: civil.Date{Year: 2026, Month: 2, Day: 28}, Title: "Lane\r\nATTENDEE:mailto:victim@example.org"},
	},
}

type readEvent struct {
	UID, First, Value, End, Stamp, Title, Note, Status, Transparent, Organizer string
	Sequence                                                                   int
	Alarms                                                                     []string
}

type readCalendar struct {
	Method, Version, Name string
	Errors                [][]string
	Events                []readEvent
}

// readByPython reads the file with Debian's python3-icalendar.
func readByPython(t *testing.T, file []byte) readCalendar {
	t.Helper()
	const python = "/usr/bin/python3" // the one that Debian's packages are for
	if err := exec.Command(python, "-c", "import icalendar").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("python3-icalendar: not installed: %v", err)
		}
		t.Skip("skipped: Debian's python3-icalendar is not installed, and it is what reads the file here")
	}
	c := exec.Command(python, "testdata/readcalendar.py")
	c.Stdin = bytes.NewReader(file)
	out, err := c.Output()
	if err != nil {
		t.Fatalf("python3-icalendar does not read it: %v\n%s", err, file)
	}
	var got readCalendar
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	return got
}

func TestAnotherReaderUnderstandsTheCalendarFile(t *testing.T) {
	file, err := shut.ICS()
	if err != nil {
		t.Fatal(err)
	}
	got := readByPython(t, file)
	uid := func(i int) string { return shut.Entries[i].uid(shut.Farm) }
	const sequence = 209561400 // seconds from 2020-01-01T00:00Z to 2026-08-22T11:30Z, by date(1)
	rings := func(before, day, title string) []string {
		return []string{"DISPLAY " + before + " 06:30:00 " + title, "DISPLAY " + day + " 06:30:00 " + title}
	}
	want := readCalendar{Method: "PUBLISH", Version: "2.0", Name: shut.Farm, Errors: [][]string{}, Events: []readEvent{
		{uid(0), "2026-09-03", "DATE", "2026-09-04", "2026-08-22T11:30:00+00:00", "Creek Bottom shuts", strings.TrimSpace(shut.Entries[0].Note), "CONFIRMED", "TRANSPARENT", "", sequence, rings("2026-08-24", "2026-09-03", "Creek Bottom shuts")},
		{uid(1), "2026-12-31", "DATE", "2027-01-01", "2026-08-22T11:30:00+00:00", shut.Entries[1].Title, "", "CONFIRMED", "TRANSPARENT", "", sequence, rings("2026-12-21", "2026-12-31", shut.Entries[1].Title)},
		{uid(2), "2026-02-28", "DATE", "2026-03-01", "2026-08-22T11:30:00+00:00", "Lane ATTENDEE:mailto:victim@example.org", "", "CONFIRMED", "TRANSPARENT", "", sequence, rings("2026-02-18", "2026-02-28", "Lane ATTENDEE:mailto:victim@example.org")},
	}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v\n%s", got, want, file)
	}
}

// RFC 5545 section 3.1.
func TestLinesOfTheCalendarFile(t *testing.T) {
	file, err := shut.ICS()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasSuffix(file, []byte("END:VCALENDAR\r\n")) {
		t.Errorf("ends %q", file[len(file)-20:])
	}
	folded := 0
	for i, line := range bytes.Split(bytes.TrimSuffix(file, []byte("\r\n")), []byte("\r\n")) {
		if len(line) == 0 || len(line) > 75 || bytes.ContainsAny(line, "\r\n") || !utf8.Valid(line) {
			t.Errorf("line %d: %d octets: %q", i+1, len(line), line)
		}
		if line[0] == ' ' {
			folded++
		}
	}
	if folded < 5 {
		t.Errorf("only %d folded lines: nothing was tried", folded)
	}
	if bytes.Contains(file, []byte("\r\nATTENDEE")) {
		t.Error("a line was smuggled in")
	}
}

func TestAMovedCutoffMovesItsEntry(t *testing.T) {
	moved := shut
	moved.Issued = shut.Issued.Add(time.Second)
	moved.Entries = []Entry{shut.Entries[0]}
	moved.Entries[0].Day = civil.Date{Year: 2026, Month: 8, Day: 31}
	moved.Entries[0].Title = "Creek shuts"
	a, err := shut.ICS()
	if err != nil {
		t.Fatal(err)
	}
	b, err := moved.ICS()
	if err != nil {
		t.Fatal(err)
	}
	was, is := readByPython(t, a).Events[0], readByPython(t, b).Events[0]
	if was.UID != is.UID || is.Sequence <= was.Sequence || is.First != "2026-08-31" {
		t.Errorf("was %+v, is %+v", was, is)
	}
	next := shut.Entries[0]
	next.Season = 2027
	for _, other := range []string{next.uid(shut.Farm), shut.Entries[1].uid(shut.Farm), shut.Entries[0].uid("other")} {
		if other == was.UID {
			t.Errorf("two entries with one UID %s", other)
		}
	}
}

func TestEntriesThatCannotBe(t *testing.T) {
	day := civil.Date{Year: 2026, Month: 9, Day: 3}
	for _, e := range []Entry{
		{Season: 2026, Day: day},
		{Paddock: "creek", Day: day},
		{Paddock: "creek", Season: 2026},
		{Paddock: "creek", Season: 2026, Day: civil.Date{Year: 2026, Month: 2, Day: 30}},
	} {
		c := shut
		c.Entries = []Entry{e}
		if file, err := c.ICS(); err == nil {
			t.Errorf("%+v passes:\n%s", e, file)
		}
	}
	if _, err := (Calendar{}).ICS(); err == nil {
		t.Error("a calendar of no time passes")
	}
}

func TestACalendarWithoutEntriesIsStillOne(t *testing.T) {
	c := shut
	c.Entries = nil
	file, err := c.ICS()
	if err != nil {
		t.Fatal(err)
	}
	if got := readByPython(t, file); len(got.Events) != 0 || got.Method != "PUBLISH" {
		t.Errorf("got %+v", got)
	}
}
