// Package settings is in charge of reading a settings file in YAML whose keys
// are declared once, by the tags of a struct: every value with the line on which
// it stands, every problem at once, and where each value in force came from.
//
// It knows no key of the farm file, never judges what values say together, and
// keeps no secret: a file names where secrets are kept.
//
// Two passes go over the same bytes. The first walks the YAML with its line
// numbers against the known keys and refuses whatever it doesn't know. The
// second lays defaults and the environment over it. What is left is read into
// the struct, value by value, by the parsers of config/values.
package settings

import (
	"fmt"
	"path/filepath"
	"reflect"
)

// A Format is one kind of settings file.
type Format struct {
	Name     string // as people say it: farm file
	Sections string // what is asked for where the file is empty
	// EnvPrefix begins the name of every environment variable that sets a
	// setting: rest.days is STUBBLED_REST_DAYS. NoSettings are variables of that
	// prefix that set none.
	EnvPrefix  string
	NoSettings []string
	// Quoted is what to put in quotes where text is wanted and a bare number was
	// written.
	Quoted func(key, written string) string

	shape  *shape
	leaves []leaf
}

// For is the format with the keys of a struct.
func (f Format) For(keys reflect.Type) *Format {
	f.shape = shapeOf(keys)
	f.leaves = f.leavesOf(f.shape, "")
	return &f
}

// A Source is where a settings file comes from and what may be looked at
// besides it.
type Source struct {
	File        string
	Dir         string            // what the paths in it are relative to
	Environment bool              // variables count
	Touch       func(path string) // called before another file is looked at; nil: none is
}

// Beside is a path as the file means it: relative to its own folder.
func (s Source) Beside(path string) string {
	if path == "" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(s.Dir, path)
}

// A Reading is one settings file on its way in.
type Reading struct {
	Report
	Source Source
	Root   *Entry // nil where there is nothing to read; the problems say why

	format *Format
}

// Read takes the bytes through both passes.
func (f *Format) Read(from Source, data []byte) *Reading {
	r := &Reading{Report: Report{File: from.File}, Source: from, format: f}
	if r.Root = r.document(data); r.Root != nil {
		r.layer()
	}
	return r
}

// A Setting is one value in force and where it came from.
type Setting struct {
	Key, Value, From string
}

// InForce lists the settings with where each came from.
func (r *Reading) InForce() []Setting {
	var out []Setting
	for _, place := range r.format.leaves {
		e := r.Root.at(place.key)
		if e == nil {
			continue
		}
		from := map[origin]string{fromFile: fmt.Sprintf("%s:%d", e.file, e.Line), fromDefault: "default", fromEnvironment: e.file}
		out = append(out, Setting{place.key, e.Text, from[e.from]})
	}
	return out
}
