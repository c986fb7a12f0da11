package wording

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/notify/gsm"
	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file under testdata, or writes it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; write it with: go test ./notify/wording -update", err)
	}
	if string(want) == got {
		return
	}
	wantLines, gotLines := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := range max(len(wantLines), len(gotLines)) {
		w, g := "", ""
		if i < len(wantLines) {
			w = wantLines[i]
		}
		if i < len(gotLines) {
			g = gotLines[i]
		}
		if w != g {
			t.Fatalf("%s:%d: want\n%s\ngot\n%s\nif the new words are the better ones: go test ./notify/wording -update", path, i+1, w, g)
		}
	}
}

func TestTheWholeCatalogueOfTextsReadsAsWritten(t *testing.T) {
	for _, lang := range language.Tags() {
		for _, farm := range []struct {
			file string
			o    Options
		}{
			{"text." + lang + ".txt", Options{Lang: lang}},
			{"text." + lang + ".cm.txt", Options{Lang: lang, Centimetres: true}},
		} {
			var b strings.Builder
			kind := ladder.Kind("")
			for _, s := range samples() {
				if farm.o.Centimetres && !speaksOfUnits(farm.o, s) {
					continue
				}
				if s.kind != kind {
					kind = s.kind
					fmt.Fprintf(&b, "\n== %s\n", kind)
				}
				text := Text(farm.o, s.kind, s.said())
				fmt.Fprintf(&b, "\n%s (%d)\n  %s\n", s.name, gsm.Septets(text), strings.ReplaceAll(text, "\n", "\n  "))
			}
			golden(t, farm.file, strings.TrimLeft(b.String(), "\n"))
		}
	}
}

// speaksOfUnits reports whether a metric farm is told something else.
func speaksOfUnits(o Options, s sample) bool {
	return Text(o, s.kind, s.said()) != Text(Options{Lang: o.Lang}, s.kind, s.said())
}

func TestTheWholeCatalogueOfMailsReadsAsWritten(t *testing.T) {
	for _, lang := range language.Tags() {
		var b strings.Builder
		for _, s := range samples() {
			if !mailed(s.kind) {
				continue
			}
			subject, text, _ := Mail(Options{Lang: lang}, s.kind, s.said())
			fmt.Fprintf(&b, "=== %s: %s\nSubject: %s\n\n%s\n", s.kind, s.name, subject, text)
		}
		golden(t, "mail."+lang+".txt", b.String())
	}
}

// mailed leaves out of the golden file what differs from its text by a heading
// and a footer only.
func mailed(kind ladder.Kind) bool {
	switch kind {
	case ladder.AnswerAsk, ladder.AnswerRecorded, ladder.AnswerUndo:
		return false
	}
	return true
}

func TestMailsInHTMLReadAsWritten(t *testing.T) {
	for _, lang := range language.Tags() {
		for _, s := range []struct {
			file string
			kind ladder.Kind
			fs   []flat
		}{
			{"shut-today", ladder.ShutToday, []flat{creek(restDay(1), height(9, 20, day(8, 30))), hill(restDay(1))}},
			{"monday", ladder.MondayMail, samplesNamed("Monday in late summer")[0].facts},
			{"lessons", ladder.LessonsMail, lessonFacts()},
		} {
			o := Options{Lang: lang, Pictures: []string{Season, SeasonOf("creek")}}
			_, _, html := Mail(o, s.kind, stored(s.kind, s.fs...))
			golden(t, "mail."+s.file+"."+lang+".html", html)
		}
	}
}

func samplesNamed(name string) []sample {
	var out []sample
	for _, s := range samples() {
		if s.name == name {
			out = append(out, s)
		}
	}
	return out
}
