package reply

import (
	"os"
	"strings"
	"testing"

	"stubbled/notify/language"
)

// Tolvish is invented, and there is nothing of it but the files of its folder.
func tolvish(t *testing.T) *Reader {
	t.Helper()
	l, err := language.Load(os.DirFS("../language/testdata"), "qtv")
	if err != nil {
		t.Fatal(err)
	}
	farm := testFarms["quail"]
	return newReader(farm.places, farm.herds, farm.units, newVocabulary(append(language.All(), l)))
}

func TestALanguageIsAFolderOfFiles(t *testing.T) {
	r := tolvish(t)
	osku := Who{Name: "Osku", Language: "qtv", Manager: true}
	for _, c := range []struct{ name, text, want string }{
		{"cattle off", "vurra creek", "[off creek]"},
		{"a herd off, in another order", "bovur vurra creek yeru", "[off creek cows on 2026-10-25]"},
		{"a move", "movish bovur dezu creek gish hill", "[off creek cows][on hill cows]"},
		{"a height in words", "creek oku polkur", "[reading creek [8]]"},
		{"tens and a unit", "creek duudek unu polk", "[reading creek [21]]"},
		{"its people type a comma", "creek 7,5", "[reading creek [7.5]]"},
		{"its people write the day first", "kirsa 14/10", "[frost on 2026-10-14]"},
		{"a month by its name", "kirsa 14 oktu", "[frost on 2026-10-14]"},
		{"a plan is not written down", "vilu vurra creek", `ask plan "vilu" of creek`},
		{"a negation is not", "nek vurra creek", `ask negation "nek" of creek`},
		{"a whole message", "haltu", "[stop]"},
		{"one with politeness", "bonvu helpu", "[help]"},
		{"a request", "stanu hill", "[status hill]"},
		{"a slip in a word of the trade", "dollum creek", "[brown creek]"},
		{"a common word is no slip of a name", "cresk 9", `ask which-paddock "cresk" (Creek Bottom)`},
		{"English is understood too", "cows off creek", "[off creek cows]"},
		{"and Spanish", "vacas fuera de creek", "[off creek cows]"},
	} {
		if got := strings.TrimSpace(show(r.Read(c.text, osku, Asked{}, testDay))); got != c.want {
			t.Errorf("%s: %q: got %s, want %s", c.name, c.text, got, c.want)
		}
	}
	ana := testFarms["quail"].people["Ana"]
	for text, want := range map[string]string{"vurra creek": "[off creek]", "creek 9 in": "[reading creek [9]]", "haltu": "[stop]"} {
		if got := strings.TrimSpace(show(r.Read(text, ana, Asked{}, testDay))); got != want {
			t.Errorf("an English speaker's %q: got %s, want %s", text, got, want)
		}
	}
}
