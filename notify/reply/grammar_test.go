package reply

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"stubbled/notify/language"
	"stubbled/scheduler/diary"
)

// plainly says what was heard as the page for users does.
func plainly(farm testFarm, h Heard) string {
	names := map[string]string{}
	for _, p := range farm.places {
		names[p.ID] = p.Name
	}
	var parts []string
	for _, f := range h.Facts {
		words := []string{string(f.Kind)}
		if f.Kind == diary.Reading {
			words[0] = "height"
		}
		if f.Paddock != "" {
			words = append(words, names[f.Paddock])
		}
		if len(f.Heights) > 0 {
			var hs []string
			for _, x := range f.Heights {
				hs = append(hs, strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), "."))
			}
			words = append(words, strings.Join(hs, ", "))
		}
		if f.Herd != "" {
			words = append(words, "("+f.Herd+")")
		}
		switch {
		case f.Wait == 0:
		case f.Wait%(24*time.Hour) == 0:
			words = append(words, fmt.Sprintf("%dd", f.Wait/(24*time.Hour)))
		default:
			words = append(words, fmt.Sprintf("%dh", f.Wait/time.Hour))
		}
		if f.Kind == diary.Undo && f.Words != "" {
			words = append(words, f.Words)
		}
		if f.Kind.Recorded() && f.Day != testDay {
			words = append(words, "on "+f.Day.String())
		}
		parts = append(parts, strings.Join(words, " "))
	}
	if h.Ask != nil {
		parts = append(parts, "asked back: "+string(h.Ask.Why))
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, "; ")
}

func TestThePageForUsersIsTrue(t *testing.T) {
	page, err := os.ReadFile("GRAMMAR.md")
	if err != nil {
		t.Fatal(err)
	}
	farm := testFarms["quail"]
	r := New(farm.places, farm.herds, farm.units)
	who := Who{Name: "Ana", Language: "en", Manager: true}
	row := regexp.MustCompile("^\\| `([^`]+)` \\| (.+) \\|$")
	n := 0
	for line := range strings.Lines(string(page)) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "## "):
			who.Language = language.Default
			if l := language.Lookup(strings.TrimPrefix(line, "## ")); l != nil {
				who.Language = l.Tag
			}
		}
		m := row.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		n++
		if got := plainly(farm, r.Read(m[1], who, Asked{}, testDay)); got != m[2] {
			t.Errorf("%q: the page says %q, the reader %q", m[1], m[2], got)
		}
	}
	if n < 60 {
		t.Errorf("only %d examples were found on the page", n)
	}
}
