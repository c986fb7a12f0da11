package spool

import (
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"stubbled/notify"
)

// FuzzIncoming puts any bytes in the incoming folder. Whatever they are, the
// pass ends, what is heard is valid text of bounded length from one sender,
// and the file is heard, set aside or left, never lost.
func FuzzIncoming(f *testing.F) {
	for _, seed := range []string{
		textFile, textFile[:40], reportFile("17", "0,Ok"), "", "\n", ":\n\n", "From:\n\n", "From: 1\nAlphabet: UCS2\n\n\x00",
		"From: 15555550142\nAlphabet: GSM\n\n\x1b\x1b\x1b", "From: 15555550142\nLength: 99999999999999999999\n\nx", "From: \xff\n\n\xff",
	} {
		f.Add([]byte(seed), "GSM1.a")
	}
	f.Add([]byte(textFile), "a b\tc.LOCK")
	f.Fuzz(func(t *testing.T, data []byte, name string) {
		if name == "" || strings.ContainsAny(name, "/\x00") || name == "." || name == ".." || len(name) > 200 {
			t.Skip()
		}
		s, c := newSpool(t)
		file := c.put(t, string(data), s.path("incoming", name))
		c.t = c.t.Add(settled * 2)
		in := newInbox()
		s.pass(t.Context(), in.accept)
		for _, g := range in.got {
			if g.Report != nil || g.ID == "" || !utf8.ValidString(g.Text) || !utf8.ValidString(g.From) || len(g.Text) > 4*maxFile {
				t.Errorf("heard %+v", g)
			}
		}
		kept := len(entries(t, s.path("done", "heard"))) + len(entries(t, s.path("done", "odd")))
		if _, err := os.Lstat(file); err != nil && kept != 1 {
			t.Errorf("the file is lost: %v", err)
		}
	})
}

// FuzzState and the log are smsd's words, which must never stop us.
func FuzzState(f *testing.F) {
	f.Add([]byte(stateFile(ready, home, strong, roomy)))
	f.Fuzz(func(t *testing.T, data []byte) {
		st := parseState(data)
		if st.used < 0 || st.room < 0 {
			t.Errorf("%+v", st)
		}
		_ = st.trouble()
		if v := readLog(data); v.gaveUp && v.trouble == "" {
			t.Error("smsd gave up over nothing")
		}
	})
}

func TestWhatIsWrittenForSmsdReadsBack(t *testing.T) {
	s, _ := newSpool(t)
	runes := []rune(Alphabet + "áúíóÁ“”–…½🌱漢")
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom(runes), 1, 60, -1).Draw(t, "text")
		m, err := parse(s.file(notify.Envelope{ID: "m", Address: ana, Text: text}))
		if err != nil || m.text != text || m.header("To") != "15555550142" || m.header(ownHeader) != "m" {
			t.Fatalf("%q came back as %q, %v (%s)", text, m.text, err, m.header("Alphabet"))
		}
	})
}

func TestTheAlphabetThatATextTravelsIn(t *testing.T) {
	for text, want := range map[string]string{
		"GO Creek: stay": "ISO", "sáquelas": "UCS", "ñandú": "UCS", "niño, ¿cómo?": "UCS", "niño ¿está?": "UCS", "mañana a las 6": "ISO",
		"5 € a day": "ISO", "Ω": "UTF-8", "Ü§": "UTF-8", "¤": "UCS", "🌱": "UCS", "[x] {y} ~": "ISO",
	} {
		if got, _ := encode(text); got != want {
			t.Errorf("%q goes in %s, want %s", text, got, want)
		}
	}
}
