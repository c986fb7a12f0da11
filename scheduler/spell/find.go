package spell

import (
	"slices"
	"strings"
)

// Fold brings a name to the form in which names are compared: lower case, with
// one space for commas, hyphens, underscores, strokes, stops, apostrophes, tabs
// and runs of spaces, and none at the ends.
func Fold(s string) string {
	s = strings.Map(func(r rune) rune {
		switch r {
		case ',', '-', '_', '/', '.', '\'', '\u2019', '\t':
			return ' '
		}
		return r
	}, strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}

// A Named thing has a name and other words for it.
type Named interface {
	Called() (name string, aliases []string)
}

// A Table is things that people call by their names. It is never changed.
type Table[T Named] []T

// Find is the thing that was typed by its name or an alias, however folded. A name of
// nothing, or one that nobody knows, gives false.
func (table Table[T]) Find(typed string) (thing T, ok bool) {
	key := Fold(typed)
	for _, t := range table {
		name, aliases := t.Called()
		if key != "" && (Fold(name) == key || slices.ContainsFunc(aliases, func(a string) bool { return Fold(a) == key })) {
			return t, true
		}
	}
	return thing, false
}

// Names are those of all things, in the order of the table.
func (table Table[T]) Names() []string {
	all := make([]string, len(table))
	for i, t := range table {
		all[i], _ = t.Called()
	}
	return all
}

// Nearest is the name of the thing whose name or alias is closest to what was typed:
// within two slips (see [Distance]), or one for names of five letters and less. It
// gives false where none is.
func (table Table[T]) Nearest(typed string) (string, bool) {
	best, found := 3, ""
	key := Fold(typed)
	for _, t := range table {
		name, aliases := t.Called()
		for _, n := range append([]string{name}, aliases...) {
			if d := Distance(key, Fold(n)); d < best && (d < 2 || len(n) > 5) {
				best, found = d, name
			}
		}
	}
	return found, found != ""
}
