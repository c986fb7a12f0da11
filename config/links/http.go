package links

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
)

// HTTPCarrier is a provider of texts, or of calls, over HTTP: all differ only in
// names.
type HTTPCarrier struct {
	URL      string `key:"url" as:"url" missing:"where texts are sent, such as url: https://sms.example.org/messages"`
	Method   string `key:"method" as:"one of" in:"POST PUT" default:"POST"`
	Encoding string `key:"encoding" as:"one of" in:"form json" default:"form"`
	// Fields of the request in the order written. Values are templates over
	// HTTPFields.
	Fields      []settings.Field  `key:"fields" read:"later" missing:"what is sent, such as fields: {to: \"{{.To}}\", text: \"{{.Text}}\"}"`
	Headers     []settings.Field  `key:"headers" read:"later"` // more headers, sent as they stand
	Auth        Auth              `key:"auth"`
	Success     []int             `key:"success" as:"number" in:"200..299"`
	IDPath      string            `key:"id_path"` // dotted path of the provider's id in its answer; empty where it gives none
	StatusPath  string            `key:"status_path"`
	ErrorPath   string            `key:"error_path"`
	StatusMap   map[string]string `key:"status_map" as:"one of" in:"accepted delivered failed-temporary failed-permanent opted-out"` // the provider's word, and what it is taken for
	Idempotency string            `key:"idempotency" as:"header"`                                                                    // header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration     `key:"timeout" as:"span" in:"1 s..5 min" default:"20 s"`
	Every       time.Duration     `key:"rate" as:"rate" default:"1 per second"` // least time between two messages
	CheckURL    string            `key:"check_url" as:"url"`                    // answers 2xx where the password is right; empty: Poll's
	Region      string            `key:"region" as:"region" default:"US"`       // whose national numbers are read: US, GB ...
	Poll        *Poll             `key:"poll"`
	Webhook     *Webhook          `key:"webhook"`
}

// HTTPFields is what a field's template may name.
type HTTPFields struct {
	To     string // E.164
	Digits string // without its plus
	Text   string
	ID     string // our own id of the message
	// Language is the tag of whom it goes to: en, es. A voice needs it.
	Language string
}

// Auth is how the provider knows us.
type Auth struct {
	Kind   string          `key:"kind" as:"one of" in:"none basic bearer header field" missing:"how the provider knows you: none, basic, bearer, header or field"`
	User   string          `key:"user"` // basic
	Name   string          `key:"name"` // of the header or field
	Secret settings.Secret `prefix:"secret_"`
}

// Paths are the dotted paths of what a message that came in, or news of one of
// ours, holds; empty where the provider gives none.
type Paths struct {
	List   string `key:"list_path"` // of the list; empty: the answer itself
	ID     string `key:"id_path"`
	From   string `key:"from_path"`
	Text   string `key:"text_path"`
	Sent   string `key:"sent_path"`
	Status string `key:"status_path"`
	// Ref leads to the provider's id of a message of ours, Envelope to our own.
	Ref      string            `key:"ref_path"`
	Envelope string            `key:"envelope_path"`
	Error    string            `key:"error_path"`
	Only     map[string]string `key:"only"` // path to value: anything else is passed over
}

// Poll asks the provider for what came in.
type Poll struct {
	URL    string           `key:"url" as:"url" missing:"where the provider lists what came in"`
	Every  time.Duration    `key:"every" as:"span" in:"10 s..1 day" default:"1 min"`
	Query  []settings.Field `key:"query" read:"later"` // templates over PollFields
	Cursor string           `key:"cursor"`             // query parameter that carries the last id seen
	Paths
	NextPath  string        `key:"next_path"`  // of the next page's address or mark
	NextParam string        `key:"next_param"` // query parameter of that mark; empty: NextPath leads to an address
	LookBack  time.Duration `key:"look_back" as:"span" in:"10 min..31 days" default:"24 hours"`
	MaxPages  int           `key:"max_pages" as:"number" in:"1..1000" default:"20"`
}

// PollFields is what a query's template may name.
type PollFields struct {
	Cursor string    // the last id seen
	Since  time.Time // look_back ago
}

// Webhook hears from the provider. Nothing is taken without a valid signature.
type Webhook struct {
	Listen    string `key:"listen" as:"listen" default:"127.0.0.1:8825"`        // host:port
	Beyond    bool   `key:"beyond" as:"yes or no" read:"later" default:"false"` // other machines may reach Listen
	Path      string `key:"path" as:"web path" default:"/sms"`
	PublicURL string `key:"public_url" as:"public url"` // as the provider calls it
	Signature Signature
	Paths
}

// Signature is how the provider signs its requests. What its scheme leaves to
// us is filled in.
type Signature struct {
	Scheme      string          `key:"scheme" as:"one of" in:"hmac-sha1-url hmac-sha256-body standard-webhooks ed25519" missing:"how requests are signed: hmac-sha1-url, hmac-sha256-body, standard-webhooks, ed25519"`
	Secret      settings.Secret `prefix:"secret_"`
	Header      string          `key:"header" as:"header"` // that carries the signature; empty where the scheme names its own
	Hash        string          `key:"hash" as:"one of" in:"sha1 sha256"`
	StampHeader string          `key:"stamp_header" as:"header"` // of the time stamp; empty: it stands in Header
	StampField  string          `key:"stamp_field"`              // its name in Header; empty: t
	SignField   string          `key:"sign_field"`               // the signature's name in Header; empty: v1
	NonceHeader string          `key:"nonce_header" as:"header"`
	Signed      string          `key:"signed" as:"signed"`                   // what is signed, over signedNames
	Encoding    string          `key:"encoding" as:"one of" in:"hex base64"` // of the signature
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
	p.Paths.Judge(r, e)
	p.Query = queryFields(r, e.Get("query"))
	if p.NextParam != "" && !e.Written("next_path") {
		r.Say(e.Get("next_param"), "carries the next page's mark, but nothing says where that stands; write next_path too")
	}
	if at := e.Get("max_pages"); at.Said() && !e.Written("next_path") {
		r.Say(at, "means nothing without next_path: there is one page")
	}
	since := slices.ContainsFunc(p.Query, func(f settings.Field) bool { return strings.Contains(f.Value, ".Since") })
	if at := e.Get("look_back"); at.Said() && !since && !r.Wrong(e.Key+".query") {
		r.Say(at, `means nothing unless the query names it, such as query: {after: "{{.Since.Unix}}"}`)
	}
}

// Judge checks where things stand in what the provider tells: texts, news of
// our own messages, or both.
func (p *Paths) Judge(r *settings.Reading, e *settings.Entry) {
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
