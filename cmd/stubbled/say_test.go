package main

import (
	"database/sql"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/cmd/stubbled/report"
	"stubbled/scheduler/diary"
	"stubbled/store"
)

// alone is an office whose daemon does not run.
func alone(t *testing.T, at string) *office {
	t.Helper()
	o := newOffice(t, farmtest.File(t, farmtest.Text), at)
	o.turn(at)
	o.d.Close()
	return o
}

// queue is what waits to be said, by key.
func (o *office) queue() string {
	o.t.Helper()
	var keys []string
	o.eachFate(func(f store.Fate) {
		if f.State == store.Queued {
			keys = append(keys, f.Notice.Key.String())
		}
	})
	return strings.Join(keys, "\n")
}

func (o *office) eachFate(see func(store.Fate)) {
	o.t.Helper()
	s, err := store.OpenRead(o.t.Context(), o.db)
	if err != nil {
		o.t.Fatal(err)
	}
	defer s.Close()
	all, err := s.Fates(o.t.Context())
	if err != nil {
		o.t.Fatal(err)
	}
	for _, f := range all {
		see(f)
	}
}

// types is typed a second later than what was typed before.
func (o *office) types(args ...string) (string, int) {
	o.clock.Time = o.clock.Time.Add(time.Second)
	return o.typed(args...)
}

// facts are those of the diary that stand, as day and kind.
func (o *office) facts() string {
	o.t.Helper()
	sight, err := report.Sight(o.t.Context(), o.farm, o.db, civil.Date{Year: 2027, Month: 1, Day: 1})
	if err != nil {
		o.t.Fatal(err)
	}
	var all []string
	for _, f := range sight.Book.Of("creek") {
		if f.Source == diary.FromKeyboard {
			all = append(all, f.Day.String()[5:]+" "+string(f.Kind))
		}
	}
	return strings.Join(all, ", ")
}

func TestATextFromTheKeyboardIsAnsweredThere(t *testing.T) {
	o := alone(t, "2026-08-22 12:00")
	for _, c := range []struct{ who, text, answer string }{
		{"Ana", "creek 9 8 11", "GO Creek Bottom"},
		{"Luis", "fuera creek", "Creek Bottom"},
		{"Ana", "valley 9", "valley"},
		{"Ana", "undo", "North 40"},
		{"Ana", "stop", "START"},
		{"Ana", "creek 10 9 10", "Creek Bottom"}, // who said stop still reads what was typed
		{"Ana", "start", "you get the reminders again"},
	} {
		if c.text == "undo" {
			o.types("say", "n40", "12", "13")
		}
		out, code := o.types("say", "--as", c.who, c.text)
		if code != exitFine || !strings.Contains(out, c.answer) {
			t.Errorf("to %q of %s it says %q, want %q in it", c.text, c.who, out, c.answer)
		}
	}
	for _, c := range [][]string{{"say"}, {"say", " "}, {"say", "--as", "Mallory", "off creek"}, {"say", "--on", "2026-08-23", "off creek"}, {"say", "--on", "noon", "off creek"}} {
		if out, code := o.typed(c...); code == exitFine {
			t.Errorf("%q is taken: %s", c, out)
		}
	}
}

func TestWhatIsSaidAsOfAnEarlierDayCountsForThatDay(t *testing.T) {
	o := alone(t, "2026-08-22 12:00")
	before := o.queue()
	for _, c := range []struct{ on, text, answer, facts string }{
		{"2026-08-01", "off creek", "Creek Bottom", "08-01 off"},
		{"2026-08-03T07:30", "on creek cows", "Creek Bottom", "08-01 off, 08-03 on"},
		{"2026-08-04", "creek 14 15 14", "Creek Bottom", "08-01 off, 08-03 on, 08-04 reading"},
		{"2026-08-04T12:10", "undo", "", "08-01 off, 08-03 on"},
		{"2026-08-04T12:11", "undo", "", "08-01 off"},
		{"2026-08-09", "undo", "", "08-01 off"}, // more than seven days after it
		{"2026-08-05", "stop", "START", "08-01 off"},
		{"2026-08-06", "start", "you get the reminders again", "08-01 off"},
		{"2026-08-07", "ok", "", "08-01 off"},
	} {
		out, code := o.types("say", "--on", c.on, c.text)
		if code != exitFine || !strings.Contains(out, c.answer) {
			t.Errorf("on %s to %q it says %q", c.on, c.text, out)
		}
		if got := o.facts(); got != c.facts {
			t.Errorf("after %q of %s the diary has %s, want %s", c.text, c.on, got, c.facts)
		}
		if got := o.queue(); got != before {
			t.Errorf("%q of %s queued something:\n%s", c.text, c.on, got)
		}
	}
}

// A text of today stays, whatever is taken back as of an earlier day.
func TestAnUndoAsOfAnEarlierDayLeavesTheTextsSince(t *testing.T) {
	o := alone(t, "2026-08-22 12:00")
	o.types("say", "--on", "2026-08-20", "off creek")
	o.types("say", "on creek cows")
	o.types("say", "--on", "2026-08-20T13:00", "undo")
	if got := o.facts(); got != "08-22 on" {
		t.Errorf("the diary has %s", got)
	}
}

// On Nov 1 the clock shows 01:30 twice; the first is 06:30 UTC.
func TestATimeThatTheClockShowsTwiceIsTheFirst(t *testing.T) {
	o := alone(t, "2026-11-02 12:00")
	if out, code := o.types("say", "--on", "2026-11-01T01:30", "off creek"); code != exitFine {
		t.Fatal(out)
	}
	out, _ := o.typed("diary", "--csv")
	if !strings.Contains(out, "2026-11-01T01:30:00-05:00,2026-11-01,off,creek") {
		t.Errorf("the diary says\n%s", out)
	}
}

func TestTheKeyboardIsHeardByTheDaemonThatRuns(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 12:00")
	o.turn("2026-08-22 12:00")
	o.patience = 20 * time.Second
	for _, args := range [][]string{{"say", "creek 9 8 11"}, {"say", "--on", "2026-08-20", "creek 9 8 11"}} {
		before := o.queue()
		said := make(chan string, 1)
		o.clock.Time = o.clock.Time.Add(time.Second)
		go func() { out, _ := o.typed(args...); said <- out }()
		var out string
		for out == "" {
			select {
			case out = <-said:
			case <-time.After(50 * time.Millisecond):
				if err := o.d.Turn(t.Context()); err != nil {
					t.Fatal(err)
				}
			}
		}
		if !strings.Contains(out, "Creek Bottom") {
			t.Errorf("%q says %q", args, out)
		}
		if got := o.queue(); got != before {
			t.Errorf("%q left in the queue\n%s", args, got)
		}
	}
	if n := strings.Count(o.screen.String(), "Creek Bottom: stay"); n != 1 {
		t.Errorf("on the phones it was said %d times:\n%s", n, o.screen.String())
	}
}

// said is what the command tells other programs.
func (o *office) said(args ...string) []map[string]any {
	o.t.Helper()
	out, code := o.typed(append([]string{"said", "--json"}, args...)...)
	if code != exitFine {
		o.t.Fatal(out)
	}
	var all []map[string]any
	for line := range strings.Lines(out) {
		var m map[string]any
		if err := json.Unmarshal([]byte(line), &m); err != nil {
			o.t.Fatal(err)
		}
		all = append(all, m)
	}
	return all
}

func TestSaidSaysWhySomebodyGotNothing(t *testing.T) {
	o := newOffice(t, farmtest.File(t, farmtest.Text), "2026-08-22 06:00")
	o.turn("2026-08-22 06:00")
	o.turn("2026-08-22 12:00")
	sent := o.said("--to", "ana", "--on", "2026-08-22")
	if len(sent) == 0 || sent[0]["state"] != "sent" || sent[0]["why"] != "" || sent[0]["to"] != "Ana" || sent[0]["text"] == "" {
		t.Fatalf("%v", sent)
	}
	if out, _ := o.typed("said", "--to", "Ana", "--on", "2026-08-22"); !strings.Contains(out, "Sat Aug 22, 2026\n") || !strings.Contains(out, "to Ana\n") {
		t.Errorf("it says\n%s", out)
	}
	o.says("Ana", "off creek") // what was planned is not wanted any more
	o.says("Luis", "alto")
	o.turn("2026-08-23 12:00")
	if out, _ := o.typed("said", "--to", "Luis", "--on", "2026-08-29"); !strings.Contains(out, "Nothing was due for Luis on Aug 29, 2026.") || !strings.Contains(out, "Luis had said stop on Aug") {
		t.Errorf("of Luis it says\n%s", out)
	}
	if out, code := o.typed("said", "--to", "Mallory"); code == exitFine {
		t.Errorf("a stranger is looked up: %s", out)
	}
	if out, code := o.typed("said", "--on", "yesterday"); code == exitFine {
		t.Errorf("no day is taken for one: %s", out)
	}
}

// Each reason that the store writes on a row is told in words and in JSON.
func TestEveryReasonIsTold(t *testing.T) {
	o := alone(t, "2026-08-22 12:00")
	db, err := sql.Open("sqlite", "file:"+o.db)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, c := range []struct {
		state, stored, why, words string
	}{
		{"expired", "cap", "cap", "NOT SENT: expired on Aug 22 12:00, it was no longer true; until then the day's cap of texts was reached"},
		{"expired", "", "expired", "NOT SENT: expired on Aug 22 12:00, it was no longer true"},
		{"queued", "cap", "cap", "waits: the day's cap of texts was reached"},
		{"queued", "stopped", "stopped", "waits: the owner of the address had said stop"},
		{"queued", "no-address", "no address", "waits: the farm file has no address for it"},
		{"withdrawn", "not wanted any more", "withdrawn", "NOT SENT: withdrawn on Aug 22 12:00, it was no longer wanted"},
		{"failed", "the network knows no such number", "the network knows no such number", "NOT SENT: the network knows no such number"},
		{"unknown", "the modem was pulled out", "the modem was pulled out", "may have arrived, nobody knows: the modem was pulled out"},
	} {
		_, err := db.Exec(`UPDATE outbox SET state = ?, why = ?, message = NULL WHERE id = (SELECT min(id) FROM outbox WHERE contact = 'Luis')`, c.state, c.stored)
		if err != nil {
			t.Fatal(err)
		}
		got := o.said("--to", "Luis")[0]
		if got["state"] != c.state || got["why"] != c.why || got["never_worded"] != true || (got["at"] == nil) != (c.state == "queued") {
			t.Errorf("%s, %s: told as %v", c.state, c.stored, got)
		}
		if out, _ := o.typed("said", "--to", "Luis"); !strings.Contains(out, "to Luis: "+c.words+" (never worded; it would say)\n         Quail Fork:") {
			t.Errorf("%s, %s: it says\n%s", c.state, c.stored, out)
		}
	}
}

// The card hangs where nobody has a phone: it names what may poison on each ground, a
// plant that is the paddock's own grass as well as a weed, in the words of its language.
func TestTheCardNamesEveryPlantThatMayPoison(t *testing.T) {
	text := strings.NewReplacer("eastern gamagrass", "sorghum-sudangrass", "big bluestem", "indiangrass").Replace(farmtest.Text)
	out := filepath.Join(t.TempDir(), "card.html")
	for lang, want := range map[string][]string{
		"en": {"may be deadly or bloat: johnsongrass", "may be deadly or bloat: sorghum-sudangrass", "may be deadly if it is short at frost: indiangrass", "Prussic acid kills within the hour", "then text: dead animal in ", "counts once it is texted: johnsongrass in "},
		"es": {"puede envenenar o timpanizar: zacate Johnson", "puede envenenar o timpanizar: sorgo-Sudán", "si está corto cuando hiele puede envenenar: zacate indio", "El ácido prúsico mata", "animal muerto en ", "zacate johnson en "},
	} {
		if status := run(t.Context(), []string{"--farm", farmtest.File(t, text), "card", "--year", "2026", "--language", lang, "--html", out}, strings.NewReader(""), io.Discard, os.Stderr); status != exitFine {
			t.Fatalf("status %d", status)
		}
		page, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range want {
			if !strings.Contains(string(page), w) {
				t.Errorf("%s: the card lacks %q", lang, w)
			}
		}
	}
}

// The calendar goes onto a manager's phone and the chart onto the wall: both speak as
// the first manager does.
func TestTheCalendarSpeaksTheFirstManagersLanguage(t *testing.T) {
	file := farmtest.File(t, strings.Replace(farmtest.Text, "language: en", "language: es", 1))
	out := filepath.Join(t.TempDir(), "cutoffs.ics")
	if status := run(t.Context(), []string{"--farm", file, "season", "--on", "2026-08-20", "--ics", out}, strings.NewReader(""), io.Discard, os.Stderr); status != exitFine {
		t.Fatalf("status %d", status)
	}
	data, err := os.ReadFile(out)
	if err != nil || !strings.Contains(string(data), "empieza el descanso") {
		t.Errorf("%v\n%s", err, data)
	}
}

func TestTheCardAndTheRecordAreWrittenToPrint(t *testing.T) {
	file := farmtest.File(t, farmtest.Text)
	dir := t.TempDir()
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"card", "--year", "2026", "--html"}, []string{`<html lang="en">`, "Tue Sep 1", "off cb", "Your vet, your extension office"}},
		{[]string{"card", "--language", "es", "--year", "2026", "--html"}, []string{`<html lang="es">`, "mar 1 sep", "fuera cb", "Primero su veterinario"}},
		{[]string{"record", "--year", "2026", "--html"}, []string{"Creek Bottom", "Kept by the farm; not certified."}},
	} {
		out := filepath.Join(dir, "page.html")
		if status := run(t.Context(), append(append([]string{"--farm", file}, c.args...), out), strings.NewReader(""), io.Discard, os.Stderr); status != exitFine {
			t.Fatalf("%v: status %d", c.args, status)
		}
		page, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range c.want {
			if !strings.Contains(string(page), w) {
				t.Errorf("%v: the page lacks %q", c.args, w)
			}
		}
	}
}
