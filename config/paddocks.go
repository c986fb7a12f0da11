package config

import (
	"cmp"
	"slices"
	"strings"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/grass"
	"stubbled/scheduler/season"
)

// paddocks reads the list of paddocks and the farm's own rule.
func (l *loader) paddocks(rows []season.Paddock) {
	tall, _ := grass.Grasses.Find("mixed natives") // the farm's rule is for a tall native
	l.farm.Rule = l.rule(nil, tall)
	e := l.Root.Get("paddocks")
	if e != nil && len(e.List()) == 0 && !l.Wrong("paddocks[") {
		l.Say(e, "lists none; want at least one, such as {id: creek, area: 22 acres, grass: eastern gamagrass}")
	}
	ids := map[string]*settings.Entry{}
	was := map[string]*settings.Entry{}
	for i, p := range e.List() {
		l.paddock(p, rows[i], ids, was)
	}
	for id, at := range was {
		if now := ids[id]; now != nil {
			l.Say(at, "%q is still the id of %s (line %d); was: names an id that is gone", id, now.Key, now.Line)
		}
	}
}

// paddock reads one paddock. What cannot be read is told; the rest goes on so
// that every problem is found.
func (l *loader) paddock(e *settings.Entry, p season.Paddock, ids, was map[string]*settings.Entry) {
	p.Soil, p.Stand = cmp.Or(p.Soil, grass.Average), cmp.Or(p.Stand, grass.Medium)
	fresh := p.ID != "" && l.fresh(e.Get("id"), p.ID, ids, idTaken)
	if p.Was != "" {
		l.fresh(e.Get("was"), p.Was, was, idTaken)
	}
	p.Name = l.paddockName(e, p.ID)
	named := p.Hazards
	p.Hazards = nil
	for _, h := range named {
		if !slices.ContainsFunc(p.Hazards, func(o grass.Hazard) bool { return o.Name == h.Name }) {
			p.Hazards = append(p.Hazards, h)
		}
	}
	l.paddockRule(e, &p)
	p.Aliases = l.answers(e, call{owner: e.Key, title: p.Name}, fresh, p.ID, p.Name)
	if len(p.Word()) > values.LongestAlias {
		l.Warn(e.Get("id"), "%q is long to text; give an alias of at most %d letters, such as aliases: [%s]", p.ID, values.LongestAlias, initials(p.Name))
	}
	l.farm.rules[p.ID] = cmp.Or(e.Get("rest"), e.Get("id"), e).Line
	l.farm.Paddocks = append(l.farm.Paddocks, p)
}

// paddockRule gives a native its rule, and refuses one for other ground.
func (l *loader) paddockRule(e *settings.Entry, p *season.Paddock) {
	own, known := e.Get("rest"), p.Grass.Name != ""
	if known && !p.Grass.Native {
		p.Rule = season.Rule{EndsAt: l.farm.Rule.EndsAt, Spring: l.farm.Rule.Spring}
		if own != nil {
			l.Say(own, "%s is no native and has no fall rest; take this out, and give the day it must be empty as out_by: 11-15 if there is one", p.Grass.Name)
		}
		return
	}
	p.Rule = l.rule(own, p.Grass)
	if known {
		l.judgeRule(e, own, p.Grass, p.Rule)
		l.beforeItsYear(e, p)
	}
}

// paddockName is the name people say; the id where none is written.
func (l *loader) paddockName(e *settings.Entry, id string) string {
	at := e.Get("name")
	if at == nil {
		return id
	}
	name := strings.Join(strings.Fields(at.Text), " ")
	checkLength(&l.Report, at, name, values.LongestName)
	if strings.ContainsAny(name, "/;") {
		l.Say(at, `%q holds a / or ; which texts use between paddocks; leave it out`, name)
	}
	return name
}

// initials is a short alias to suggest.
func initials(name string) string {
	var b strings.Builder
	for _, w := range strings.FieldsFunc(name, func(r rune) bool { return values.Fold(string(r)) == "" }) {
		for _, r := range values.Fold(w) {
			b.WriteRune(r)
			break
		}
	}
	if b.Len() < 2 {
		return values.Fold(name)[:min(4, len(values.Fold(name)))]
	}
	return b.String()
}
