package config

import (
	"fmt"
	"io"
	"net"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"text/template"
	"time"
)

// HTTPCarrier is a provider of texts over HTTP: all differ only in names.
type HTTPCarrier struct {
	URL      string
	Method   string // POST or PUT
	Encoding string // form or json
	// Fields of the request in the order written. Values are templates over
	// HTTPFields.
	Fields      []Field
	Auth        Auth
	Success     []int
	IDPath      string // dotted path of the provider's id in its answer; empty where it gives none
	StatusPath  string
	ErrorPath   string
	StatusMap   map[string]string // the provider's word: accepted, delivered, failed-temporary or failed-permanent
	Idempotency string            // header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration
	Every       time.Duration // least time between two messages
	Poll        *Poll
	Webhook     *Webhook
}

// HTTPFields is what a field's template may name.
type HTTPFields struct {
	To   string // E.164
	Text string
	ID   string // our own id of the message
}

// A Field is one name and value of a request.
type Field struct{ Name, Value string }

// Auth is how the provider knows us.
type Auth struct {
	Kind   string // none, basic, bearer, header or field
	User   string // basic
	Name   string // of the header or field
	Secret Secret
}

// Poll asks the provider for what came in.
type Poll struct {
	URL                                            string
	Every                                          time.Duration
	ListPath, IDPath, FromPath, TextPath, SentPath string // dotted paths
	Cursor                                         string // query parameter that carries the last id seen
}

// Webhook hears from the provider. Nothing is taken without a valid signature.
type Webhook struct {
	Listen                               string // host:port
	Path                                 string
	Scheme                               string // one of WebhookSchemes
	Header                               string // of the signature, where the scheme leaves it open
	Secret                               Secret
	PublicURL                            string // as the provider calls it
	IDPath, FromPath, TextPath, SentPath string
}

// WebhookSchemes are the signatures known: HMAC-SHA1 over address and sorted
// parameters; HMAC-SHA256 over timestamp and body; Standard Webhooks; Ed25519
// over timestamp and body.
var WebhookSchemes = []string{"hmac-sha1-url", "hmac-sha256-body", "standard-webhooks", "ed25519"}

// statusWords are what a provider's word may be taken for.
var statusWords = []string{"accepted", "delivered", "failed-temporary", "failed-permanent"}

func oneOf(known ...string) func(string) (string, error) {
	return func(text string) (string, error) {
		if v := strings.TrimSpace(text); slices.Contains(known, v) {
			return v, nil
		}
		return "", fmt.Errorf("want %s, got %q%s", strings.Join(known[:len(known)-1], ", ")+" or "+known[len(known)-1], clip(text), orOneOf(text, known))
	}
}

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
		if _, secret := secretKey(p.name, aPairs); secret && !strings.Contains(p.text, "{{") {
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

// parseURL reads an address without secrets in it. Plain http is for this
// machine only.
func parseURL(text string) (string, error) {
	u, err := url.Parse(text)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" {
		return "", fmt.Errorf("want an address such as https://sms.example.org/messages, got %q", clip(text))
	}
	if u.User != nil {
		return "", fmt.Errorf("holds a user or password; secrets don't belong in the farm file: write auth: {kind: basic, user: ..., secret_file: ...}")
	}
	for name := range u.Query() {
		if _, secret := secretKey(name, aPairs); secret {
			return "", fmt.Errorf("holds %q; secrets don't belong in the farm file: write auth with secret_file or secret_credential", name)
		}
	}
	if u.Scheme == "http" && !loopback(u.Hostname()) {
		return "", fmt.Errorf("want https, since plain http would show every text and password on the way, got %q", clip(text))
	}
	return text, nil
}

var headerName = regexp.MustCompile(`^[A-Za-z0-9-]{1,64}$`)

func parseHeader(text string) (string, error) {
	if !headerName.MatchString(text) {
		return "", fmt.Errorf("want the name of a header such as Idempotency-Key, got %q", clip(text))
	}
	return text, nil
}

func parseListen(text string) (string, error) {
	_, port, err := net.SplitHostPort(text)
	if n, numErr := strconv.Atoi(port); err != nil || numErr != nil || n < 1 || n > 65535 {
		return "", fmt.Errorf("want host and port such as 127.0.0.1:8825, got %q", clip(text))
	}
	return text, nil
}

var rate = regexp.MustCompile(`^([0-9]{1,4}) per (?:([0-9]{1,4}) ?)?(s|second|seconds|min|minute|minutes|h|hour|hours)$`)

// parseRate reads how many messages may go in a time, and gives the least time
// between two.
func parseRate(text string) (time.Duration, error) {
	part := rate.FindStringSubmatch(strings.TrimSpace(text))
	if part == nil {
		return 0, fmt.Errorf(`want a rate such as "1 per second" or "1 per 5 s", got %q`, clip(text))
	}
	n, _ := strconv.Atoi(part[1])
	per := 1
	if part[2] != "" {
		per, _ = strconv.Atoi(part[2])
	}
	if n == 0 || per == 0 {
		return 0, fmt.Errorf("a rate of %q would never send; want one such as \"1 per second\"", text)
	}
	unit := time.Duration(spans.units[part[3]] * float64(time.Second))
	return time.Duration(per) * unit / time.Duration(n), nil
}
