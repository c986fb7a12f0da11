package config

import (
	"cmp"
	"net"
	"slices"
	"strings"

	"stubbled/config/values"
)

func (w *Webhook) judge(l *loader, e *entry) {
	w.Paths.judge(l, e)
	l.listen(e, w)
	w.Signature.judge(l, e)
	if w.Signature.Scheme == HMACOverURL || strings.Contains(w.Signature.Signed, "{url}") {
		l.required(e, "public_url", "the address as the provider calls it: it is part of what is signed")
	}
}

// listen reads where the webhook listens. Other machines may reach it only
// where the file says so in as many words.
func (l *loader) listen(e *entry, w *Webhook) {
	beyond, said := value[bool](l, e.get("beyond"))
	if w.Beyond = beyond; w.Listen == "" || !said {
		return
	}
	host, _, _ := net.SplitHostPort(w.Listen)
	switch near := values.Loopback(host); {
	case !near && !beyond:
		l.say(e.get("listen"), "%q can be reached from other machines; put a reverse proxy or a tunnel before 127.0.0.1, or add beyond: true if it is meant", values.Clip(w.Listen))
	case near && beyond:
		l.warn(e.get("beyond"), "changes nothing: %s is this machine alone", w.Listen)
	}
}

// schemeKeys are the keys of a signature that mean something with each scheme.
var schemeKeys = map[string][]string{
	HMACOverURL:      {"header", "hash"},
	HMACOverBody:     bodyKeys,
	Ed25519OverBody:  bodyKeys,
	StandardWebhooks: nil,
}

var bodyKeys = []string{"header", "stamp_header", "stamp_field", "sign_field", "nonce_header", "signed", "encoding"}

// judge checks what goes together in a signature, and fills in what the scheme
// is usually like.
func (s *Signature) judge(l *loader, e *entry) {
	s.Secret = l.secret(e, "secret")
	l.needSecret(e, s.Secret)
	if s.Scheme == "" {
		return
	}
	for _, key := range append([]string{"hash"}, bodyKeys...) {
		if at := e.get(key); at != nil && !slices.Contains(schemeKeys[s.Scheme], key) {
			l.say(at, "means nothing with scheme %s; take it out", s.Scheme)
		}
	}
	if s.Scheme != StandardWebhooks {
		l.required(e, "header", "the header that carries the signature, such as header: X-Signature")
	}
	switch s.Scheme {
	case HMACOverURL:
		s.Hash = cmp.Or(s.Hash, "sha1")
	case HMACOverBody:
		s.Signed, s.Encoding = cmp.Or(s.Signed, "{timestamp}.{body}"), cmp.Or(s.Encoding, "hex")
		l.stamps(e, s)
	case Ed25519OverBody:
		s.Signed, s.Encoding = cmp.Or(s.Signed, "{timestamp}|{body}"), cmp.Or(s.Encoding, "base64")
		if !e.written("stamp_field") {
			l.required(e, "stamp_header", "the header that carries the time stamp, such as stamp_header: X-Timestamp")
		}
		l.stamps(e, s)
	}
}

// stamps checks what goes together in a signature over time stamp and body.
func (l *loader) stamps(e *entry, s *Signature) {
	for _, key := range []string{"stamp_field", "sign_field"} {
		if at := e.get(key); at != nil && e.written("stamp_header") {
			l.say(at, "is a name within the signature's header, but the time stamp has a header of its own (stamp_header); keep one")
		}
	}
	switch names := strings.Contains(s.Signed, "{nonce}"); {
	case names && !e.written("nonce_header"):
		l.required(e, "nonce_header", "signed names {nonce}; say which header carries it")
	case !names && s.NonceHeader != "":
		l.say(e.get("nonce_header"), "means nothing unless signed names {nonce}")
	}
}
