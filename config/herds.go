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
		l.herdAnswers(e, &h, fresh)
		l.farm.Herds = append(l.farm.Herds, h)
	}
}

func (l *loader) herdAnswers(e *settings.Entry, h *herd.Herd, fresh bool) {
	c := call{owner: e.Key, title: h.ID, herd: true}
	var at []*settings.Entry
	h.Aliases, at = aliases(&l.Report, e)
	if fresh {
		c.name, c.entry = h.ID, e.Get("id")
		l.calls.add(c)
	}
	for i, a := range h.Aliases {
		if values.Fold(a) != values.Fold(h.ID) {
			c.name, c.entry = a, at[i]
			l.calls.add(c)
		}
	}
}
