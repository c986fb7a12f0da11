package links

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/terms"
)

// HTTPCarrier is a provider of texts, or of calls, over HTTP.
type HTTPCarrier struct {
	terms.Request
	Auth Auth `key:"auth"`
	terms.Answer
	Poll    *Poll    `key:"poll"`
	Webhook *Webhook `key:"webhook"`
}

// Auth is how the provider knows us.
type Auth struct {
	terms.Auth
	Secret settings.Secret `prefix:"secret_"`
}

// Poll asks the provider for what came in.
type Poll struct{ terms.Poll }

// Webhook hears from the provider. Nothing is taken without a valid signature.
type Webhook struct {
	terms.Webhook
	Signature Signature
	terms.Paths
}

// Signature is how the provider signs its requests. What its scheme leaves to
// us is filled in.
type Signature struct {
	Scheme string          `key:"scheme" as:"one of" in:"hmac-sha1-url hmac-sha256-body standard-webhooks ed25519" missing:"how requests are signed: hmac-sha1-url, hmac-sha256-body, standard-webhooks, ed25519"`
	Secret settings.Secret `prefix:"secret_"`
	terms.Layout
}

// The signatures known.
const (
	HMACOverURL      = "hmac-sha1-url"     // HMAC over address and sorted parameters
	HMACOverBody     = "hmac-sha256-body"  // HMAC-SHA256 over time stamp and body
	StandardWebhooks = "standard-webhooks" // Standard Webhooks
	Ed25519OverBody  = "ed25519"           // Ed25519 over time stamp and body
)

func (h *HTTPCarrier) Judge(r *settings.Reading, e *settings.Entry) {
	h.Fields = sentFields(r, e.Get("fields"))
	if h.Encoding == "json" {
		apart(r, e.Get("fields"))
	}
	h.Headers = headers(r, e.Get("headers"))
	if len(h.Success) == 0 {
		h.Success = []int{200, 201, 202}
	}
	h.Auth.Kind = cmp.Or(h.Auth.Kind, "none")
	if h.Poll != nil && h.Poll.Status != "" || h.Webhook != nil && h.Webhook.Status != "" {
		r.Required(e, "status_map", "what the words at status_path mean, such as status_map: {delivered: delivered, rejected: failed-permanent}")
	}
}

func (a *Auth) Judge(r *settings.Reading, e *settings.Entry) {
	if a.Kind == "" {
		*a = Auth{}
		return
	}
	a.Secret = r.Secret(e, "secret")
	if a.Kind == "basic" {
		r.Required(e, "user", "basic needs the account's name")
	}
	if a.Kind == "header" || a.Kind == "field" {
		r.Required(e, "name", "what the "+a.Kind+" is called")
	}
	if at := e.Get("name"); a.Kind == "header" && at != nil {
		if _, err := values.ParseHeader(at.Text); err != nil {
			r.Say(at, "%v", err)
		}
	}
	if a.Kind != "none" {
		needSecret(r, e)
	}
}

func (p *Poll) Judge(r *settings.Reading, e *settings.Entry) {
	paths(r, e)
	p.Query = templates(r, e.Get("query"), terms.Since{Cursor: "x", Since: time.Unix(0, 0)}, "{{.Cursor}}, {{.Since.Unix}} or the like")
	if p.NextParam != "" && !e.Written("next_path") {
		r.Say(e.Get("next_param"), "carries the next page's mark, but nothing says where that stands; write next_path too")
	}
	if at := e.Get("max_pages"); at.Said() && !e.Written("next_path") {
		r.Say(at, "means nothing without next_path: there is one page")
	}
	since := slices.ContainsFunc(p.Query, func(f terms.Field) bool { return strings.Contains(f.Value, ".Since") })
	if at := e.Get("look_back"); at.Said() && !since && !r.Wrong(e.Key+".query") {
		r.Say(at, `means nothing unless the query names it, such as query: {after: "{{.Since.Unix}}"}`)
	}
}

// paths checks where things stand in what the provider tells: texts, news of
// our own messages, or both.
func paths(r *settings.Reading, e *settings.Entry) {
	news := e.Written("status_path")
	if !news || e.Written("from_path") || e.Written("text_path") {
		for _, key := range []string{"id_path", "from_path", "text_path"} {
			r.Required(e, key, "where it stands in each message, such as "+key+": "+strings.TrimSuffix(key, "_path"))
		}
	}
	if news && !e.Written("ref_path") && !e.Written("envelope_path") {
		r.Say(e, "tells what became of a message, but not of which; want ref_path (the id that id_path of the answer gave) or envelope_path (our own, as {{.ID}} sent it)")
	}
	for _, key := range []string{"ref_path", "envelope_path", "error_path"} {
		if at := e.Get(key); at != nil && !news {
			r.Say(at, "means nothing without status_path: it belongs to news of our own messages")
		}
	}
}

// needSecret tells of a secret that must be named and isn't.
func needSecret(r *settings.Reading, e *settings.Entry) {
	r.RequiredSecret(e, "secret", "name a file (secret_file) or a credential (secret_credential)")
}
