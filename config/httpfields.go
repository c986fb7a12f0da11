package config

import (
	"io"
	"net/textproto"
	"slices"
	"strings"
	"text/template"
	"time"

	"stubbled/config/values"
)

// templates reads names with templates, and tries each once on a sample. want
// is what they may hold.
func (l *loader) templates(e *entry, sample any, want string) []Field {
	if e == nil {
		return nil
	}
	var out []Field
	for _, p := range e.pairs {
		t, err := template.New("field").Option("missingkey=error").Parse(p.text)
		if err == nil {
			err = t.Execute(io.Discard, sample)
		}
		if err != nil {
			l.say(p.entry, `want text with %s in it, got %q`, want, values.Clip(p.text))
			continue
		}
		if values.SecretName(p.name) && !strings.Contains(p.text, "{{") {
			l.say(p.entry, "secrets don't belong in the farm file; write auth: {kind: field, name: %s, secret_file: ...}", p.name)
			continue
		}
		out = append(out, Field{p.name, p.text})
	}
	return out
}

// sentFields reads what is sent with each text.
func (l *loader) sentFields(e *entry) []Field {
	if e == nil {
		return nil
	}
	fields := l.templates(e, HTTPFields{To: "+15555550142", Digits: "15555550142", Text: "x", ID: "x"}, "{{.To}}, {{.Digits}}, {{.Text}} or {{.ID}}")
	names := func(what ...string) bool {
		return slices.ContainsFunc(fields, func(f Field) bool {
			return slices.ContainsFunc(what, func(w string) bool { return strings.Contains(f.Value, w) })
		})
	}
	if !hasProblemUnder(l.problems, e.key+".") && !(names(".To", ".Digits") && names(".Text")) {
		l.say(e, `must say whom and what, with {{.To}} (or {{.Digits}}) in one value and {{.Text}} in another`)
	}
	return fields
}

// apart tells of fields that take each other's place in JSON, where a dot leads
// into an object and [] makes a list.
func (l *loader) apart(e *entry) {
	if e == nil {
		return
	}
	bare := func(name string) string { return strings.TrimSuffix(name, "[]") }
	for i, b := range e.pairs {
		for _, a := range e.pairs[:i] {
			x, y := bare(a.name), bare(b.name)
			if x == y || strings.HasPrefix(y, x+".") || strings.HasPrefix(x, y+".") {
				l.say(b.entry, "takes the place of %q (line %d) in JSON, where a dot leads into an object; rename one", a.name, a.line)
			}
		}
	}
}

// queryFields reads what a poll asks with.
func (l *loader) queryFields(e *entry) []Field {
	return l.templates(e, PollFields{Cursor: "x", Since: time.Unix(0, 0)}, "{{.Cursor}}, {{.Since.Unix}} or the like")
}

// Headers that are said in another way.
var (
	secretHeaders = []string{"Authorization", "Proxy-Authorization", "Cookie"}
	ownHeaders    = map[string]string{"Content-Type": "encoding says it", "Content-Length": "it follows from the fields", "Host": "it is the url's"}
)

// headers reads more headers, which are sent as they stand.
func (l *loader) headers(e *entry) []Field {
	if e == nil {
		return nil
	}
	var out []Field
	seen := map[string]int{}
	for _, p := range e.pairs {
		name := textproto.CanonicalMIMEHeaderKey(p.name)
		switch _, err := values.ParseHeader(p.name); {
		case err != nil:
			l.say(p.entry, "%v", err)
		case values.SecretName(p.name) || slices.Contains(secretHeaders, name):
			l.say(p.entry, "secrets don't belong in the farm file; write auth: {kind: header, name: %s, secret_file: ...}", p.name)
		case ownHeaders[name] != "":
			l.say(p.entry, "take it out: %s", ownHeaders[name])
		case seen[name] > 0:
			l.say(p.entry, "is written in other letters on line %d; keep one", seen[name])
		case strings.Contains(p.text, "{{"):
			l.say(p.entry, "headers are sent as they stand, not filled in; write {{ }} in fields")
		default:
			out = append(out, Field{p.name, p.text})
		}
		seen[name] = p.line
	}
	return out
}
