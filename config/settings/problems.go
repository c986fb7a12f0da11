package settings

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Problem is one thing wrong in a settings file, where it stands and how to
// mend it.
type Problem struct {
	File string // the settings file, a file that it names, or an environment variable
	Line int    // 0 where there is none
	Key  string // as paddocks[2].rest.days; empty is the whole file
	Text string
}

// Error is `farm.yaml:41: paddocks[2].rest.days: want ..., got ...`.
func (p Problem) Error() string {
	where := p.Where()
	if p.Key != "" {
		where += ": " + p.Key
	}
	return where + ": " + p.Text
}

// Where is the file, with its line where there is one.
func (p Problem) Where() string {
	if p.Line > 0 {
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return p.File
}

// Problems is everything wrong at once, in the order of the file.
type Problems []Problem

// Error is one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each problem as an error of its own.
func (ps Problems) Unwrap() []error {
	out := make([]error, len(ps))
	for i, p := range ps {
		out[i] = p
	}
	return out
}

// InOrder sorts by line, the settings file before other files, and drops what
// is said twice.
func (ps Problems) InOrder(file string) Problems {
	others := func(p Problem) int {
		if p.File == file {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(others(a)-others(b), strings.Compare(a.File, b.File), a.Line-b.Line, strings.Compare(a.Key, b.Key))
	})
	return slices.Compact(ps)
}
