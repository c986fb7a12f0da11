package settings

import "strings"

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
		under, name := sh.under[k], dotted(at, k)
		switch {
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
