package config

import (
	"slices"
	"strings"
	"time"

	"stubbled/config/values"
	"stubbled/scheduler/ladder"
)

// rungs reads the ladder. One that is written takes the place of the default
// one whole, and names only roles that somebody has.
func (l *loader) rungs() {
	e := l.root.get("ladder")
	if !l.root.written("ladder") {
		l.farm.Rungs = ladder.DefaultRungs()
		return
	}
	var roles []string
	for _, c := range l.farm.Contacts {
		if c.Role != "" && !slices.Contains(roles, c.Role) {
			roles = append(roles, c.Role)
		}
	}
	seen := map[int]*entry{}
	for _, item := range e.list() {
		r, ok := l.rung(item, roles)
		if !ok {
			continue
		}
		if was, dup := seen[r.Before]; dup {
			l.say(item, "there is a rung %d days before already (line %d); tell them all in one", r.Before, was.line)
			continue
		}
		seen[r.Before] = item
		l.farm.Rungs = append(l.farm.Rungs, r)
	}
	if e != nil && len(e.items) == 0 {
		l.say(e, "lists no rung; take it out for the usual ladder")
	} else if e != nil && seen[0] == nil && !hasProblemUnder(l.problems, "ladder[") {
		l.warn(e, "has no rung at 0 days, so nobody is told on the day of cutoff itself")
	}
	slices.SortStableFunc(l.farm.Rungs, func(a, b ladder.Rung) int { return b.Before - a.Before })
}

// repeatFrom is the number of days before cutoff up to which an unanswered rung
// is said once more, and repeatAfter how much later.
const (
	repeatFrom  = 2
	repeatAfter = 4 * time.Hour
)

func (l *loader) rung(e *entry, roles []string) (ladder.Rung, bool) {
	var k rungKeys
	l.fill(e, &k)
	var r ladder.Rung
	var ok bool
	r.Before, ok = value[int](l, e.get("before"))
	if r.Before <= repeatFrom {
		r.RepeatAfter = repeatAfter
	}
	if after, ok := value[time.Duration](l, e.get("repeat_after")); ok {
		r.RepeatAfter = after
	}
	tell := e.get("tell")
	if tell != nil && len(tell.items) == 0 && !hasProblemUnder(l.problems, tell.key+"[") {
		l.say(tell, "tells nobody; want roles such as [manager, helper]")
	}
	for _, item := range tell.list() {
		role := strings.ToLower(strings.Join(strings.Fields(item.text), " "))
		if !slices.Contains(roles, role) {
			l.say(item, "no contact has the role %q%s", values.Clip(item.text), values.OrNearest(role, roles))
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
