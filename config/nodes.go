package config

import (
	"strings"
)

// origin is where a value came from.
type origin int

const (
	fromFile origin = iota
	fromDefault
	fromEnvironment
	fromFlag
)

// entry is one place of the farm file that held what it may hold. Methods work
// on a nil entry, which is a key that wasn't written.
type entry struct {
	key   string
	file  string
	line  int
	from  origin
	shape *shape
	text  string
	under map[string]*entry
	items []*entry
	pairs []pair
}

// pair is one key of the reader's own with its value, in the order written.
type pair struct {
	name string
	*entry
}

// get is what stands under a key; nil where nothing does.
func (e *entry) get(key string) *entry {
	if e == nil {
		return nil
	}
	return e.under[key]
}

// written reports whether a key was written, even if what it holds was refused.
func (e *entry) written(key string) bool {
	if e == nil {
		return false
	}
	_, ok := e.under[key]
	return ok
}

// at is what stands at a dotted path.
func (e *entry) at(path string) *entry {
	for _, k := range strings.Split(path, ".") {
		e = e.get(k)
	}
	return e
}

func (e *entry) list() []*entry {
	if e == nil {
		return nil
	}
	return e.items
}
