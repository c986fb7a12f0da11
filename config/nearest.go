package config

import (
	"fmt"
	"strings"

	"stubbled/scheduler/grass"
	"stubbled/scheduler/spell"
)

// nearest is the known word closest to a misspelt one: within two slips of the
// finger (one for short words), or one holding the other. Empty where none is.
func nearest(word string, known []string) string {
	best, found := spell.Far, ""
	w := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(word), "-", "_"))
	for _, k := range known {
		n := strings.ReplaceAll(strings.ToLower(k), "-", "_")
		d := slips(w, n)
		switch {
		case d <= 1, d == 2 && len(n) > 4, d == 3 && len(n) > 9:
		case len(w) > 2 && len(n) > 2 && (strings.Contains(w, n) || strings.Contains(n, w)):
			d += 10
		default:
			continue
		}
		if d < best {
			best, found = d, k
		}
	}
	return found
}

// orNearest is `; did you mean "x"?`, or the whole list where nothing is near.
func orNearest(word string, known []string) string {
	if k := nearest(word, known); k != "" {
		return didYouMean(k)
	}
	if len(known) == 0 {
		return ""
	}
	return "; known are " + strings.Join(known, ", ")
}

// orOneOf is orNearest without the list of everything known.
func orOneOf(word string, known []string) string { return didYouMean(nearest(word, known)) }

// didYouMean suggests a word; nothing where there is none.
func didYouMean(word string) string {
	if word == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", word)
}

// slips is how many letters are added, dropped, changed or swapped with a
// neighbour between two words; words too long to be a slip of each other are
// far from each other.
func slips(a, b string) int { return spell.Distance(a, b) }

// nearestGrass is the species meant by a misspelt name.
func nearestGrass(name string) string {
	if n, ok := grass.Nearest(name); ok {
		return didYouMean(n)
	}
	return orNearest(name, grass.Names())
}

// nearestHazard is the hazard plant meant by a misspelt name.
func nearestHazard(name string) string {
	if n, ok := grass.NearestHazard(name); ok {
		return didYouMean(n)
	}
	var known []string
	for _, h := range grass.Hazards() {
		known = append(known, h.Name)
	}
	return orNearest(name, known)
}
