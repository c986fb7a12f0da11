package config

import (
	"strings"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/herd"
)

// A call is one name that a paddock or herd answers to when texted.
type call struct {
	name   string // as written
	folded string // how names are compared
	heard  string // how a text is: numbers in digits
	owner  string // paddocks[2] or herds[0]
	title  string // its name as people say it
	herd   bool
	entry  *settings.Entry
}

// roll is everybody's names, in file order.
type roll struct {
	*settings.Report
	calls []call
}

// add puts a name on the roll and checks it by itself.
func (r *roll) add(c call) {
	c.folded, c.heard = values.Fold(c.name), values.Heard(c.name)
	switch {
	case c.folded == "":
		r.Say(c.entry, "%q has no letter or digit that could be texted", values.Clip(c.name))
		return
	case values.IsNumber(c.folded):
		r.Say(c.entry, "%q is a number, and a number in a text is a height; add a letter, such as p%s", c.name, c.folded)
		return
	case values.Commands()[c.folded], !c.herd && values.Stock()[c.folded]:
		r.Say(c.entry, "%q is a word that means something else in a text, so no %s may answer to it; choose another", values.Clip(c.name), ownerWord(c))
		return
	}
	if values.IsNumber(c.heard) {
		r.Warn(c.entry, "%q also reads as a height; a longer name is safer", c.name)
	}
	r.calls = append(r.calls, c)
}

// check checks everybody's names against each other: no two answer to one,
// and none reads as a command to another.
func (r *roll) check() {
	first := make(map[string]call, 2*len(r.calls))
	for _, c := range r.calls {
		was, taken := first[c.heard]
		if !taken {
			was, taken = first[c.folded]
		}
		if taken && was.owner != c.owner {
			r.Say(c.entry, "%q is already what %s (%s, line %d) answers to; case, spaces and marks don't count", c.name, was.title, was.owner, was.entry.Line)
		}
		for _, key := range []string{c.heard, c.folded} {
			if _, taken := first[key]; !taken {
				first[key] = c
			}
		}
	}
	for _, c := range r.calls {
		r.confusable(c, first)
	}
}

// confusable looks for a name that could be read as another's name with a
// command or a height.
func (r *roll) confusable(c call, first map[string]call) {
	parts := strings.FieldsFunc(c.name, func(r rune) bool { return values.Fold(string(r)) == "" })
	if len(parts) < 2 {
		return
	}
	head, tail := values.Fold(parts[0]), values.Fold(parts[len(parts)-1])
	afterHead, beforeTail := values.Heard(strings.Join(parts[1:], " ")), values.Heard(strings.Join(parts[:len(parts)-1], " "))
	if o, ok := first[afterHead]; ok && o.owner != c.owner && values.TakesPaddock()[head] {
		r.Say(c.entry, "the text %q would be the word %s about %s; choose another name", c.name, parts[0], o.title)
	}
	switch o, ok := first[beforeTail]; {
	case !ok || o.owner == c.owner:
	case values.TakesPaddock()[tail]:
		r.Say(c.entry, "the text %q would be the word %s about %s; choose another name", c.name, parts[len(parts)-1], o.title)
	case values.IsNumber(values.Heard(tail)):
		r.Warn(c.entry, "the text %q means this %s, never a height in %s; an alias for %s keeps them apart",
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
func checkLength(r *settings.Report, e *settings.Entry, name string, most int) bool {
	n, err := values.Septets(name)
	if err != nil {
		r.Say(e, "%v", err)
		return false
	}
	if n > most {
		r.Say(e, "%q takes %d characters of a text; want at most %d", values.Clip(name), n, most)
		return false
	}
	return true
}

// aliases reads a list of other names.
func aliases(r *settings.Report, e *settings.Entry) (out []string, at []*settings.Entry) {
	seen := map[string]bool{}
	for _, a := range e.Get("aliases").List() {
		name := strings.Join(strings.Fields(a.Text), " ")
		if !checkLength(r, a, name, values.LongestAlias) {
			continue
		}
		if seen[values.Fold(name)] {
			r.Say(a, "%q is listed twice", name)
			continue
		}
		seen[values.Fold(name)] = true
		out, at = append(out, name), append(at, a)
	}
	return out, at
}

// herds reads the list of herds. A farm may have none.
func (l *loader) herds(rows []herd.Herd) {
	ids := map[string]*settings.Entry{}
	for i, e := range l.Root.Get("herds").List() {
		h := rows[i]
		fresh := h.ID != "" && l.fresh(e.Get("id"), h.ID, ids, idTaken)
		if at := e.Get("paddock"); at != nil {
			if _, ok := l.farm.Paddock(h.Paddock); !ok {
				l.Say(at, "no paddock has the id %q%s", values.Clip(h.Paddock), l.paddockMeant(h.Paddock))
			}
		}
		h.Aliases = l.answers(e, call{owner: e.Key, title: h.ID, herd: true}, fresh, h.ID, "")
		l.farm.Herds = append(l.farm.Herds, h)
	}
}

// answers puts the names on the roll that texts call a paddock or a herd by: its id
// where that is fresh (one that is taken was told already), its name, and its
// aliases, which it gives back.
func (l *loader) answers(e *settings.Entry, c call, fresh bool, id, name string) []string {
	other, at := aliases(&l.Report, e)
	own := map[string]bool{}
	add := func(name string, at *settings.Entry) {
		if at == nil || own[values.Heard(name)] {
			return // an alias may be its own paddock's id or name
		}
		own[values.Heard(name)] = true
		c.name, c.entry = name, at
		l.calls.add(c)
	}
	if fresh {
		add(id, e.Get("id"))
	}
	add(name, e.Get("name"))
	for i, a := range other {
		add(a, at[i])
	}
	return other
}
