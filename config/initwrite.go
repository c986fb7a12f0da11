package config

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"stubbled/config/values"
)

// write makes the file's text.
func (a Answers) write() []byte {
	var b bytes.Buffer
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# The farm file of %s, written by stubbled init.", comment(a.Name))
	p("# Every quantity has its unit: 8in or 20 cm, 22 acres or 9 ha, 45 days, 32F, 80%%.")
	p("# Run stubbled check after a change: it tells everything that is wrong at once.")
	p("")
	p("farm:")
	p("  name: %s", scalar(a.Name))
	p("  timezone: %s", scalar(a.Timezone))
	p("  units: %s        # what a bare number in a text means", scalar(or(a.Units, string(Inches))))
	p("  morning: \"06:30\"      # when the day's reminders go out")
	p("")
	a.writeFrost(p)
	p("")
	p("# Common practice for native warm-season grass: empty 45 to 60 days before first")
	p("# frost. Heights to leave and wanted at frost come from the species (8in and 18in")
	p("# for the tall ones); write leave: and at_frost: here or at a paddock to change them.")
	p("rest:")
	p("  days: %s", amountText(or(a.Rest, fileShape.under["rest"].under["days"].usual)))
	p("  confidence: 80%%")
	p("  ends_at: 28F          # the freeze that ends rest")
	p("")
	ids := a.writePaddocks(p)
	a.writeHerds(p, ids)
	a.writePeople(p)
	p("")
	p("# Texts and mail are spoken on the console until you write how they travel.")
	p("carriers:")
	p("  sms:")
	p("    via: console        # or spool (a modem), or http (a provider)")
	return b.Bytes()
}

func (a Answers) writeFrost(p func(string, ...any)) {
	p("# What is counted back from.")
	p("frost:")
	if a.Station != "" {
		p("  station: %s", scalar(a.Station))
	} else {
		p("  date: %s", amountText(a.FrostDate))
		p("  spread: %s       # standard deviation; about 10 days is usual", amountText(or(a.Spread, "10 days")))
	}
	p("  threshold: 32F        # what counts as first frost")
	p("  plan_on: average      # or a careful level such as 20%%: colder sooner in one fall of five")
}

// writePaddocks writes the paddocks and gives their ids by name.
func (a Answers) writePaddocks(p func(string, ...any)) map[string]string {
	ids := make(map[string]string, len(a.Paddocks))
	used := map[string]bool{}
	for _, k := range a.Paddocks {
		used[values.Fold(k.Name)] = true
	}
	p("# id never changes: the diary knows the paddock by it. Add soil (dry, average, moist),")
	p("# stand (thin, average, dense), hazard_plants, out_by and frost_offset where they apply.")
	if len(a.Paddocks) == 0 {
		p("paddocks: []")
	} else {
		p("paddocks:")
	}
	for _, k := range a.Paddocks {
		id := idFor(k.Name, used)
		ids[k.Name] = id
		p("  - id: %s", scalar(id))
		p("    name: %s", scalar(k.Name))
		p("    area: %s", amountText(k.Area))
		p("    grass: %s", scalar(k.Grass))
	}
	p("")
	return ids
}

func (a Answers) writeHerds(p func(string, ...any), ids map[string]string) {
	if len(a.Herds) == 0 {
		p("# herds:")
		p("#   - {id: cows, head: 38, kind: cow with calf, weight: 1300 lb, calving: march}")
		p("")
		return
	}
	p("# Where each herd stands now; from then on the diary knows.")
	p("herds:")
	used := map[string]bool{}
	for _, h := range a.Herds {
		p("  - id: %s", scalar(idFor(h.Name, used)))
		p("    head: %s", bare(h.Head))
		p("    kind: %s", scalar(h.Kind))
		if h.Paddock != "" {
			p("    paddock: %s", scalar(or(ids[h.Paddock], h.Paddock)))
		}
	}
	p("")
}

func (a Answers) writePeople(p func(string, ...any)) {
	p("# Who is told, in the order in which they are added while a paddock stays grazed.")
	if len(a.People) == 0 {
		p("contacts: []")
		return
	}
	p("contacts:")
	for _, c := range a.People {
		p("  - name: %s", scalar(c.Name))
		p("    role: %s", scalar(or(c.Role, "manager")))
		for _, line := range [][2]string{{"phone", c.Phone}, {"email", c.Email}, {"language", c.Language}} {
			if line[1] != "" {
				p("    %s: %s", line[0], scalar(line[1]))
			}
		}
	}
}

// idFor makes an id of a name: short, lower case, and nobody else's.
func idFor(name string, used map[string]bool) string {
	var b strings.Builder
	for _, r := range values.Fold(name) {
		if b.Len() < values.LongestAlias && (r >= 'a' && r <= 'z' || r >= '0' && r <= '9') {
			b.WriteRune(r)
		}
	}
	id := b.String()
	if id == "" || values.IsNumber(id) || values.Commands()[id] {
		id = "p" + id
	}
	try, own := id, values.Fold(name)
	for n := 2; used[try] && try != own || used["id "+try]; n++ {
		try = fmt.Sprintf("%.9s_%d", id, n)
	}
	used["id "+try], used[values.Fold(try)] = true, true
	return try
}

var plainScalar = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*([ /_][A-Za-z0-9]+)*$`)

// scalar writes text so that YAML reads the same text back.
func scalar(text string) string {
	switch strings.ToLower(text) {
	case "true", "false", "yes", "no", "on", "off", "null", "y", "n":
		return `"` + text + `"`
	}
	if plainScalar.MatchString(text) {
		return text
	}
	return doubleQuoted(text)
}

// doubleQuoted is text as a YAML double-quoted scalar: JSON's, with whatever
// does not print escaped.
func doubleQuoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		case r < 1<<16:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			fmt.Fprintf(&b, `\U%08X`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

var plainAmount = regexp.MustCompile(`^[0-9]{1,6}(\.[0-9]{1,3})?( ?[a-z]+|%|-[0-9]{1,2})$`)

// amountText is a quantity or a day, plain where YAML takes it as it stands.
func amountText(text string) string {
	if plainAmount.MatchString(text) {
		return text
	}
	return scalar(text)
}

// bare writes a number as it is, and anything else as text for the check to
// refuse.
func bare(text string) string {
	if wholeNumber.MatchString(text) {
		return text
	}
	return scalar(text)
}

// comment is text that stays within one comment line.
func comment(text string) string {
	return values.Clip(strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) && r != 0xFFFD {
			return r
		}
		return ' '
	}, text)), " "))
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
