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
	key string
	*shape
	always bool // the section around it has its defaults even where nobody wrote it
}

// leaves are all single values outside lists with their dotted keys, in the
// order of the shape.
func leaves(sh *shape, at string) (all []leaf) {
	for _, k := range sh.keys {
		under, key := sh.under[k], dotted(at, k)
		switch {
		case under.form == object:
			all = append(all, leaves(under, key)...)
		case one(under.form):
			all = append(all, leaf{key, under, sh.always})
		}
	}
	return all
}

// envName is the environment variable of a setting.
func (f *Format) envName(key string) string {
	return f.EnvPrefix + strings.ToUpper(strings.ReplaceAll(key, ".", "_"))
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
			_ = v.BindEnv(s.key, r.format.envName(s.key))
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
		if r.Source.Environment && os.Getenv(r.format.envName(s.key)) != "" {
			r.lay(s, v.GetString(s.key), fromEnvironment, r.format.envName(s.key))
		}
	}
	for _, s := range r.format.leaves {
		parent, last := split(s.key)
		section := r.Root.at(parent)
		if value := v.GetString(s.key); value != "" && !section.Written(last) && (s.always || section != nil) {
			r.lay(s, value, fromDefault, r.File)
		}
	}
	r.strayEnv()
}

// lay puts the value in force into the tree.
func (r *Reading) lay(s leaf, value string, from origin, file string) {
	parent, last := split(s.key)
	if where := r.open(parent); where != nil {
		where.under[last] = &Entry{Key: s.key, file: file, from: from, shape: s.shape, Text: value}
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
		if parent, _ := split(s.key); e != nil && parent == path && s.usual != "" {
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
	names := make([]string, len(r.format.leaves))
	for i, s := range r.format.leaves {
		names[i] = r.format.envName(s.key)
	}
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		if !strings.HasPrefix(name, r.format.EnvPrefix) || slices.Contains(r.format.NoSettings, name) || slices.Contains(names, name) {
			continue
		}
		for _, n := range names {
			if spell.Distance(name, n) <= 2 {
				r.Warnings = append(r.Warnings, Problem{File: name, Text: fmt.Sprintf("sets nothing; did you mean %s?", n)})
				break
			}
		}
	}
}

func split(key string) (parent, last string) {
	i := strings.LastIndexByte(key, '.')
	if i < 0 {
		return "", key
	}
	return key[:i], key[i+1:]
}
