package config

import (
	"fmt"
	"net/mail"
	"strings"

	"github.com/nyaruka/phonenumbers"

	"stubbled/notify/language"
	"stubbled/scheduler/ladder"
)

const longestPerson = 40 // septets

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
	c := ladder.Contact{Role: k.Role, Language: k.Language, QuietFrom: k.Quiet.from, QuietTo: k.Quiet.to}
	var ok bool
	if c.Name, ok = value[string](l, e.get("name")); ok {
		l.once(e.get("name"), fold(c.Name), t.names, "is the name of two contacts")
	}
	if c.Phone, ok = value[string](l, e.get("phone")); ok {
		if !inTable(c.Phone) {
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

// parsePerson reads a name that can stand before a colon and in a text.
func parsePerson(text string) (string, error) {
	name := strings.Join(strings.Fields(text), " ")
	n, err := septets(name)
	switch {
	case err != nil:
		return "", err
	case fold(name) == "":
		return "", fmt.Errorf("%q has no letter", clip(text))
	case strings.ContainsAny(name, ":/[]"):
		return "", fmt.Errorf("%q holds one of : / [ ] which stand between names; leave it out", clip(text))
	case n > longestPerson:
		return "", fmt.Errorf("%q takes %d characters of a text; want at most %d", clip(text), n, longestPerson)
	}
	return name, nil
}

func parseRole(text string) (string, error) {
	role := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if fold(role) == "" || len(role) > longestPerson {
		return "", fmt.Errorf("want manager, owner, helper, or a word of your own, got %q", clip(text))
	}
	return role, nil
}

// parsePhone reads a number in its international form, which can exist.
func parsePhone(text string) (string, error) {
	bare := strings.TrimSpace(text)
	if !strings.HasPrefix(bare, "+") || strings.Trim(bare, "+0123456789 ()-.") != "" {
		return "", fmt.Errorf(`want the number with + and the country code, in quotes, such as "+15555550142", got %q%s`, clip(text), didYouMean(withCountry(bare)))
	}
	n, err := phonenumbers.Parse(bare, "ZZ")
	if err != nil || !phonenumbers.IsPossibleNumber(n) {
		return "", fmt.Errorf(`no phone can have the number %q; want one such as "+15555550142"`, clip(text))
	}
	return phonenumbers.Format(n, phonenumbers.E164), nil
}

// inTable reports whether the numbering tables know a number. Real numbers can
// be newer than the tables.
func inTable(phone string) bool {
	n, err := phonenumbers.Parse(phone, "ZZ")
	return err == nil && phonenumbers.IsValidNumber(n)
}

// withCountry is the international form of an American number that lacks it;
// empty where that isn't clear.
func withCountry(text string) string {
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, text)
	switch {
	case len(digits) == 10:
		return "+1" + digits
	case len(digits) == 11 && digits[0] == '1':
		return "+" + digits
	}
	return ""
}

func parseEmail(text string) (string, error) {
	a, err := mail.ParseAddress(text)
	if err != nil || a.Name != "" || a.Address != strings.TrimSpace(text) || !strings.Contains(a.Address[strings.LastIndexByte(a.Address, '@')+1:], ".") || len(a.Address) > 254 {
		return "", fmt.Errorf("want a mail address such as ana@example.org, got %q", clip(text))
	}
	return a.Address, nil
}

func parseLanguage(text string) (string, error) {
	want := strings.Join(language.Tags(), " or ")
	switch l := language.Lookup(text); {
	case l == nil:
		return "", fmt.Errorf("want %s, got %q", want, clip(text))
	case !strings.EqualFold(strings.TrimSpace(text), l.Tag):
		return "", fmt.Errorf("want %s, got %q; did you mean %q?", want, text, l.Tag)
	default:
		return l.Tag, nil
	}
}
