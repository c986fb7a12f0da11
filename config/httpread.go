package config

import (
	"strings"
	"time"
)

func (l *loader) http(e *entry) *HTTPCarrier {
	h := &HTTPCarrier{IDPath: wordOf(e.get("id_path")), StatusPath: wordOf(e.get("status_path")), ErrorPath: wordOf(e.get("error_path"))}
	l.required(e, "url", "where texts are sent, such as url: https://sms.example.org/messages")
	l.required(e, "fields", `what is sent, such as fields: {to: "{{.To}}", text: "{{.Text}}"}`)
	h.URL, _ = read(l, e.get("url"), parseURL)
	h.CheckURL, _ = read(l, e.get("check_url"), parseURL)
	h.Method, _ = read(l, e.get("method"), oneOf("POST", "PUT"))
	h.Encoding, _ = read(l, e.get("encoding"), oneOf("form", "json"))
	h.Fields = l.sentFields(e.get("fields"))
	if h.Encoding == "json" {
		l.apart(e.get("fields"))
	}
	h.Headers = l.headers(e.get("headers"))
	h.Auth = l.auth(e.get("auth"))
	h.Success = l.success(e.get("success"))
	h.StatusMap = l.statusMap(e.get("status_map"))
	h.Idempotency, _ = read(l, e.get("idempotency"), parseHeader)
	h.Timeout, _ = read(l, e.get("timeout"), span(time.Second, 5*time.Minute))
	h.Every, _ = read(l, e.get("rate"), parseRate)
	h.Region, _ = read(l, e.get("region"), parseRegion)
	if at := e.get("poll"); at != nil {
		h.Poll = l.poll(at)
	}
	if at := e.get("webhook"); at != nil {
		h.Webhook = l.webhook(at)
	}
	if h.Poll != nil && h.Poll.Status != "" || h.Webhook != nil && h.Webhook.Status != "" {
		l.required(e, "status_map", "what the words at status_path mean, such as status_map: {delivered: delivered, rejected: failed-permanent}")
	}
	return h
}

func (l *loader) success(e *entry) []int {
	var out []int
	for _, item := range e.list() {
		if code, ok := read(l, item, wholeIn(200, 299)); ok {
			out = append(out, code)
		}
	}
	if len(out) == 0 {
		return []int{200, 201, 202}
	}
	return out
}

func (l *loader) statusMap(e *entry) map[string]string {
	out := map[string]string{}
	if e == nil {
		return out
	}
	for _, p := range e.pairs {
		if word, ok := read(l, p.entry, oneOf(statusWords...)); ok {
			out[p.name] = word
		}
	}
	return out
}

func (l *loader) auth(e *entry) Auth {
	a := Auth{Kind: "none"}
	if e == nil {
		return a
	}
	l.required(e, "kind", "how the provider knows you: none, basic, bearer, header or field")
	kind, ok := read(l, e.get("kind"), oneOf("none", "basic", "bearer", "header", "field"))
	if !ok {
		return a
	}
	a = Auth{Kind: kind, User: wordOf(e.get("user")), Name: wordOf(e.get("name")), Secret: l.secret(e, "secret")}
	if kind == "basic" {
		l.required(e, "user", "basic needs the account's name")
	}
	if kind == "header" || kind == "field" {
		l.required(e, "name", "what the "+kind+" is called")
	}
	if kind == "header" {
		a.Name, _ = read(l, e.get("name"), parseHeader)
	}
	if kind != "none" {
		l.needSecret(e, a.Secret)
	}
	return a
}

// needSecret tells of a secret that must be named and isn't.
func (l *loader) needSecret(e *entry, s Secret) {
	if s.IsZero() && !e.written("secret_file") && !e.written("secret_credential") {
		l.problems = append(l.problems, Problem{File: l.file, Line: e.line, Key: dotted(e.key, "secret_file"),
			Text: "missing; name a file (secret_file) or a credential (secret_credential)"})
	}
}

// paths reads where things stand in what the provider tells: texts, news of
// our own messages, or both.
func (l *loader) paths(e *entry) Paths {
	p := Paths{
		List: wordOf(e.get("list_path")), ID: wordOf(e.get("id_path")), From: wordOf(e.get("from_path")), Text: wordOf(e.get("text_path")),
		Sent: wordOf(e.get("sent_path")), Status: wordOf(e.get("status_path")), Ref: wordOf(e.get("ref_path")),
		Envelope: wordOf(e.get("envelope_path")), Error: wordOf(e.get("error_path")), Only: l.only(e.get("only")),
	}
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
	return p
}

// only reads which entries count.
func (l *loader) only(e *entry) map[string]string {
	if e == nil {
		return nil
	}
	out := make(map[string]string, len(e.pairs))
	for _, p := range e.pairs {
		out[p.name] = p.text
	}
	return out
}
