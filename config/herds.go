package config

import (
	"stubbled/config/values"
	"stubbled/scheduler/herd"
)

// herds reads the list of herds. A farm may have none.
func (l *loader) herds(rows []herdKeys) {
	ids := map[string]*entry{}
	for i, e := range l.root.get("herds").list() {
		k := rows[i]
		h := herd.Herd{Head: k.Head, Kind: k.Kind, WeightLb: k.Weight, Calving: k.Calving, Weaned: k.Weaned, Paddock: k.Paddock}
		fresh := false
		if id, ok := value[string](l, e.get("id")); ok {
			h.ID, fresh = id, l.unique(e.get("id"), id, ids)
		}
		if at := e.get("paddock"); at != nil {
			if _, ok := l.farm.Paddock(h.Paddock); !ok {
				l.say(at, "no paddock has the id %q%s", values.Clip(h.Paddock), values.OrOneOf(h.Paddock, l.paddockIDs()))
			}
		}
		l.herdAnswers(e, &h, fresh)
		l.farm.Herds = append(l.farm.Herds, h)
	}
}

// paddockIDs are what a herd or a fall use may name.
func (l *loader) paddockIDs() []string {
	var ids []string
	for _, p := range l.farm.Paddocks {
		ids = append(ids, p.ID)
	}
	return ids
}

func (l *loader) herdAnswers(e *entry, h *herd.Herd, fresh bool) {
	c := call{owner: e.key, title: h.ID, herd: true}
	var at []*entry
	h.Aliases, at = l.aliases(e)
	if fresh {
		c.name, c.entry = h.ID, e.get("id")
		l.answer(c)
	}
	for i, a := range h.Aliases {
		if values.Fold(a) != values.Fold(h.ID) {
			c.name, c.entry = a, at[i]
			l.answer(c)
		}
	}
}
