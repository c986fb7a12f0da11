package config

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/viper"

	"stubbled/scheduler/spell"
)

// EnvPrefix begins the name of every environment variable that sets a setting:
// rest.days is STUBBLED_REST_DAYS.
const EnvPrefix = "STUBBLED_"

// otherEnv are variables of that prefix that are no settings.
var otherEnv = map[string]bool{"STUBBLED_FARM": true, "STUBBLED_DB": true, "STUBBLED_DATA": true}

// settings are all single values outside lists with their dotted keys, in the
// order of the file's shape.
var settings = leaves(fileShape, "")

// A leaf is the place of one setting.
type leaf struct {
	key string
	*shape
	always bool // the section around it has its defaults even where nobody wrote it
}

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
func envName(key string) string {
	return EnvPrefix + strings.ToUpper(strings.ReplaceAll(key, ".", "_"))
}

// layer is the second pass: viper lays defaults and the environment over the
// file's settings, and each value in force goes back into the tree with where
// it came from. Only text goes through viper, so nothing is converted on the
// way.
func (l *loader) layer() {
	v := viper.New()
	file := map[string]any{}
	for _, s := range settings {
		v.SetDefault(s.key, s.usual)
		if l.env {
			// The only error is an empty list of names.
			_ = v.BindEnv(s.key, envName(s.key))
		}
		if e := l.root.at(s.key); e != nil {
			file[s.key] = e.text
		}
	}
	if err := v.MergeConfigMap(file); err != nil {
		l.say(l.root, "cannot be layered: %v", err)
		return
	}
	// The environment first, since a section that only it writes has its
	// defaults too.
	for _, s := range settings {
		if l.env && os.Getenv(envName(s.key)) != "" {
			l.lay(s, v.GetString(s.key), fromEnvironment, envName(s.key))
		}
	}
	for _, s := range settings {
		parent, last := split(s.key)
		section := l.root.at(parent)
		if value := v.GetString(s.key); value != "" && !section.written(last) && (s.always || section != nil) {
			l.lay(s, value, fromDefault, l.file)
		}
	}
	l.strayEnv()
}

// lay puts the value in force into the tree.
func (l *loader) lay(s leaf, value string, from origin, file string) {
	parent, last := split(s.key)
	if where := l.open(parent); where != nil {
		where.under[last] = &entry{key: s.key, file: file, from: from, shape: s.shape, text: value}
	}
}

// open is the section at a dotted path, made where nobody wrote it; nil where
// what was written there was refused.
func (l *loader) open(path string) *entry {
	e := l.root
	at := ""
	for _, k := range strings.Split(path, ".") {
		at = dotted(at, k)
		next, written := e.under[k]
		if next == nil {
			if written {
				return nil
			}
			next = &entry{key: at, file: l.file, line: e.line, from: fromDefault, shape: e.shape.under[k], under: map[string]*entry{}}
			e.under[k] = next
		}
		e = next
	}
	return e
}

// opened is a section that has its defaults even where nobody wrote it; nil
// where what was written there was refused.
func (l *loader) opened(path string) *entry {
	if l.root.at(path) != nil {
		return l.root.at(path)
	}
	e := l.open(path)
	for _, s := range settings {
		if parent, _ := split(s.key); e != nil && parent == path && s.usual != "" {
			l.lay(s, s.usual, fromDefault, l.file)
		}
	}
	return e
}

// strayEnv warns of a variable that is no setting but nearly one.
func (l *loader) strayEnv() {
	if !l.env {
		return
	}
	names := make([]string, len(settings))
	for i, s := range settings {
		names[i] = envName(s.key)
	}
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		if !strings.HasPrefix(name, EnvPrefix) || otherEnv[name] || slices.Contains(names, name) {
			continue
		}
		for _, n := range names {
			if spell.Distance(name, n) <= 2 {
				l.warnings = append(l.warnings, Problem{File: name, Text: fmt.Sprintf("sets nothing; did you mean %s?", n)})
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
