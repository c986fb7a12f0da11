package config

import (
	"strings"

	"stubbled/config/values"
)

// A call is one name that a paddock or herd answers to when texted.
type call struct {
	name   string // as written
	folded string // how names are compared
	heard  string // how a text is: numbers in digits
	owner  string // paddocks[2] or herds[0]
	title  string // its name as people say it
	herd   bool
	entry  *entry
}

// roll is everybody's names, in file order.
type roll []call

// answer puts a name on the roll and checks it by itself.
func (l *loader) answer(c call) {
	c.folded, c.heard = values.Fold(c.name), values.Heard(c.name)
	what := "paddock"
	if c.herd {
		what = "herd"
	}
	switch {
	case c.folded == "":
		l.say(c.entry, "%q has no letter or digit that could be texted", values.Clip(c.name))
		return
	case values.IsNumber(c.folded):
		l.say(c.entry, "%q is a number, and a number in a text is a height; add a letter, such as p%s", c.name, c.folded)
		return
	case values.Commands()[c.folded], !c.herd && values.Stock()[c.folded]:
		l.say(c.entry, "%q is a word that means something else in a text, so no %s may answer to it; choose another", values.Clip(c.name), what)
		return
	}
	if values.IsNumber(c.heard) {
		l.warn(c.entry, "%q also reads as a height; a longer name is safer", c.name)
	}
	l.calls = append(l.calls, c)
}

// answers checks everybody's names against each other: no two answer to one,
// and none reads as a command to another.
func (l *loader) answers() {
	first := make(map[string]call, 2*len(l.calls))
	for _, c := range l.calls {
		was, taken := first[c.heard]
		if !taken {
			was, taken = first[c.folded]
		}
		if taken && was.owner != c.owner {
			l.say(c.entry, "%q is already what %s (%s, line %d) answers to; case, spaces and marks don't count", c.name, was.title, was.owner, was.entry.line)
		}
		for _, key := range []string{c.heard, c.folded} {
			if _, taken := first[key]; !taken {
				first[key] = c
			}
		}
	}
	for _, c := range l.calls {
		l.confusable(c, first)
	}
}

// confusable looks for a name that could be read as another's name with a
// command or a height.
func (l *loader) confusable(c call, first map[string]call) {
	parts := strings.FieldsFunc(c.name, func(r rune) bool { return values.Fold(string(r)) == "" })
	if len(parts) < 2 {
		return
	}
	head, tail := values.Fold(parts[0]), values.Fold(parts[len(parts)-1])
	afterHead, beforeTail := values.Heard(strings.Join(parts[1:], " ")), values.Heard(strings.Join(parts[:len(parts)-1], " "))
	if o, ok := first[afterHead]; ok && o.owner != c.owner && values.TakesPaddock()[head] {
		l.say(c.entry, "the text %q would be the word %s about %s; choose another name", c.name, parts[0], o.title)
	}
	o, ok := first[beforeTail]
	switch {
	case !ok || o.owner == c.owner:
	case values.TakesPaddock()[tail]:
		l.say(c.entry, "the text %q would be the word %s about %s; choose another name", c.name, parts[len(parts)-1], o.title)
	case values.IsNumber(values.Heard(tail)):
		l.warn(c.entry, "the text %q means this %s, never a height in %s; an alias for %s keeps them apart",
			strings.ToLower(c.name), ownerWord(c), o.title, o.title)
	}
}

func ownerWord(c call) string {
	if c.herd {
		return "herd"
	}
	return "paddock"
}

// checkLength tells of a name that takes too much of a text.
func (l *loader) checkLength(e *entry, name string, most int) bool {
	n, err := values.Septets(name)
	if err != nil {
		l.say(e, "%v", err)
		return false
	}
	if n > most {
		l.say(e, "%q takes %d characters of a text; want at most %d", values.Clip(name), n, most)
		return false
	}
	return true
}

// aliases reads a list of other names.
func (l *loader) aliases(e *entry) (out []string, at []*entry) {
	seen := map[string]bool{}
	for _, a := range e.get("aliases").list() {
		name := strings.Join(strings.Fields(a.text), " ")
		if !l.checkLength(a, name, values.LongestAlias) {
			continue
		}
		if seen[values.Fold(name)] {
			l.say(a, "%q is listed twice", name)
			continue
		}
		seen[values.Fold(name)] = true
		out, at = append(out, name), append(at, a)
	}
	return out, at
}
