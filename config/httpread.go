package config

import (
	"io"
	"strings"
	"text/template"
	"time"
)

func (l *loader) http(e *entry) *HTTPCarrier {
	h := &HTTPCarrier{
		IDPath: wordOf(e.get("id_path")), StatusPath: wordOf(e.get("status_path")), ErrorPath: wordOf(e.get("error_path")),
		StatusMap: map[string]string{},
	}
	l.required(e, "url", "where texts are sent, such as url: https://sms.example.org/messages")
	l.required(e, "fields", `what is sent, such as fields: {to: "{{.To}}", text: "{{.Text}}"}`)
	h.URL, _ = read(l, e.get("url"), parseURL)
	h.Method, _ = read(l, e.get("method"), oneOf("POST", "PUT"))
	h.Encoding, _ = read(l, e.get("encoding"), oneOf("form", "json"))
	l.httpFields(e.get("fields"), h)
	h.Auth = l.auth(e.get("auth"))
	for _, item := range e.get("success").list() {
		if code, ok := read(l, item, wholeIn(200, 299)); ok {
			h.Success = append(h.Success, code)
		}
	}
	if len(h.Success) == 0 {
		h.Success = []int{200, 201, 202}
	}
	if at := e.get("status_map"); at != nil {
		for _, p := range at.pairs {
			if word, ok := read(l, p.entry, oneOf(statusWords...)); ok {
				h.StatusMap[p.name] = word
			}
		}
	}
	h.Idempotency, _ = read(l, e.get("idempotency"), parseHeader)
	h.Timeout, _ = read(l, e.get("timeout"), span(time.Second, 5*time.Minute))
	h.Every, _ = read(l, e.get("rate"), parseRate)
	if at := e.get("poll"); at != nil {
		h.Poll = l.poll(at)
	}
	if at := e.get("webhook"); at != nil {
		h.Webhook = l.webhook(at)
	}
	return h
}

// httpFields reads the request's fields, and tries each template once.
func (l *loader) httpFields(e *entry, h *HTTPCarrier) {
	if e == nil {
		return
	}
	to, text := false, false
	for _, p := range e.pairs {
		t, err := template.New("field").Option("missingkey=error").Parse(p.text)
		if err == nil {
			err = t.Execute(io.Discard, HTTPFields{To: "+15555550142", Text: "x", ID: "x"})
		}
		if err != nil {
			l.say(p.entry, `want text with {{.To}}, {{.Text}} or {{.ID}} in it, got %q`, clip(p.text))
			continue
		}
		if _, _, secret := secretKey(p.name, aPairs); secret && !strings.Contains(p.text, "{{") {
			l.say(p.entry, "secrets don't belong in the farm file; write auth: {kind: field, name: %s, secret_file: ...}", p.name)
			continue
		}
		to = to || strings.Contains(p.text, ".To")
		text = text || strings.Contains(p.text, ".Text")
		h.Fields = append(h.Fields, Field{p.name, p.text})
	}
	if !hasProblemUnder(l.problems, e.key+".") && (!to || !text) {
		l.say(e, `must say whom and what, with {{.To}} in one value and {{.Text}} in another`)
	}
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

func (l *loader) poll(e *entry) *Poll {
	p := &Poll{ListPath: wordOf(e.get("list_path")), IDPath: wordOf(e.get("id_path")), FromPath: wordOf(e.get("from_path")),
		TextPath: wordOf(e.get("text_path")), SentPath: wordOf(e.get("sent_path")), Cursor: wordOf(e.get("cursor"))}
	l.required(e, "url", "where the provider lists what came in")
	for _, key := range []string{"id_path", "from_path", "text_path"} {
		l.required(e, key, "where it stands in each message, such as "+key+": "+strings.TrimSuffix(key, "_path"))
	}
	p.URL, _ = read(l, e.get("url"), parseURL)
	p.Every, _ = read(l, e.get("every"), span(10*time.Second, 24*time.Hour))
	return p
}

func (l *loader) webhook(e *entry) *Webhook {
	w := &Webhook{Path: wordOf(e.get("path")), Header: wordOf(e.get("header")), IDPath: wordOf(e.get("id_path")),
		FromPath: wordOf(e.get("from_path")), TextPath: wordOf(e.get("text_path")), SentPath: wordOf(e.get("sent_path"))}
	for _, key := range []string{"id_path", "from_path", "text_path"} {
		l.required(e, key, "where it stands in the request, such as "+key+": "+strings.TrimSuffix(key, "_path"))
	}
	l.required(e, "scheme", "how requests are signed: "+strings.Join(WebhookSchemes, ", "))
	w.Scheme, _ = read(l, e.get("scheme"), oneOf(WebhookSchemes...))
	w.Listen, _ = read(l, e.get("listen"), parseListen)
	if w.Path != "" && !strings.HasPrefix(w.Path, "/") {
		l.say(e.get("path"), "want a path such as /sms, got %q", clip(w.Path))
	}
	w.PublicURL, _ = read(l, e.get("public_url"), parseURL)
	if w.Scheme == "hmac-sha1-url" {
		l.required(e, "public_url", "the address as the provider calls it: it is part of what is signed")
	}
	w.Secret = l.secret(e, "secret")
	l.needSecret(e, w.Secret)
	return w
}
