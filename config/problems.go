package config

import (
	"fmt"
	"slices"
	"strings"
)

// A Problem is one thing wrong in the farm file, where it stands and how to
// mend it.
type Problem struct {
	File string // the farm file, a file that it names, or an environment variable
	Line int    // 0 where there is none
	Key  string // as paddocks[2].rest.days; empty is the whole file
	Text string
}

// Error is `farm.yaml:41: paddocks[2].rest.days: want ..., got ...`.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	b.WriteString(": ")
	if p.Key != "" {
		b.WriteString(p.Key + ": ")
	}
	b.WriteString(p.Text)
	return b.String()
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

// inOrder sorts by line, the farm file before other files, and drops what is
// said twice.
func (ps Problems) inOrder(file string) Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		if (a.File == file) != (b.File == file) {
			if a.File == file {
				return -1
			}
			return 1
		}
		if c := strings.Compare(a.File, b.File); c != 0 {
			return c
		}
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return strings.Compare(a.Key, b.Key)
	})
	return slices.Compact(ps)
}
