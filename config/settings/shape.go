package settings

import (
	"fmt"
	"reflect"
	"strings"

	"stubbled/config/values"
	"stubbled/notify/terms"
)

// form is what a place in a settings file may hold: one value, or one of these.
type form = values.Form

const (
	object form = values.Count + 1 + iota // known keys only
	list                                  // any number of one shape
	pairs                                 // keys of the reader's own, such as field names
)

// one reports whether the form is that of a single value.
func one(f form) bool { return f <= values.Count }

// wanted is what is said where something else was written.
func wanted(f form) string {
	switch f {
	case object, pairs:
		return "keys with values"
	case list:
		return "a list in [ ] or with dashes"
	}
	return f.String()
}

// shape is one place of a settings file with what may stand in it, as the tags of
// a struct say it:
//
//	key      what it is called; several structs may make one section: those
//	         without a key of their own are part of the one around them
//	as       which of the parsers reads it; text as it stands where none is said
//	in       what the parser takes: a range, or the words known
//	default  the value where nobody wrote one
//	missing  what is said where it isn't written and must be
//	prefix   what the keys of a part begin with; its default and missing name
//	         the key that they are for
//	read     always: the section has its defaults even where nobody wrote it;
//	         later: it is read by itself, once more is known
//	or       off: the word stands in the section's place, as if nobody wrote it
//
// No library that checks structs by tags is used: none of them keeps the line
// of a value, reads a unit, or says what to write instead.
type shape struct {
	form  form
	keys  []string // of an object, in the order they are asked for
	under map[string]*shape
	item  *shape // of a list

	index         []int // of the field in the struct around it
	parse         func(string) (any, error)
	usual         string
	missing       string
	always, later bool
	off           bool
}

var (
	aPairs     = &shape{form: pairs}
	aWord      = &shape{form: values.Word}
	fieldsType = reflect.TypeFor[[]terms.Field]()
)

// shapeOf is the shape of a section that is kept in a struct.
func shapeOf(t reflect.Type) *shape {
	s := &shape{form: object, under: map[string]*shape{}}
	s.add(t, nil, "")
	return s
}

// add takes the keys of a struct, or of a part of it, into a section.
func (s *shape) add(t reflect.Type, index []int, prefix string) {
	for i := range t.NumField() {
		f := t.Field(i)
		at := append(append([]int{}, index...), i)
		key := f.Tag.Get("key")
		if key == "" {
			if f.Type.Kind() == reflect.Struct {
				s.add(f.Type, at, prefix+f.Tag.Get("prefix"))
				s.ofPart(f.Tag)
			}
			continue
		}
		sh := place(f)
		sh.index, sh.usual, sh.missing = at, f.Tag.Get("default"), f.Tag.Get("missing")
		sh.always, sh.later = f.Tag.Get("read") == "always", f.Tag.Get("read") == "later"
		sh.off = f.Tag.Get("or") == "off"
		s.keys = append(s.keys, prefix+key)
		s.under[prefix+key] = sh
	}
}

// ofPart takes what is said of one key of a part where the part stands.
func (s *shape) ofPart(tag reflect.StructTag) {
	if key, usual, ok := strings.Cut(tag.Get("default"), ": "); ok {
		s.under[key].usual = usual
	}
	if key, want, ok := strings.Cut(tag.Get("missing"), ": "); ok {
		s.under[key].missing = want
	}
}

// place is what may stand in one field.
func place(f reflect.StructField) *shape {
	t := f.Type
	as := f.Tag.Get("as")
	if t.Kind() == reflect.Pointer && as == "" {
		t = t.Elem()
	}
	single := func() *shape {
		p, ok := values.Parsers[as]
		if !ok {
			panic(fmt.Sprintf("settings: %s is read as %q, which nothing reads", f.Name, as))
		}
		return &shape{form: p.Form, parse: p.Within(f.Tag.Get("in"))}
	}
	switch {
	case t.Kind() == reflect.Map:
		s := single()
		s.form = pairs
		return s
	case t == fieldsType:
		return &shape{form: pairs}
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct && as == "":
		return &shape{form: list, item: shapeOf(t.Elem())}
	case t.Kind() == reflect.Slice:
		return &shape{form: list, item: single()}
	case t.Kind() == reflect.Struct && as == "":
		return shapeOf(t)
	}
	return single()
}

// secretKey reports whether a key is a place to write a secret, with the key
// that was meant and what to write instead.
func secretKey(key string, s *shape) (meant, instead string, ok bool) {
	if !values.SecretName(key) {
		return "", "", false
	}
	for _, f := range s.keys {
		if stem, isFile := strings.CutSuffix(f, "_file"); isFile {
			return f, stem + "_file (a file that only the daemon may read) or " + stem + "_credential (a name the service manager knows)", true
		}
	}
	return "", "a file or a credential name, such as password_file under carriers", true
}

// A Key is one place of a settings file as a page tells of it.
type Key struct {
	Name  string // whole: paddocks[].rest.days
	Holds string // in words: a length with its unit, such as 8in
	Usual string // the value where nobody wrote one
	Must  bool   // it is refused where it isn't written
}

// Keys are all that may be written, in the order in which they are asked for.
func (f *Format) Keys() []Key { return keysBelow(f.shape, "") }

func keysBelow(sh *shape, at string) (all []Key) {
	for _, k := range sh.keys {
		switch under, name := sh.under[k], dotted(at, k); {
		case under.form == object:
			all = append(all, keysBelow(under, name)...)
		case under.form == list && under.item.form == object:
			all = append(all, keysBelow(under.item, name+"[]")...)
		default:
			all = append(all, Key{name, under.holds(), under.usual, under.missing != ""})
		}
	}
	return all
}

// holds says what may be written, in the words of the parser that refuses
// anything else.
func (s *shape) holds() string {
	switch {
	case s.form == list:
		return "a list, each " + s.item.holds()
	case s.form == pairs || s.parse == nil:
		return wanted(s.form)
	}
	_, err := s.parse("?")
	if err == nil {
		return wanted(s.form)
	}
	want, _, _ := strings.Cut(strings.TrimPrefix(err.Error(), "want "), ", got ")
	if _, known, ok := strings.Cut(want, "; known are "); ok {
		return "one of " + known
	}
	if strings.Contains(want, `"?"`) { // it says what is wrong with that
		return wanted(s.form)
	}
	return want
}
