package values

import (
	"fmt"
	"strings"
	"time"

	"stubbled/scheduler/herd"
)

func parseKind(text string) (herd.Kind, error) {
	if k, ok := herd.LookupKind(text); ok {
		return k, nil
	}
	var names, words []string
	for _, k := range herd.Kinds() {
		names = append(names, k.Name)
		words = append(append(words, k.Name), k.Aliases...)
	}
	if near := Nearest(text, words); near != "" {
		k, _ := herd.LookupKind(near)
		return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; did you mean %q?", Clip(text), k.Name)
	}
	return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; known are %s", Clip(text), strings.Join(names, "; "))
}

// parseMonth reads a month by its name or the first three letters of it.
func parseMonth(text string) (time.Month, error) {
	name := Fold(text)
	var known []string
	for m := time.January; m <= time.December; m++ {
		full := strings.ToLower(m.String())
		known = append(known, full)
		if name == full || name == full[:3] {
			return m, nil
		}
	}
	return 0, fmt.Errorf("want a month such as march, got %q%s", Clip(text), OrOneOf(text, known))
}
