package config

import (
	"slices"
	"strings"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/ladder"
)

// contacts reads who is told. Their order is the order in which they are added
// while a paddock stays grazed.
func (l *loader) contacts(rows []ladder.Contact) {
	e := l.Root.Get("contacts")
	if e != nil && len(e.List()) == 0 && !l.Wrong("contacts[") {
		l.Say(e, `lists nobody; want at least one, such as {name: Ana, role: manager, phone: "+15555550142"}`)
	}
	t := taken{names: map[string]*settings.Entry{}, phones: map[string]*settings.Entry{}, emails: map[string]*settings.Entry{}}
	manager := false
	for i, item := range e.List() {
		c := l.contact(item, rows[i], &t)
		manager = manager || c.Manager()
		l.farm.Contacts = append(l.farm.Contacts, c)
	}
	if e != nil && len(e.List()) > 0 && !manager {
		l.Warn(e, "nobody has the role manager: %s is told what a manager is told, but nobody may call a drought or end a hold; write role: manager at whoever may", l.farm.Contacts[0].Name)
	}
}

// taken is who has which name, phone and address already.
type taken struct{ names, phones, emails map[string]*settings.Entry }

func (l *loader) contact(e *settings.Entry, c ladder.Contact, t *taken) ladder.Contact {
	if c.Name != "" {
		l.fresh(e.Get("name"), values.Fold(c.Name), t.names, "%q is the name of two contacts (line %d too)")
	}
	if c.Phone != "" {
		if !values.InTable(c.Phone) {
			l.Warn(e.Get("phone"), "%s is in no numbering table (invented and very new numbers are not); check it", e.Get("phone").Text)
		}
		if costs := values.Costs(c.Phone); costs != "" {
			l.Warn(e.Get("phone"), "%s %s", e.Get("phone").Text, costs)
		}
		l.notOurs(e.Get("phone"), c.Phone, l.farm.Carriers.Numbers(), "number", "texts and calls")
		l.fresh(e.Get("phone"), c.Phone, t.phones, "%q is the phone of two contacts (line %d too)")
	}
	if c.Email != "" {
		l.notOurs(e.Get("email"), c.Email, l.farm.Carriers.Mailboxes(), "address", "writes")
		if was, shared := t.emails[strings.ToLower(c.Email)]; shared {
			l.Warn(e.Get("email"), "is also the address of another contact (line %d); who answers cannot be told apart", was.Line)
		}
		t.emails[strings.ToLower(c.Email)] = e.Get("email")
	}
	if !e.Written("phone") && !e.Written("email") {
		l.Say(e, `has no way to be reached; want phone: "+15555550142" or email: ana@example.org`)
	}
	return c
}

// notOurs refuses a way that leads back to this farm: it would answer itself for
// ever.
func (l *loader) notOurs(at *settings.Entry, way string, ours []string, what, does string) {
	if slices.ContainsFunc(ours, func(own string) bool { return strings.EqualFold(own, way) }) {
		l.Say(at, "%q is the %s that this farm %s from: it would answer itself without end; write the person's own", at.Text, what, does)
	}
}

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
