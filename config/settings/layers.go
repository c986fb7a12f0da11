package settings

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/viper"

	"stubbled/scheduler/spell"
)

// A leaf is the place of one setting.
type leaf struct {
	*shape
	key, parent, last string // rest.days is days in rest
	env               string // the variable that sets it
	always            bool   // the section around it has its defaults even where nobody wrote it
}

// leavesOf are all single values outside lists with their dotted keys, in the
// order of the shape.
func (f *Format) leavesOf(sh *shape, at string) (all []leaf) {
	for _, k := range sh.keys {
		switch under, key := sh.under[k], dotted(at, k); {
		case under.form == object:
			all = append(all, f.leavesOf(under, key)...)
		case one(under.form):
			env := f.EnvPrefix + strings.ToUpper(strings.ReplaceAll(key, ".", "_"))
			all = append(all, leaf{under, key, at, k, env, sh.always})
		}
	}
	return all
}

// layer is the second pass: viper lays defaults and the environment over the
// file's settings, and each value in force goes back into the tree with where
// it came from. Only text goes through viper, so nothing is converted on the
// way.
func (r *Reading) layer() {
	v := viper.New()
	file := map[string]any{}
	for _, s := range r.format.leaves {
		v.SetDefault(s.key, s.usual)
		if r.Source.Environment {
			// The only error is an empty list of names.
			_ = v.BindEnv(s.key, s.env)
		}
		if e := r.Root.at(s.key); e != nil {
			file[s.key] = e.Text
		}
	}
	if err := v.MergeConfigMap(file); err != nil {
		r.Say(r.Root, "cannot be layered: %v", err)
		return
	}
	// The environment first, since a section that only it writes has its
	// defaults too.
	for _, s := range r.format.leaves {
		if r.Source.Environment && os.Getenv(s.env) != "" {
			r.lay(s, v.GetString(s.key), fromEnvironment, s.env)
		}
	}
	for _, s := range r.format.leaves {
		section := r.Root.at(s.parent)
		if value := v.GetString(s.key); value != "" && !section.Written(s.last) && (s.always || section != nil) {
			r.lay(s, value, fromDefault, r.File)
		}
	}
	r.strayEnv()
}

// lay puts the value in force into the tree.
func (r *Reading) lay(s leaf, value string, from origin, file string) {
	if where := r.open(s.parent); where != nil {
		where.under[s.last] = &Entry{Key: s.key, file: file, from: from, shape: s.shape, Text: value}
	}
}

// open is the section at a dotted path, made where nobody wrote it; nil where
// what was written there was refused.
func (r *Reading) open(path string) *Entry {
	e := r.Root
	at := ""
	for _, k := range strings.Split(path, ".") {
		at = dotted(at, k)
		next, written := e.under[k]
		if next == nil {
			if written {
				return nil
			}
			next = &Entry{Key: at, file: r.File, Line: e.Line, from: fromDefault, shape: e.shape.under[k], under: map[string]*Entry{}}
			e.under[k] = next
		}
		e = next
	}
	return e
}

// Opened is a section that has its defaults even where nobody wrote it; nil
// where what was written there was refused.
func (r *Reading) Opened(path string) *Entry {
	if r.Root.at(path) != nil {
		return r.Root.at(path)
	}
	e := r.open(path)
	for _, s := range r.format.leaves {
		if e != nil && s.parent == path && s.usual != "" {
			r.lay(s, s.usual, fromDefault, r.File)
		}
	}
	return e
}

// strayEnv warns of a variable that is no setting but nearly one.
func (r *Reading) strayEnv() {
	if !r.Source.Environment {
		return
	}
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		sets := func(s leaf) bool { return s.env == name }
		if !strings.HasPrefix(name, r.format.EnvPrefix) || slices.Contains(r.format.NoSettings, name) || slices.ContainsFunc(r.format.leaves, sets) {
			continue
		}
		near := slices.IndexFunc(r.format.leaves, func(s leaf) bool { return spell.Distance(name, s.env) <= 2 })
		if near >= 0 {
			r.Warnings = append(r.Warnings, Problem{File: name, Text: fmt.Sprintf("sets nothing; did you mean %s?", r.format.leaves[near].env)})
		}
	}
}
