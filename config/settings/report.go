package settings

import (
	"fmt"
	"strings"
)

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
	for _, p := range r.Problems {
		if strings.HasPrefix(p.Key, prefix) {
			return true
		}
	}
	return false
}
