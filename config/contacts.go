package config

import (
	"strings"

	"stubbled/config/values"
	"stubbled/scheduler/ladder"
)

// contacts reads who is told. Their order is the order in which they are added
// while a paddock stays grazed.
func (l *loader) contacts(rows []contactKeys) {
	e := l.root.get("contacts")
	if e != nil && len(e.items) == 0 && !hasProblemUnder(l.problems, "contacts[") {
		l.say(e, `lists nobody; want at least one, such as {name: Ana, role: manager, phone: "+15555550142"}`)
	}
	t := taken{names: map[string]*entry{}, phones: map[string]*entry{}, emails: map[string]*entry{}}
	manager := false
	for i, item := range e.list() {
		c := l.contact(item, rows[i], &t)
		manager = manager || c.Manager()
		l.farm.Contacts = append(l.farm.Contacts, c)
	}
	if e != nil && len(e.items) > 0 && !manager {
		l.warn(e, "nobody has the role manager: %s is told what a manager is told, but nobody may call a drought or end a hold", l.farm.Contacts[0].Name)
	}
}

// taken is who has which name, phone and address already.
type taken struct{ names, phones, emails map[string]*entry }

func (l *loader) contact(e *entry, k contactKeys, t *taken) ladder.Contact {
	c := ladder.Contact{Role: k.Role, Language: k.Language, QuietFrom: k.Quiet.From, QuietTo: k.Quiet.To}
	var ok bool
	if c.Name, ok = value[string](l, e.get("name")); ok {
		l.once(e.get("name"), values.Fold(c.Name), t.names, "is the name of two contacts")
	}
	if c.Phone, ok = value[string](l, e.get("phone")); ok {
		if !values.InTable(c.Phone) {
			l.warn(e.get("phone"), "%s is in no numbering table (invented and very new numbers are not); check it", e.get("phone").text)
		}
		l.once(e.get("phone"), c.Phone, t.phones, "is the phone of two contacts")
	}
	if c.Email, ok = value[string](l, e.get("email")); ok {
		if was, shared := t.emails[strings.ToLower(c.Email)]; shared {
			l.warn(e.get("email"), "is also the address of another contact (line %d); who answers cannot be told apart", was.line)
		}
		t.emails[strings.ToLower(c.Email)] = e.get("email")
	}
	if !e.written("phone") && !e.written("email") {
		l.say(e, `has no way to be reached; want phone: "+15555550142" or email: ana@example.org`)
	}
	return c
}

// once tells of what two contacts share.
func (l *loader) once(at *entry, key string, seen map[string]*entry, what string) {
	if was, dup := seen[key]; dup {
		l.say(at, "%q %s (line %d too)", at.text, what, was.line)
		return
	}
	seen[key] = at
}
