package spell

import "strings"

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

// Find is the thing of a table that was typed by its name or an alias, however
// folded. names gives a thing's name and aliases. A name of nothing, or one that
// nobody knows, gives false.
func Find[T any](table []T, typed string, names func(T) (string, []string)) (T, bool) {
	var none T
	key := Fold(typed)
	if key == "" {
		return none, false
	}
	for _, t := range table {
		name, aliases := names(t)
		if Fold(name) == key {
			return t, true
		}
		for _, a := range aliases {
			if Fold(a) == key {
				return t, true
			}
		}
	}
	return none, false
}

// Nearest is the name of the thing of a table whose name or alias is closest to
// what was typed: within two slips (see [Distance]), or one for names of five
// letters and less. It gives false where none is.
func Nearest[T any](table []T, typed string, names func(T) (string, []string)) (string, bool) {
	best, found := 3, ""
	key := Fold(typed)
	for _, t := range table {
		name, aliases := names(t)
		try := func(n string) {
			if d := Distance(key, Fold(n)); d < best && (d < 2 || len(n) > 5) {
				best, found = d, name
			}
		}
		try(name)
		for _, a := range aliases {
			try(a)
		}
	}
	return found, found != ""
}
