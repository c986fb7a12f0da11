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
	Headers     []Field // more headers, sent as they stand
	Auth        Auth
	Success     []int
	IDPath      string // dotted path of the provider's id in its answer; empty where it gives none
	StatusPath  string
	ErrorPath   string
	StatusMap   map[string]string // the provider's word: one of statusWords
	Idempotency string            // header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration
	Every       time.Duration // least time between two messages
	CheckURL    string        // answers 2xx where the password is right; empty: Poll's
	Region      string        // whose national numbers are read: US, GB ...
	Poll        *Poll
	Webhook     *Webhook
}

// HTTPFields is what a field's template may name.
type HTTPFields struct {
	To     string // E.164
	Digits string // without its plus
	Text   string
	ID     string // our own id of the message
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

// Paths are the dotted paths of what a message that came in, or news of one of
// ours, holds; empty where the provider gives none.
type Paths struct {
	List                 string // of the list; empty: the answer itself
	ID, From, Text, Sent string
	// Ref leads to the provider's id of a message of ours, Envelope to our own.
	Status, Ref, Envelope, Error string
	Only                         map[string]string // path to value: anything else is passed over
}

// Poll asks the provider for what came in.
type Poll struct {
	Paths
	URL       string
	Every     time.Duration
	Query     []Field // templates over PollFields
	Cursor    string  // query parameter that carries the last id seen
	NextPath  string  // of the next page's address or mark
	NextParam string  // query parameter of that mark; empty: NextPath leads to an address
	LookBack  time.Duration
	MaxPages  int
}

// PollFields is what a query's template may name.
type PollFields struct {
	Cursor string    // the last id seen
	Since  time.Time // look_back ago
}

// Webhook hears from the provider. Nothing is taken without a valid signature.
type Webhook struct {
	Paths
	Listen    string // host:port
	Beyond    bool   // other machines may reach Listen
	Path      string
	PublicURL string // as the provider calls it
	Signature Signature
}

// Signature is how the provider signs its requests. What its scheme leaves to
// us is filled in.
type Signature struct {
	Scheme      string // one of WebhookSchemes
	Secret      Secret
	Header      string // that carries the signature; empty where the scheme names its own
	Hash        string // sha1 or sha256
	StampHeader string // of the time stamp; empty: it stands in Header
	StampField  string // its name in Header; empty: t
	SignField   string // the signature's name in Header; empty: v1
	NonceHeader string
	Signed      string // what is signed, over signedNames
	Encoding    string // of the signature: hex or base64
}

// The signatures known.
const (
	HMACOverURL      = "hmac-sha1-url"     // HMAC over address and sorted parameters
	HMACOverBody     = "hmac-sha256-body"  // HMAC-SHA256 over time stamp and body
	StandardWebhooks = "standard-webhooks" // Standard Webhooks
	Ed25519OverBody  = "ed25519"           // Ed25519 over time stamp and body
)

// WebhookSchemes are the signatures known.
var WebhookSchemes = []string{HMACOverURL, HMACOverBody, StandardWebhooks, Ed25519OverBody}

// statusWords are what a provider's word may be taken for.
var statusWords = []string{"accepted", "delivered", "failed-temporary", "failed-permanent", "opted-out"}
