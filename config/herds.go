package config

import (
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/herd"
)

// herds reads the list of herds. A farm may have none.
func (l *loader) herds(rows []herdKeys) {
	ids := map[string]*settings.Entry{}
	for i, e := range l.Root.Get("herds").List() {
		k := rows[i]
		h := herd.Herd{ID: k.ID, Head: k.Head, Kind: k.Kind, WeightLb: k.Weight, Calving: k.Calving, Weaned: k.Weaned, Paddock: k.Paddock}
		fresh := h.ID != "" && l.unique(e.Get("id"), h.ID, ids)
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
