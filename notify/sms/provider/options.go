package provider

import (
	"crypto/x509"
	"log/slog"
	"time"

	"stubbled/notify/sms/signature"
)

// Options describe a service. URL and Fields are required.
type Options struct {
	Name     string // of the carrier; "sms"
	URL      string
	Method   string  // "POST"
	Encoding string  // form or json; "form"
	Fields   []Field // of the request, in this order
	Headers  []Field // more headers, such as a version
	Auth     Auth

	Success   []int // 200, 201, 202
	IDPath    string
	ErrorPath string // the service's own code or word for a fault
	// StatusPath and ErrorPath lead to words that StatusMap knows.
	StatusPath string
	StatusMap  map[string]Status

	Idempotency string        // the header that carries our id; empty: a retry may be said twice
	Timeout     time.Duration // 20 s
	Every       time.Duration // least time between two messages; 1 s

	Poll    *Poll
	Webhook *Webhook

	CheckURL string         // answers a GET with 2xx where the password is right; empty: Poll's
	Region   string         // whose national numbers are read (US, GB ...); "US"
	Roots    *x509.CertPool // nil: the system's
	Log      *slog.Logger
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
}

// Auth is how the service knows us. Secret is called for each request and its
// answer is not kept.
type Auth struct {
	Kind   string // none, basic, bearer, header or field
	User   string // basic
	Name   string // of the header or field
	Secret func() ([]byte, error)
}

// Status is what a service's word means.
type Status string

// What a word may mean. OptedOut is a network that blocks the number because
// its owner wished so.
const (
	Accepted        Status = "accepted"
	Delivered       Status = "delivered"
	FailedTemporary Status = "failed-temporary"
	FailedPermanent Status = "failed-permanent"
	OptedOut        Status = "opted-out"
)

// Paths lead to what a message that came in, or news of one of ours, holds:
// dotted, with numbers for places in a list. A form's parameters are named as
// they are.
type Paths struct {
	ID, From, Text, Sent string
	// Ref and Status tell of a message of ours by the service's id; Envelope by
	// our own, where the service hands it back. Error tells why.
	Ref, Envelope, Status, Error string
}

// Poll asks the service what came in: most farms cannot be reached from
// outside.
type Poll struct {
	URL    string
	Query  []Field       // templates over Since
	Every  time.Duration // 1 min
	List   string        // path of the list; empty: the answer itself
	Paths  Paths
	Only   map[string]string // path to value: other items are passed over (direction: inbound)
	Cursor string            // query parameter that carries the last id seen; empty: none
	Next   string            // path of the next page's address or mark
	// NextParam is the query parameter of the next page's mark; empty: Next
	// leads to an address.
	NextParam string
	LookBack  time.Duration // how far the first poll looks, and each one that goes by time; 24 h
	MaxPages  int           // 20
}

// Since is what a poll's query may name.
type Since struct {
	Cursor string    // the last id seen
	Since  time.Time // LookBack ago
}

// Webhook hears from the service, where it can reach us. Nothing is taken
// without a valid signature.
type Webhook struct {
	Listen    string // host and port
	Beyond    bool   // Listen may be reached from other machines
	Path      string // "/sms"
	PublicURL string // as the service calls it
	Scheme    signature.Scheme
	List      string // path of the list in a JSON body; empty: the body itself
	Paths     Paths
	Only      map[string]string
}
