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
func (l *loader) herds() {
	ids := map[string]*entry{}
	paddocks := map[string]bool{}
	var known []string
	for _, p := range l.farm.Paddocks {
		paddocks[p.ID] = true
		known = append(known, p.ID)
	}
	for _, e := range l.root.get("herds").list() {
		var h herd.Herd
		var ok bool
		fresh := false
		if h.ID, ok = l.id(e); ok {
			fresh = l.unique(e.get("id"), h.ID, ids)
		}
		l.required(e, "head", `how many there are, such as head: 38`)
		h.Head, _ = read(l, e.get("head"), wholeIn(0, herd.MaxHead))
		l.required(e, "kind", `what they are, such as kind: cow with calf`)
		h.Kind, _ = read(l, e.get("kind"), parseKind)
		h.WeightLb, _ = read(l, e.get("weight"), weights.in(herd.MinWeightLb, herd.MaxWeightLb))
		h.Calving, _ = read(l, e.get("calving"), parseMonth)
		h.Weaned, _ = read(l, e.get("weaned"), parseDate)
		if at := e.get("paddock"); at != nil {
			if !paddocks[at.text] {
				l.say(at, "no paddock has the id %q%s", clip(at.text), orOneOf(at.text, known))
			}
			h.Paddock = at.text
		}
		l.herdAnswers(e, &h, fresh)
		l.farm.Herds = append(l.farm.Herds, h)
	}
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
