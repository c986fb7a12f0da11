package config

import (
	"cmp"
	"slices"
	"strings"

	"stubbled/config/values"
)

func (h *HTTPCarrier) judge(l *loader, e *entry) {
	h.Fields = l.sentFields(e.get("fields"))
	if h.Encoding == "json" {
		l.apart(e.get("fields"))
	}
	h.Headers = l.headers(e.get("headers"))
	if len(h.Success) == 0 {
		h.Success = []int{200, 201, 202}
	}
	h.Auth.Kind = cmp.Or(h.Auth.Kind, "none")
	if h.Poll != nil && h.Poll.Status != "" || h.Webhook != nil && h.Webhook.Status != "" {
		l.required(e, "status_map", "what the words at status_path mean, such as status_map: {delivered: delivered, rejected: failed-permanent}")
	}
}

func (a *Auth) judge(l *loader, e *entry) {
	if a.Kind == "" {
		*a = Auth{}
		return
	}
	a.Secret = l.secret(e, "secret")
	if a.Kind == "basic" {
		l.required(e, "user", "basic needs the account's name")
	}
	if a.Kind == "header" || a.Kind == "field" {
		l.required(e, "name", "what the "+a.Kind+" is called")
	}
	if a.Kind == "header" {
		a.Name, _ = read(l, e.get("name"), values.ParseHeader)
	}
	if a.Kind != "none" {
		l.needSecret(e, a.Secret)
	}
}

func (p *Poll) judge(l *loader, e *entry) {
	p.Paths.judge(l, e)
	p.Query = l.queryFields(e.get("query"))
	if p.NextParam != "" && !e.written("next_path") {
		l.say(e.get("next_param"), "carries the next page's mark, but nothing says where that stands; write next_path too")
	}
	if at := e.get("max_pages"); at != nil && at.from != fromDefault && !e.written("next_path") {
		l.say(at, "means nothing without next_path: there is one page")
	}
	since := slices.ContainsFunc(p.Query, func(f Field) bool { return strings.Contains(f.Value, ".Since") })
	if at := e.get("look_back"); at != nil && at.from != fromDefault && !since && !hasProblemUnder(l.problems, dotted(e.key, "query")) {
		l.say(at, `means nothing unless the query names it, such as query: {after: "{{.Since.Unix}}"}`)
	}
}

// needSecret tells of a secret that must be named and isn't.
func (l *loader) needSecret(e *entry, s Secret) {
	if s.IsZero() && !e.written("secret_file") && !e.written("secret_credential") {
		l.lacks(e, "secret_file", "name a file (secret_file) or a credential (secret_credential)")
	}
}

// judge checks where things stand in what the provider tells: texts, news of
// our own messages, or both.
func (p *Paths) judge(l *loader, e *entry) {
	news := e.written("status_path")
	if !news || e.written("from_path") || e.written("text_path") {
		for _, key := range []string{"id_path", "from_path", "text_path"} {
			l.required(e, key, "where it stands in each message, such as "+key+": "+strings.TrimSuffix(key, "_path"))
		}
	}
	if news && !e.written("ref_path") && !e.written("envelope_path") {
		l.say(e, "tells what became of a message, but not of which; want ref_path (the id that id_path of the answer gave) or envelope_path (our own, as {{.ID}} sent it)")
	}
	for _, key := range []string{"ref_path", "envelope_path", "error_path"} {
		if at := e.get(key); at != nil && !news {
			l.say(at, "means nothing without status_path: it belongs to news of our own messages")
		}
	}
}
