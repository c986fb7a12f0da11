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

// A Report gathers what is wrong in a settings file while it is read.
type Report struct {
	File     string
	Problems Problems // what makes it refused
	Warnings Problems // what stops nothing
}

// Say tells a problem at an entry; at the whole file where there is none.
func (r *Report) Say(e *Entry, format string, args ...any) {
	r.Problems = append(r.Problems, r.at(e, format, args))
}

// Warn tells what stops nothing.
func (r *Report) Warn(e *Entry, format string, args ...any) {
	r.Warnings = append(r.Warnings, r.at(e, format, args))
}

func (r *Report) at(e *Entry, format string, args []any) Problem {
	p := Problem{File: r.File, Text: fmt.Sprintf(format, args...)}
	if e != nil {
		p.File, p.Line, p.Key = e.file, e.Line, e.Key
	}
	return p
}

// Required tells of a key that isn't written. What was written and refused was
// told already.
func (r *Report) Required(section *Entry, key, want string) {
	if section != nil && !section.Written(key) {
		r.lacks(section, key, want)
	}
}

func (r *Report) lacks(section *Entry, key, want string) {
	r.Problems = append(r.Problems, Problem{File: r.File, Line: max(section.Line, 1), Key: dotted(section.Key, key), Text: "missing; " + want})
}

// Wrong reports whether a problem was told at a key that begins so.
func (r *Report) Wrong(prefix string) bool {
	return slices.ContainsFunc(r.Problems, func(p Problem) bool { return strings.HasPrefix(p.Key, prefix) })
}
