package language

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

func TestALanguageIsFoundByItsTagAndByWhatPeopleCallIt(t *testing.T) {
	for text, want := range map[string]string{
		"en": "en", "EN ": "en", "english": "en", "Inglés": "en", "es": "es", "Español": "es", "espanol": "es", "Spanish": "es",
		"": "", "de": "", "es-MX": "",
	} {
		got := ""
		if l := Lookup(text); l != nil {
			got = l.Tag
		}
		if got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	for tag, want := range map[string]string{"es-US": "es", "es_MX": "es", "en": "en", "de": "en", "": "en"} {
		if got := For(tag).Tag; got != want {
			t.Errorf("a contact of %q: got %q, want %q", tag, got, want)
		}
	}
	if tags := Tags(); tags[0] != Default || !slices.Contains(tags, "es") {
		t.Errorf("got %v, want the default first", tags)
	}
}

// folder is a language with as little as one may have.
func folder(change map[string]string) fstest.MapFS {
	files := fstest.MapFS{}
	for name, text := range map[string]string{
		"language.txt": "plural: 1 | other\n", "heard.txt": "", "optout.txt": "", "reserved.txt": "", "common.txt": "", "said.txt": "",
	} {
		if changed, ok := change[name]; ok {
			text = changed
		}
		files["xx/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

func load(t *testing.T, change map[string]string) *Language {
	t.Helper()
	l, err := Load(folder(change), "xx")
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestAFaultOfAFileNamesItsLine(t *testing.T) {
	for _, c := range []struct{ file, text, want string }{
		{"heard.txt", "# why\n\nfiller the, a\n", "heard.txt:3"},
		{"language.txt", "plural: 1 | other\ncolour: green\n", "language.txt:2: colour"},
		{"language.txt", "number: 1\n", "language.txt:1: number"},
		{"said.txt", "a: {days} {days:day}\n", "said.txt:1: a"},
		{"said.txt", "a: {days\n", "said.txt:1: a"},
		{"said.txt", "a: b\na: c\n", "said.txt:2: a"},
	} {
		if _, err := Load(folder(map[string]string{c.file: c.text}), "xx"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v, want %s named", c.text, err, c.want)
		}
	}
}

func TestAPhraseSaysItsFields(t *testing.T) {
	l := load(t, map[string]string{
		"language.txt": "plural: ..1 not ..11 | ..2 ..3 ..4 not ..12 ..13 ..14 | other\nnumber: 1.234,5\n",
		"said.txt":     "herd: {paddock}\\n{n} {n:koro|kora|korus}.\n",
	})
	for n, want := range map[int]string{
		1: "1 koro.", 2: "2 kora.", 5: "5 korus.", 11: "11 korus.", 12: "12 korus.", 21: "21 koro.", 1003: "1.003 kora.", 1112: "1.112 korus.", 0: "0 korus.",
	} {
		if got := l.Say("herd", "n", n, "paddock", "{n}"); got != "{n}\n"+want {
			t.Errorf("%d: got %q, want %q", n, got, want)
		}
	}
	if got := l.Fields()["herd"]; !slices.Equal(got, []string{"paddock", "n", "n:"}) {
		t.Errorf("got fields %v", got)
	}
	if !l.Has("herd") || l.Has("flock") {
		t.Error("what is on file is not what was written")
	}
}

func TestANumberIsWrittenWithoutNeedlessDigits(t *testing.T) {
	l := load(t, map[string]string{"language.txt": "number: 1.234,5\n"})
	for want, got := range map[string]string{
		"8": l.Number(8.04, 1), "7,9": l.Number(7.9000001, 1), "-0,6": l.Number(-0.6, 1), "1.234.567": l.Number(1234567, 0),
		"-1.000,5": l.Number(-1000.5, 1), "999": l.Number(999, 0), "0": l.Number(0, 1),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Source of the rules: Unicode CLDR, as x/text has them.
func TestAWordTakesTheFormThatItsLanguageHasForTheNumber(t *testing.T) {
	for _, l := range All() {
		forms := map[plural.Form]int{}
		for n := range 100_000 {
			form, got := plural.Cardinal.MatchPlural(language.Make(l.Tag), n, 0, 0, 0, 0), l.formOf(n)
			if want, seen := forms[form]; seen && want != got {
				t.Fatalf("%s: %d takes the form %d, other numbers of its kind %d", l.Tag, n, got, want)
			}
			forms[form] = got
		}
		for form, place := range forms {
			for other, its := range forms {
				if form != other && place == its && l.Tag == Default {
					t.Errorf("%s: two kinds of numbers take the form %d", l.Tag, place)
				}
			}
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	for range b.N {
		for _, tag := range Tags() {
			if _, err := Load(folders, tag); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// A stroke parts words of which one may stand there, and none need to where one stands
// before nothing; one that stands alone is a mark of the text.
func TestAStrokePartsTheWordsOfWhichOneMayStandThere(t *testing.T) {
	for text, want := range map[string][]string{
		"no cows/stock left/ in it": {"no cows left in it", "no cows in it", "no stock left in it", "no stock in it"},
		"pair, cow / calf pairs":    {"pair", "cow / calf pairs"},
		"/left there":               {"there", "left there"},
	} {
		if got := (Row{Text: text}).Phrases(); !slices.Equal(got, want) {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}
