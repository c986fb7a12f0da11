package report

import "testing"

func TestWhatAnEscapeStandsFor(t *testing.T) {
	for text, want := range map[string]string{
		`creek 9`:            "creek 9",
		`a\nb\tc\rd\\e`:      "a\nb\tc\rd\\e",
		`\\n \\\n`:           "\\n \\\n",
		`\u00e9\u2019\uD800`: "é’\uFFFD",
		`\u00g9 \u12 \q \`:   `\u00g9 \u12 \q \`,
		"\\q\xff\\n":         "\\q\xff\n",
	} {
		if got := unescape(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}
