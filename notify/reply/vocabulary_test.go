package reply

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stubbled/notify/language"
)

// hintsOf are the hints that the rules ask for.
func hintsOf(t *testing.T) map[string]bool {
	t.Helper()
	src, err := os.ReadFile("hints.go")
	if err != nil {
		t.Fatal(err)
	}
	set := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^\th\w+ +(?:hint)? *= "([^"]+)"`).FindAllStringSubmatch(string(src), -1) {
		set[m[1]] = true
	}
	if len(set) < 30 {
		t.Fatalf("only %d hints were found", len(set))
	}
	return set
}

// wholes are the rows of optout.txt that the reader asks for.
var wholes = []string{"out", "first out", "slip of out", "refusal", "no refusal", "in", "in where out", "help", "slip of help", "slip of undo", "radio", "after radio", "polite"}

func TestEveryRowOfALanguageIsOneThatTheReaderKnows(t *testing.T) {
	hints, used := hintsOf(t), map[string]bool{}
	for _, l := range language.All() {
		for _, row := range l.Heard {
			used[row.Name] = true
			if _, ok := inOrder[row.Name]; ok || hints[row.Name] {
				continue
			}
			for name := range strings.SplitSeq(row.Name, ",") {
				used[strings.TrimSpace(name)] = true
				if _, ok := meaningOf(strings.TrimSpace(name)); !ok {
					t.Errorf("%s: no meaning and no hint is called %q", row.At, name)
				}
			}
		}
		for name := range l.OptOut {
			used[name] = true
			if !slices.Contains(wholes, name) {
				t.Errorf("%s: no row of optout.txt is called %q", l.Tag, name)
			}
		}
	}
	for name := range hints {
		if !used[name] {
			t.Errorf("no language has words for %q", name)
		}
	}
	for name := range meanings {
		if !used[name] {
			t.Errorf("no language has words for %q", name)
		}
	}
	for _, name := range wholes {
		if !used[name] {
			t.Errorf("no language has messages for %q", name)
		}
	}
}
