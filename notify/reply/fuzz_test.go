package reply

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"stubbled/scheduler/diary"
)

// sound checks what must hold of whatever was heard, on any farm.
func sound(t *testing.T, farm testFarm, text string, h Heard) {
	t.Helper()
	paddocks := map[string]bool{"": true}
	for _, p := range farm.places {
		paddocks[p.ID] = true
	}
	herds := map[string]bool{"": true}
	for _, x := range farm.herds {
		herds[x.ID] = true
	}
	facts := h.Facts
	if h.Ask != nil {
		if n := utf8.RuneCountInString(h.Ask.Word); n > longestWord {
			t.Errorf("%q: the question names %d characters, want at most %d", text, n, longestWord)
		}
		if len(h.Ask.Choices) > mostChoices {
			t.Errorf("%q: %d choices, want at most %d", text, len(h.Ask.Choices), mostChoices)
		}
		if !paddocks[h.Ask.Paddock] {
			t.Errorf("%q: asks about paddock %q, which is not on the farm", text, h.Ask.Paddock)
		}
		for _, c := range h.Ask.Choices {
			facts = append(facts[:len(facts):len(facts)], c.Facts...)
		}
	}
	for _, f := range facts {
		if !paddocks[f.Paddock] || !herds[f.Herd] {
			t.Errorf("%q: %+v is not of this farm", text, f)
		}
		if f.Kind == diary.Reading && len(f.Heights) == 0 {
			t.Errorf("%q: a reading without a height", text)
		}
		for _, x := range f.Heights {
			if !(x > 0 && x <= 120) {
				t.Errorf("%q: height %g in, want above 0 and at most 120", text, x)
			}
		}
		if f.Kind.Recorded() && f.Day.After(testDay) {
			t.Errorf("%q: %s on %s, which is to come", text, f.Kind, f.Day)
		}
		if f.Wait < 0 {
			t.Errorf("%q: put off by %s", text, f.Wait)
		}
	}
	if h.Nod && h.Ask != nil {
		t.Errorf("%q: needs no answer, and asks", text)
	}
	if len(h.Facts) == 0 && h.Ask == nil && !h.Nod {
		t.Errorf("%q: nothing was heard and nobody is told", text)
	}
	if strings.IndexFunc(text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) < 0 {
		for _, f := range h.Facts {
			if f.Kind != diary.Ack { // a thumb up
				t.Errorf("%q holds no letter or digit and makes %+v", text, f)
			}
		}
	}
}

// FuzzRead throws any bytes at the reader.
func FuzzRead(f *testing.F) {
	for _, l := range readSample(f, "testdata/sample.tsv") {
		f.Add(l.text, byte(len(l.id)))
	}
	f.Add(strings.Repeat("creek 9 ", 600), byte(1))
	f.Add(strings.Repeat("9 ", 2400), byte(2))
	f.Add(strings.Repeat("creek ", 800), byte(3))
	f.Add(strings.Repeat("cows off creek, ", 300), byte(4))
	f.Add("\xff\xfe creek \x00 9", byte(5))
	names := []string{"quail", "animas", "odd"}
	readers := map[string]*Reader{}
	for n, farm := range testFarms {
		readers[n] = New(farm.places, farm.herds, farm.units)
	}
	f.Fuzz(func(t *testing.T, text string, with byte) {
		name := names[int(with)%3]
		farm := testFarms[name]
		who := Who{Name: "Ana", Language: []string{"en", "es"}[int(with>>2)%2], Manager: with&8 != 0}
		var asked Asked
		if with&16 != 0 {
			asked.Paddocks = []string{farm.places[0].ID}
		}
		if with&32 != 0 {
			asked.Recent = farm.places[1].ID
		}
		if with&64 != 0 {
			asked.Choices = []diary.Choice{{Name: "Hill", Facts: []diary.Fact{{Kind: diary.Off, Paddock: farm.places[2].ID, Day: testDay}}}}
		}
		asked.Stale = with&128 != 0
		h := readers[name].Read(text, who, asked, testDay)
		sound(t, farm, text, h)
		if len(text) > longest && (h.Ask == nil || h.Ask.Why != diary.TooLong) {
			t.Errorf("a text of %d bytes was read", len(text))
		}
	})
}
