package links

import (
	"io"
	"net/textproto"
	"slices"
	"strings"
	"text/template"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/terms"
)

// templates reads names with templates, and tries each once on a sample. want
// is what they may hold.
func templates(r *settings.Reading, e *settings.Entry, sample any, want string) []terms.Field {
	if e == nil {
		return nil
	}
	var out []terms.Field
	for _, p := range e.Pairs {
		t, err := template.New("field").Option("missingkey=error").Parse(p.Text)
		if err == nil {
			err = t.Execute(io.Discard, sample)
		}
		if err != nil {
			r.Say(p.Entry, `want text with %s in it, got %q`, want, values.Clip(p.Text))
			continue
		}
		if values.SecretName(p.Name) && !strings.Contains(p.Text, "{{") {
			r.Say(p.Entry, "secrets don't belong in the farm file; write auth: {kind: field, name: %s, secret_file: ...}", p.Name)
			continue
		}
		out = append(out, terms.Field{Name: p.Name, Value: p.Text})
	}
	return out
}

// sentFields reads what is sent with each text.
func sentFields(r *settings.Reading, e *settings.Entry) []terms.Field {
	if e == nil {
		return nil
	}
	fields := templates(r, e, terms.Message{To: "+15555550142", Digits: "15555550142", Text: "x", ID: "x", Language: "en"}, "{{.To}}, {{.Digits}}, {{.Text}}, {{.ID}} or {{.Language}}")
	names := func(what ...string) bool {
		return slices.ContainsFunc(fields, func(f terms.Field) bool {
			return slices.ContainsFunc(what, func(w string) bool { return strings.Contains(f.Value, w) })
		})
	}
	if !r.Wrong(e.Key+".") && !(names(".To", ".Digits") && names(".Text")) {
		r.Say(e, `must say whom and what, with {{.To}} (or {{.Digits}}) in one value and {{.Text}} in another`)
	}
	return fields
}

// apart tells of fields that take each other's place in JSON, where a dot leads
// into an object and [] makes a list.
func apart(r *settings.Reading, e *settings.Entry) {
	if e == nil {
		return
	}
	bare := func(name string) string { return strings.TrimSuffix(name, "[]") }
	for i, b := range e.Pairs {
		for _, a := range e.Pairs[:i] {
			if x, y := bare(a.Name), bare(b.Name); x == y || strings.HasPrefix(y, x+".") || strings.HasPrefix(x, y+".") {
				r.Say(b.Entry, "takes the place of %q (line %d) in JSON, where a dot leads into an object; rename one", a.Name, a.Line)
			}
		}
	}
}

// Headers that are said in another way.
var (
	secretHeaders = []string{"Authorization", "Proxy-Authorization", "Cookie"}
	ownHeaders    = map[string]string{"Content-Type": "encoding says it", "Content-Length": "it follows from the fields", "Host": "it is the url's"}
)

// headers reads more headers, which are sent as they stand.
func headers(r *settings.Reading, e *settings.Entry) []terms.Field {
	if e == nil {
		return nil
	}
	var out []terms.Field
	seen := map[string]int{}
	for _, p := range e.Pairs {
		name := textproto.CanonicalMIMEHeaderKey(p.Name)
		switch _, err := values.ParseHeader(p.Name); {
		case err != nil:
			r.Say(p.Entry, "%v", err)
		case values.SecretName(p.Name) || slices.Contains(secretHeaders, name):
			r.Say(p.Entry, "secrets don't belong in the farm file; write auth: {kind: header, name: %s, secret_file: ...}", p.Name)
		case ownHeaders[name] != "":
			r.Say(p.Entry, "take it out: %s", ownHeaders[name])
		case seen[name] > 0:
			r.Say(p.Entry, "is written in other letters on line %d; keep one", seen[name])
		case strings.Contains(p.Text, "{{"):
			r.Say(p.Entry, "headers are sent as they stand, not filled in; write {{ }} in fields")
		default:
			out = append(out, terms.Field{Name: p.Name, Value: p.Text})
		}
		seen[name] = p.Line
	}
	return out
}
