package grass

import "strings"

// Species is what is known of one grass, or of one kind of mixed stand.
// All heights are leaf heights in inches.
type Species struct {
	Name    string   // as typed in the farm file, lower case
	Aliases []string // other spellings understood
	Native  bool     // native warm-season: has a fall rest. Others are grazed through the fall

	Leave   Figure // L: leaf to leave at cutoff; for ground that is no native, the residual
	Target  Figure // T: leaf wanted at frost; unknown for ground that is no native
	Min     Figure // M: lowest stubble that spares the growing point
	Begin   Figure // B: leaf at which to begin grazing
	MaxLeaf Figure // greatest height the leaves reach; growth is never forecast above it

	// Dhurrin marks grasses that are themselves doubtful after a frost while
	// short: indiangrass and mixed natives, which hold indiangrass as a rule.
	Dhurrin bool

	// Hazard names the hazard plant this ground is sown to, or is empty.
	Hazard string
}

// CoolSeason reports whether the species grows through the fall, so that
// standing on it from August on spends winter stockpile.
func (s Species) CoolSeason() bool {
	for _, n := range coolSeason {
		if s.Name == n {
			return true
		}
	}
	return false
}

// All returns every species known, natives first, in the order of the table.
// The slice is the caller's own.
func All() []Species { return append([]Species(nil), table...) }

// Names returns the names of all species in the order of the table.
func Names() []string {
	out := make([]string, len(table))
	for i, s := range table {
		out[i] = s.Name
	}
	return out
}

// Lookup finds a species by name or alias. Case, commas, hyphens and extra
// spaces don't matter. An unknown name gives false.
func Lookup(name string) (Species, bool) {
	key := fold(name)
	if key == "" {
		return Species{}, false
	}
	for _, s := range table {
		if fold(s.Name) == key {
			return s, true
		}
		for _, a := range s.Aliases {
			if fold(a) == key {
				return s, true
			}
		}
	}
	return Species{}, false
}

// Nearest gives the known species name closest to a misspelt one, for a "did
// you mean". It gives false where nothing is within two slips, or one slip for
// words of five letters and less.
func Nearest(name string) (string, bool) {
	best, found := 3, ""
	key := fold(name)
	for _, s := range table {
		for _, n := range append([]string{s.Name}, s.Aliases...) {
			if d := slips(key, fold(n)); d < best && (d < 2 || len(n) > 5) {
				best, found = d, s.Name
			}
		}
	}
	return found, found != ""
}

// fold brings a typed name to the form names are compared in.
func fold(s string) string {
	s = strings.ToLower(s)
	s = strings.Map(func(r rune) rune {
		switch r {
		case ',', '-', '_', '/', '.', '\'', '\u2019', '\t':
			return ' '
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// slips is the number of letters added, dropped, changed or swapped with their
// neighbour between two words (optimal string alignment distance).
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}
