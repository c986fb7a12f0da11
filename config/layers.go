package config

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/viper"
)

// settingKeys are all single values outside lists, as dotted keys in the order
// of the file's shape.
func settingKeys() []string {
	var out []string
	var collect func(sh *shape, at string)
	collect = func(sh *shape, at string) {
		for _, k := range sh.keys {
			under, key := sh.under[k], dotted(at, k)
			switch under.sort {
			case object:
				collect(under, key)
			case word, amount, count:
				out = append(out, key)
			}
		}
	}
	collect(fileShape, "")
	return out
}

// envName is the environment variable of a setting.
func envName(key string) string {
	return EnvPrefix + strings.ToUpper(strings.ReplaceAll(key, ".", "_"))
}

// layer is the second pass: viper lays defaults, the environment and flags
// over the file's settings, and each value in force goes back into the tree
// with where it came from. Only text goes through viper, so nothing is
// converted on the way.
func (l *loader) layer() {
	v := viper.New()
	keys := settingKeys()
	file := map[string]any{}
	for _, key := range keys {
		if d, ok := defaults[key]; ok {
			v.SetDefault(key, d)
		}
		if l.env {
			// The only error is an empty list of names.
			_ = v.BindEnv(key, envName(key))
		}
		if e := l.root.at(key); e != nil {
			nest(file, key, e.text)
		}
	}
	if err := v.MergeConfigMap(file); err != nil {
		l.say(l.root, "cannot be layered: %v", err)
		return
	}
	for key, value := range l.flags {
		if !slices.Contains(keys, key) {
			l.problems = append(l.problems, Problem{File: "flag", Key: key, Text: "no such setting" + orNearest(key, keys)})
			continue
		}
		v.Set(key, value)
	}
	// Twice, since a section that only the environment writes has its defaults
	// too, those of the keys before it as well.
	for range 2 {
		for _, key := range keys {
			l.lay(key, v.GetString(key))
		}
	}
	l.strayEnv(keys)
}

// lay puts the value in force into the tree.
func (l *loader) lay(key, value string) {
	parent, last := split(key)
	written := l.root.at(key)
	from := fromDefault
	_, isFlag := l.flags[key]
	switch {
	case isFlag:
		from = fromFlag
	case l.env && os.Getenv(envName(key)) != "":
		from = fromEnvironment
	case written != nil:
		return
	case l.root.at(parent).written(last), value == "":
		return
	case !always[parent] && l.root.at(parent) == nil:
		return
	}
	e := &entry{key: key, from: from, sort: amount, text: value}
	switch from {
	case fromEnvironment:
		e.file = envName(key)
	case fromFlag:
		e.file = "flag"
	default:
		e.file = l.file
	}
	if where := l.open(parent); where != nil {
		where.under[last] = e
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
			next = &entry{key: at, file: l.file, line: e.line, from: fromDefault, sort: object, under: map[string]*entry{}}
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
	for _, key := range settingKeys() {
		if parent, _ := split(key); e != nil && parent == path {
			l.lay(key, defaults[key])
		}
	}
	return e
}

// strayEnv warns of a variable that is no setting but nearly one.
func (l *loader) strayEnv(keys []string) {
	if !l.env {
		return
	}
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = envName(k)
	}
	for _, pair := range os.Environ() {
		name, _, _ := strings.Cut(pair, "=")
		if !strings.HasPrefix(name, EnvPrefix) || otherEnv[name] || slices.Contains(names, name) {
			continue
		}
		for _, n := range names {
			if slips(name, n) <= 2 {
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

// nest puts a value at a dotted path of nested maps.
func nest(into map[string]any, key, value string) {
	parts := strings.Split(key, ".")
	for _, p := range parts[:len(parts)-1] {
		next, ok := into[p].(map[string]any)
		if !ok {
			next = map[string]any{}
			into[p] = next
		}
		into = next
	}
	into[parts[len(parts)-1]] = value
}
