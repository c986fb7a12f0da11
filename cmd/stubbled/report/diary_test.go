package report

import "testing"

func TestNoCellOfTheDiaryIsComputed(t *testing.T) {
	for text, want := range map[string]string{
		"creek 14 8 6 8":       "creek 14 8 6 8",
		"off creek; on hill":   "off creek; on hill",
		"8-10":                 "8-10",
		"=1+1":                 "'=1+1",
		"-9":                   "'-9",
		"\t=1":                 "'\t'=1",
		"creek 9;=1+1":         "creek 9;'=1+1",
		"creek 9, @SUM(A1)":    "creek 9, '@SUM(A1)",
		"creek 9\n+1":          "creek 9\n'+1",
		"cr\x00eek 9;\x00=1+1": "creek 9;'=1+1",
		"":                     "",
	} {
		if got := plain(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}
