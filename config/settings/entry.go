package settings

import (
	"strings"
)

// origin is where a value came from.
type origin int

const (
	fromFile origin = iota
	fromDefault
	fromEnvironment
)

// Entry is one place of a settings file that held what it may hold. Methods
// work on a nil entry, which is a key that wasn't written.
type Entry struct {
	Key  string // whole: paddocks[2].rest.days
	Line int    // 0 where nobody wrote it
	Text string // of a single value
	// Pairs are keys of the reader's own with their values, in the order written.
	Pairs []Pair

	file  string
	from  origin
	shape *shape
	under map[string]*Entry
	items []*Entry
}

// Pair is one key of the reader's own with its value.
type Pair struct {
	Name string
	*Entry
}

// Get is what stands under a key; nil where nothing does.
func (e *Entry) Get(key string) *Entry {
	if e == nil {
		return nil
	}
	return e.under[key]
}

// Written reports whether a key was written, even if what it holds was refused.
func (e *Entry) Written(key string) bool {
	if e == nil {
		return false
	}
	_, ok := e.under[key]
	return ok
}

// List is what a list holds.
func (e *Entry) List() []*Entry {
	if e == nil {
		return nil
	}
	return e.items
}

// Said reports whether somebody wrote it, in the file or in the environment:
// it is no default.
func (e *Entry) Said() bool { return e != nil && e.from != fromDefault }

// InFile reports whether it stands in the file itself.
func (e *Entry) InFile() bool { return e != nil && e.from == fromFile }

// Word is the text of a single value; empty where nobody wrote one.
func (e *Entry) Word() string {
	if e == nil {
		return ""
	}
	return e.Text
}

// at is what stands at a dotted path.
func (e *Entry) at(path string) *Entry {
	for _, k := range strings.Split(path, ".") {
		e = e.Get(k)
	}
	return e
}
