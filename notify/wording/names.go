package wording

import (
	"math"
	"strings"
	"time"
	"unicode"

	"stubbled/notify/gsm"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// longestName is the longest a name may be in a text, in septets: what the farm
// file allows for a paddock, and what other names are cut to.
const longestName = 20

// name is a name as a text can carry it.
func (v voice) name(s string) string {
	if v.roomy {
		return s
	}
	return gsm.Cut(gsm.Rewrite(s), longestName)
}

// paddock is the paddock as people say it.
func (v voice) paddock(p ladder.Place) string {
	return firstOf(v.name(p.Name), v.name(p.Paddock), v.name(p.Say), v.say("paddock.unnamed"))
}

// typed is the name that is texted back: lower case, as a thumb writes it.
func (v voice) typed(p ladder.Place) string {
	for _, n := range []string{p.Say, p.Paddock, p.Name} {
		if t := strings.ToLower(gsm.Cut(gsm.Rewrite(n), longestName)); strings.TrimSpace(t) != "" {
			return t
		}
	}
	return v.say("paddock.sample")
}

func firstOf(names ...string) string {
	for _, n := range names {
		if strings.TrimSpace(n) != "" {
			return n
		}
	}
	return ""
}

// list joins names with commas and an 'and' or 'or' before the last.
func (v voice) list(names []string, last string) string {
	n := len(names) - 1
	if n < 1 {
		return strings.Join(names, "")
	}
	return v.say(last, "list", strings.Join(names[:n], ", "), "last", names[n])
}

// shortening gives a list in all its forms: whole, then ever fewer, each of
// those with how many more there are.
func (v voice) shortening(items []string, sep string) []string {
	forms := make([]string, 0, len(items))
	for n := len(items); n >= 1; n-- {
		s := strings.Join(items[:n], sep)
		if left := len(items) - n; left > 0 {
			s = v.say("and-more", "list", s, "n", left)
		}
		forms = append(forms, s)
		if v.uncut {
			break
		}
	}
	return forms
}

// names are paddocks in all their forms.
func (v voice) names(ps []ladder.Place) []string {
	return v.shortening(unique(each(ps, v.paddock)), ", ")
}

// namesOf are the paddocks of a list of which something is so, each once.
func (v voice) namesOf(all []ladder.Shut, is func(ladder.Shut) bool) []string {
	return unique(each(only(all, is), func(s ladder.Shut) string { return v.paddock(s.Place) }))
}

// unique keeps the first of equal names, in order.
func unique(names []string) []string {
	seen := make(map[string]bool, len(names))
	out := names[:0:0]
	for _, n := range names {
		if n != "" && !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

// people are names of contacts, plants or herds, each short enough for a text.
func (v voice) people(names []string) []string {
	return unique(each(names, v.name))
}

// inEach puts every form of a list into a field of a phrase, beside the others.
func (v voice) inEach(key, field string, forms []string, fields ...any) []string {
	return each(forms, func(form string) string { return v.say(key, append([]any{field, form}, fields...)...) })
}

// plants are the plants of a hold in the language of the voice. One without a name is
// that of regrowth on ground where none is on file.
func (v voice) plants(names []string) string { return v.plantsOf(names, 2) }

// plantsOf names at most so many of them where there is little room.
func (v voice) plantsOf(names []string, most int) string {
	out := make([]string, 0, len(names))
	for _, n := range names {
		if key := "plant." + firstOf(strings.ToLower(n), "unnamed"); has(key) {
			n = v.say(key)
		}
		out = append(out, v.name(n))
	}
	if out = unique(out); len(out) > most && !v.roomy {
		out = out[:most]
	}
	return v.list(out, "list.and")
}

// sentence begins with a capital.
func sentence(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// A naming is how ids are said: a paddock by its names, the others by a list.
type naming struct {
	at    ladder.Place
	names map[string]string
}

// entries are facts as they stand in the diary. names gives ids as people say
// them, at the paddock that is spoken of.
func (v voice) entries(facts []diary.Fact, at ladder.Place, names map[string]string) []string {
	return each(facts, func(f diary.Fact) string { return v.entry(f, naming{at, names}) })
}

// entry is one fact as it stands in the diary: what, where, when.
func (v voice) entry(r diary.Fact, f naming) string {
	where, herd, day := v.named(r.Paddock, f), v.say("cattle"), ""
	if r.Herd != "" {
		herd = v.herd(r.Herd)
	}
	if !r.Day.IsZero() {
		day = v.date(r.Day)
	}
	key, height, temperature := "entry."+string(r.Kind), 0.0, 0.0
	switch {
	case r.Kind == diary.Reading:
		return v.readingEntry(r, where, day)
	case r.Kind == diary.Later:
		return v.laterEntry(r, where)
	case r.Kind == diary.Ack:
		return v.say("entry.ack")
	case r.Kind == diary.Off && r.Herd != "":
		key = "entry.off.herd"
	case r.Kind == diary.Hayed && len(r.Heights) > 0 && r.Heights[0] > 0:
		key, height = "entry.hayed.left", r.Heights[0]
	case r.Kind == diary.Frost && r.TempC != nil:
		key, temperature = "entry.frost.temp", *r.TempC
	case r.Kind == diary.Hay && r.Adds && r.Amount < 0:
		key, r.Amount = "entry.hay.less", -r.Amount
	case r.Kind == diary.Hay && r.Adds:
		key = "entry.hay.more"
	case r.Kind == diary.Wish && len(r.Heights) > 0:
		key, height = "entry.wish.leave", r.Heights[0]
	case r.Kind == diary.Wish:
		key = "entry.wish.rest"
	case r.Kind == diary.Rain && r.Amount > 0:
		key = "entry.rain.amount"
	case r.Paddock == "" && has(key+".all"):
		key += ".all"
	case !has(key):
		key = "entry.other"
	}
	return v.dated(v.say(key, "paddock", where, "herd", herd, "height", v.length(height), "temperature", v.degrees(temperature), "amount", v.rain(r.Amount),
		"n", int(math.Round(r.Amount)), "days", int(r.Wait/(24*time.Hour)),
		"plant", v.plants([]string{firstOf(r.Plant, v.say("plant.unnamed"))})), day)
}

func (v voice) dated(what, day string) string {
	if day == "" {
		return what
	}
	return v.say("entry.dated", "entry", what, "day", day)
}

func (v voice) readingEntry(r diary.Fact, where, day string) string {
	if len(r.Heights) == 0 {
		return v.dated(where, day)
	}
	sum := 0.0
	for _, h := range r.Heights {
		sum += h
	}
	height := v.length(sum / float64(len(r.Heights)))
	return v.dated(v.say("entry.reading", "paddock", where, "height", height, "n", len(r.Heights)), day)
}

func (v voice) laterEntry(r diary.Fact, where string) string {
	switch hours := int(r.Wait / time.Hour); {
	case hours <= 0:
		return v.say("entry.later.day", "paddock", where)
	case hours%24 == 0:
		return v.say("entry.later.days", "paddock", where, "days", hours/24)
	default:
		return v.say("entry.later.hours", "paddock", where, "hours", hours)
	}
}

// herd is a herd as the speakers of a language say it: its id, or what animals that it
// names are called.
func (v voice) herd(id string) string {
	if key := "herd." + id; has(key) {
		return v.say(key)
	}
	return v.name(id)
}

func (v voice) herds(ids []string) []string {
	return each(ids, v.herd)
}

// named is an id as people say it.
func (v voice) named(id string, f naming) string {
	if n := v.name(f.names[id]); n != "" {
		return n
	}
	if id == "" || id == f.at.Paddock {
		return v.paddock(f.at)
	}
	return v.name(id)
}

// farmwide is the form of a phrase for the whole farm where no paddock is named.
func farmwide(key, paddock string) string {
	if paddock == "" && has(key+".all") {
		return key + ".all"
	}
	return key
}
