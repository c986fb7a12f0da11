package wording

import (
	"os"
	"testing"

	"stubbled/notify/language"
)

// Tolvish is invented, and there is nothing of it but the files of its folder.
func tolvish(t *testing.T) *language.Language {
	t.Helper()
	l, err := language.Load(os.DirFS("../language/testdata"), "qtv")
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The phrases of Tolvish put the fields in another order, write the day first
// and count in three forms.
func TestALanguageIsAFolderOfFiles(t *testing.T) {
	l := tolvish(t)
	v := voice{o: Options{Lang: l.Tag}, lang: l}
	for name, want := range map[string]string{
		"ten days, grazed": "mar 1. sep, pos 10 tagur, Creek Bottom fermu: iru ke rigardu. 8 polk restu. Herbu, ne semu. Skribu: cb 10 8 9",
		"ten days, two paddocks": "mar 1. sep, pos 10 tagur, Creek Bottom, Hill fermur: iru ke rigardu. " +
			"Restu: Creek Bottom 8 polk, Hill 6 polk. Herbu, ne semu. Skribu ciun: cb 10 8 9",
		"cutoff":            "Creek Bottom fermu hodu: bestur vurra. Gish Lane au Mill. Paus 45 tagur, ghis 16. okt. Poste skribu: vurra cb",
		"third day of rest": "Tag 3: enu Creek Bottom ankor bestur. Vurra! Gish Lane au Mill. Ghis kirsa 42 taga. Poste skribu: vurra cb",
	} {
		for _, s := range samplesNamed(name) {
			if got := v.text(s.kind, s.said()); got != want {
				t.Errorf("%s: got %q, want %q", name, got, want)
			}
		}
	}
}
