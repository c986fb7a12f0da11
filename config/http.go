package config

import "time"

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
