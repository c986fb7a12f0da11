package links

import (
	"cmp"
	"net"
	"slices"
	"strings"

	"stubbled/config/settings"
	"stubbled/config/values"
)

func (w *Webhook) Judge(r *settings.Reading, e *settings.Entry) {
	paths(r, e)
	listen(r, e, w)
	w.Signature.Judge(r, e)
	if w.Signature.Scheme == HMACOverURL || strings.Contains(w.Signature.Signed, "{url}") {
		r.Required(e, "public_url", "the address as the provider calls it: it is part of what is signed")
	}
}

// listen reads where the webhook listens. Other machines may reach it only
// where the file says so in as many words.
func listen(r *settings.Reading, e *settings.Entry, w *Webhook) {
	beyond, said := settings.Value[bool](r, e.Get("beyond"))
	if w.Beyond = beyond; w.Listen == "" || !said {
		return
	}
	host, _, _ := net.SplitHostPort(w.Listen)
	switch near := values.Loopback(host); {
	case !near && !beyond:
		r.Say(e.Get("listen"), "%q can be reached from other machines; put a reverse proxy or a tunnel before 127.0.0.1, or add beyond: true if it is meant", values.Clip(w.Listen))
	case near && beyond:
		r.Warn(e.Get("beyond"), "changes nothing: %s is this machine alone", w.Listen)
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

// Judge checks what goes together in a signature, and fills in what the scheme
// is usually like.
func (s *Signature) Judge(r *settings.Reading, e *settings.Entry) {
	s.Secret = r.Secret(e, "secret")
	needSecret(r, e)
	if s.Scheme == "" {
		return
	}
	for _, key := range append([]string{"hash"}, bodyKeys...) {
		if at := e.Get(key); at != nil && !slices.Contains(schemeKeys[s.Scheme], key) {
			r.Say(at, "means nothing with scheme %s; take it out", s.Scheme)
		}
	}
	if s.Scheme != StandardWebhooks {
		r.Required(e, "header", "the header that carries the signature, such as header: X-Signature")
	}
	switch s.Scheme {
	case HMACOverURL:
		s.Hash = cmp.Or(s.Hash, "sha1")
	case HMACOverBody:
		s.Signed, s.Encoding = cmp.Or(s.Signed, "{timestamp}.{body}"), cmp.Or(s.Encoding, "hex")
		stamps(r, e, s)
	case Ed25519OverBody:
		s.Signed, s.Encoding = cmp.Or(s.Signed, "{timestamp}|{body}"), cmp.Or(s.Encoding, "base64")
		if !e.Written("stamp_field") {
			r.Required(e, "stamp_header", "the header that carries the time stamp, such as stamp_header: X-Timestamp")
		}
		stamps(r, e, s)
	}
}

// stamps checks what goes together in a signature over time stamp and body.
func stamps(r *settings.Reading, e *settings.Entry, s *Signature) {
	for _, key := range []string{"stamp_field", "sign_field"} {
		if at := e.Get(key); at != nil && e.Written("stamp_header") {
			r.Say(at, "is a name within the signature's header, but the time stamp has a header of its own (stamp_header); keep one")
		}
	}
	switch names := strings.Contains(s.Signed, "{nonce}"); {
	case names && !e.Written("nonce_header"):
		r.Required(e, "nonce_header", "signed names {nonce}; say which header carries it")
	case !names && s.Nonce != "":
		r.Say(e.Get("nonce_header"), "means nothing unless signed names {nonce}")
	}
}
