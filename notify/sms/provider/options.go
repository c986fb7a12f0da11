package provider

import (
	"crypto/x509"
	"log/slog"
	"time"

	"stubbled/notify/sms/signature"
	"stubbled/scheduler/ladder"
)

// Options describe a service. Whatever can be left out says so.
type Options struct {
	// Medium is what it carries: texts where empty, or calls, whose text a voice
	// reads out.
	Medium   ladder.Medium
	URL      string
	Method   string
	Encoding string  // form or json
	Fields   []Field // of the request, in this order
	Headers  []Field // more headers, such as a version
	Auth     Auth

	Success   []int
	IDPath    string
	ErrorPath string // the service's own code or word for a fault
	// StatusPath and ErrorPath lead to words; StatusMap says what they mean.
	StatusPath string
	StatusMap  map[string]string

	Idempotency string        // the header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration // of a request
	Every       time.Duration // least time between two messages

	Poll    *Poll    // nil: none
	Webhook *Webhook // nil: none

	// Language is the tag of the language of whoever has a number; nil: not known.
	Language func(number string) string

	CheckURL string         // answers a GET with 2xx where the password is right; empty: Poll's
	Region   string         // whose national numbers are read (US, GB ...)
	Roots    *x509.CertPool // nil: the system's
	Log      *slog.Logger   // nil: none
}

// A Field is a name and a text/template over Message. In JSON a dot in the
// name leads into an object, and a last [] makes a list of one.
type Field struct{ Name, Value string }

// Message is what a field may name.
type Message struct {
	To     string // E.164, with its plus
	Digits string // without it
	Text   string
	ID     string // our own id
	// Language is the tag of whom it goes to, which a voice needs.
	Language string
}

// Auth is how the service knows us. Secret is called for each request and its
// answer is not kept.
type Auth struct {
	Kind   string // none, basic, bearer, header or field
	User   string // basic
	Name   string // of the header or field
	Secret func() ([]byte, error)
}

// What a service's word may mean. optedOut is a network that blocks the number
// because its owner wished so; accepted and any other word say nothing yet.
const (
	delivered       = "delivered"
	failedTemporary = "failed-temporary"
	failedPermanent = "failed-permanent"
	optedOut        = "opted-out"
)

// Paths lead to what messages that came in, or news of ours, hold: dotted, with
// numbers for places in a list. A form's parameters are named as they are.
type Paths struct {
	List                 string // of the list; empty: the answer or body itself
	ID, From, Text, Sent string
	// Ref and Status tell of a message of ours by the service's id; Envelope by
	// our own, where the service hands it back. Error tells why.
	Status, Ref, Envelope, Error string
	Only                         map[string]string // path to value: other items are passed over (direction: inbound)
}

// Poll asks the service what came in: most farms cannot be reached from
// outside.
type Poll struct {
	Paths
	URL    string
	Query  []Field // templates over Since
	Every  time.Duration
	Cursor string // query parameter that carries the last id seen; empty: none
	Next   string // path of the next page's address or mark
	// NextParam is the query parameter of the next page's mark; empty: Next
	// leads to an address.
	NextParam string
	LookBack  time.Duration // how far the first poll looks, and each one that goes by time
	MaxPages  int
}

// Since is what a poll's query may name.
type Since struct {
	Cursor string    // the last id seen
	Since  time.Time // LookBack ago
}

// Webhook hears from the service, where it can reach us. Nothing is taken
// without a valid signature.
type Webhook struct {
	Paths
	Listen    string // host and port
	Beyond    bool   // Listen may be reached from other machines
	Path      string // of the address that the service calls
	PublicURL string // as the service calls it; empty: Listen's and Path's
	Scheme    signature.Scheme
	// Sure reports whether this machine's clock may be believed: while it may not,
	// the age of a call cannot be judged. nil: always.
	Sure func() bool
}
