package config

import (
	"slices"
	"strings"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/ladder"
)

// rungs reads the ladder. One that is written takes the place of the default
// one whole, and names only roles that somebody has.
func (l *loader) rungs(rows []rungKeys) {
	e := l.Root.Get("ladder")
	if !l.Root.Written("ladder") {
		l.farm.Rungs = ladder.DefaultRungs()
		return
	}
	var roles []string
	for _, c := range l.farm.Contacts {
		if c.Role != "" && !slices.Contains(roles, c.Role) {
			roles = append(roles, c.Role)
		}
	}
	seen := map[int]*settings.Entry{}
	for i, item := range e.List() {
		r, ok := l.rung(item, rows[i], roles)
		if !ok {
			continue
		}
		if was, dup := seen[r.Before]; dup {
			l.Say(item, "there is a rung %d days before already (line %d); tell them all in one", r.Before, was.Line)
			continue
		}
		seen[r.Before] = item
		l.farm.Rungs = append(l.farm.Rungs, r)
	}
	if e != nil && len(e.List()) == 0 {
		l.Say(e, "lists no rung; take it out for the usual ladder")
	} else if e != nil && seen[0] == nil && !l.Wrong("ladder[") {
		l.Warn(e, "has no rung at 0 days, so nobody is told on the day of cutoff itself")
	}
	slices.SortStableFunc(l.farm.Rungs, func(a, b ladder.Rung) int { return b.Before - a.Before })
}

// repeatFrom is the number of days before cutoff up to which an unanswered rung
// is said once more.
const repeatFrom = 2

func (l *loader) rung(e *settings.Entry, k rungKeys, roles []string) (r ladder.Rung, ok bool) {
	if ok = k.Before != nil; ok {
		r.Before = *k.Before
	}
	if r.Before <= repeatFrom {
		r.RepeatAfter = ladder.RepeatAfter
	}
	if k.RepeatAfter != nil {
		r.RepeatAfter = *k.RepeatAfter
	}
	tell := e.Get("tell")
	if tell != nil && len(tell.List()) == 0 && !l.Wrong(tell.Key+"[") {
		l.Say(tell, "tells nobody; want roles such as [manager, helper]")
	}
	for _, item := range tell.List() {
		role := strings.ToLower(strings.Join(strings.Fields(item.Text), " "))
		if !slices.Contains(roles, role) {
			l.Say(item, "no contact has the role %q%s", values.Clip(item.Text), values.OrNearest(role, roles))
			continue
		}
		r.Tell = append(r.Tell, role)
	}
	for _, m := range k.AlsoBy {
		if !slices.Contains(r.AlsoBy, m) {
			r.AlsoBy = append(r.AlsoBy, m)
		}
	}
	return r, ok
}
