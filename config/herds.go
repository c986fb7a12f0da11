package config

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/golang-sql/civil"

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
				l.say(at, "no paddock has the id %q%s", clip(h.Paddock), orOneOf(h.Paddock, l.paddockIDs()))
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
		if fold(a) != fold(h.ID) {
			c.name, c.entry = a, at[i]
			l.answer(c)
		}
	}
}

func parseKind(text string) (herd.Kind, error) {
	if k, ok := herd.LookupKind(text); ok {
		return k, nil
	}
	var names, words []string
	for _, k := range herd.Kinds() {
		names = append(names, k.Name)
		words = append(append(words, k.Name), k.Aliases...)
	}
	if near := nearest(text, words); near != "" {
		k, _ := herd.LookupKind(near)
		return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; did you mean %q?", clip(text), k.Name)
	}
	return herd.Kind{}, fmt.Errorf("no kind of stock known as %q; known are %s", clip(text), strings.Join(names, "; "))
}

// parseMonth reads a month by its name or the first three letters of it.
func parseMonth(text string) (time.Month, error) {
	name := fold(text)
	var known []string
	for m := time.January; m <= time.December; m++ {
		full := strings.ToLower(m.String())
		known = append(known, full)
		if name == full || name == full[:3] {
			return m, nil
		}
	}
	return 0, fmt.Errorf("want a month such as march, got %q%s", clip(text), orOneOf(text, known))
}

// parseDate reads a day: 2026-10-05.
func parseDate(text string) (civil.Date, error) {
	d, err := civil.ParseDate(strings.TrimSpace(text))
	if err != nil || !d.IsValid() || d.Year < 1900 || d.Year > 2199 {
		return civil.Date{}, fmt.Errorf(`want a day such as "2026-10-05", got %q`, clip(text))
	}
	return d, nil
}

// wholeIn reads a whole number without a unit, between two bounds.
func wholeIn(lo, hi int) func(string) (int, error) {
	return func(text string) (int, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < lo || n > hi {
			return 0, fmt.Errorf("want %d to %d, got %q", lo, hi, clip(text))
		}
		return n, nil
	}
}
