package page

import (
	"html"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"stubbled/notify/language"
)

// plain are the fields that a phrase says, those apart that only choose a form.
func plain(fields []string) []string {
	return slices.DeleteFunc(slices.Sorted(slices.Values(fields)), func(f string) bool { return strings.HasSuffix(f, ":") })
}

func TestEveryLanguageHasEveryPhraseOfThePagesWithTheSameFields(t *testing.T) {
	first := language.All()[0].PageFields()
	for _, l := range language.All()[1:] {
		other := l.PageFields()
		for key, fields := range first {
			if got, ok := other[key]; !ok || !slices.Equal(plain(got), plain(fields)) {
				t.Errorf("%s: %q names %v, the first language %v", l.Tag, key, got, fields)
			}
		}
		if len(other) != len(first) {
			t.Errorf("%s has %d phrases, the first language %d", l.Tag, len(other), len(first))
		}
	}
}

// sources are all templates and Go files that may say a phrase of page.txt.
func sources(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	for _, dir := range []string{".", "../wording", "../picture", "..", "../../cmd/stubbled/board"} {
		entries, err := os.ReadDir(dir)
		if err != nil {
			continue // a room that is not built yet has no words
		}
		for _, e := range entries {
			if name := e.Name(); strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
				data, err := os.ReadFile(dir + "/" + name)
				if err != nil {
					t.Fatal(err)
				}
				all.Write(data)
			}
		}
	}
	return all.String()
}

var (
	saying = regexp.MustCompile(`say "([a-z.-]+)"`)
	// chosen are the beginnings of phrases that are named by a word from outside.
	chosen = regexp.MustCompile(`^(fate|why|phase|occupancy|verdict)\.`)
)

func TestWhatIsSaidOnAPageStandsInTheCatalogueAndNothingElse(t *testing.T) {
	have, text := language.All()[0].PageFields(), sources(t)
	for _, m := range saying.FindAllStringSubmatch(text, -1) {
		if _, ok := have[m[1]]; !ok {
			t.Errorf("nobody wrote %q", m[1])
		}
	}
	for key := range have {
		if !strings.Contains(text, `"`+key+`"`) && !chosen.MatchString(key) {
			t.Errorf("nothing says %q", key)
		}
	}
}

var (
	action = regexp.MustCompile(`(?s){{.*?}}`)
	tag    = regexp.MustCompile(`(?s)<[^>]*>`)
)

func TestNoTemplateHoldsAWord(t *testing.T) {
	entries, err := files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".html") {
			continue
		}
		bare := html.UnescapeString(tag.ReplaceAllString(action.ReplaceAllString(mustRead(e.Name()), ""), ""))
		if i := strings.IndexFunc(bare, unicode.IsLetter); i >= 0 {
			t.Errorf("%s says %.40q by itself", e.Name(), strings.TrimSpace(bare[i:]))
		}
	}
}

func TestNothingIsLoadedFromOutside(t *testing.T) {
	entries, _ := files.ReadDir(".")
	for _, e := range entries {
		if text := mustRead(e.Name()); strings.Contains(text, "://") || strings.Contains(text, "@import") || strings.Contains(text, "<script") {
			t.Errorf("%s loads something", e.Name())
		}
	}
}
