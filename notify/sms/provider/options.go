package provider

import (
	"crypto/x509"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"slices"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms/signature"
	"stubbled/scheduler/ladder"
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

// A Provider is a carrier, a receiver and a checker.
type Provider struct {
	o      Options
	now    func() time.Time
	client *http.Client
	fields []field
	query  []field
	pace   pace
}

// Proof that a Provider fits.
var (
	_ notify.Carrier  = (*Provider)(nil)
	_ notify.Receiver = (*Provider)(nil)
	_ notify.Checker  = (*Provider)(nil)
)

// New makes a carrier of a service's description, and tries each template.
func New(o Options, now func() time.Time) (*Provider, error) {
	if now == nil {
		return nil, errors.New("the provider needs a clock")
	}
	defaults(&o)
	p := &Provider{o: o, now: now, client: newClient(o)}
	var err error
	if p.fields, err = compile(o.Fields, Message{To: "+15555550142", Digits: "15555550142", Text: "x", ID: "x"}); err != nil {
		return nil, err
	}
	if o.Poll != nil {
		if p.query, err = compile(o.Poll.Query, Since{}); err != nil {
			return nil, err
		}
	}
	return p, p.refuse()
}

func defaults(o *Options) {
	or(&o.Name, "sms")
	or(&o.Method, http.MethodPost)
	or(&o.Encoding, "form")
	or(&o.Auth.Kind, "none")
	or(&o.Timeout, 20*time.Second)
	or(&o.Every, time.Second)
	or(&o.Region, "US")
	if len(o.Success) == 0 {
		o.Success = []int{200, 201, 202}
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	o.Log = o.Log.With("carrier", o.Name)
	if o.Poll != nil {
		poll := *o.Poll
		or(&poll.Every, time.Minute)
		or(&poll.LookBack, 24*time.Hour)
		or(&poll.MaxPages, 20)
		o.Poll = &poll
	}
	if o.Webhook != nil {
		hook := *o.Webhook
		or(&hook.Path, "/sms")
		o.Webhook = &hook
	}
}

func or[T comparable](v *T, other T) {
	var zero T
	if *v == zero {
		*v = other
	}
}

// refuse names a description that cannot work or would not be safe.
func (p *Provider) refuse() error {
	o := p.o
	var errs []error
	errs = append(errs, safeURL("url", o.URL))
	if o.Encoding != "form" && o.Encoding != "json" {
		errs = append(errs, fmt.Errorf("the encoding is %q: want form or json", o.Encoding))
	}
	if len(o.Fields) == 0 {
		errs = append(errs, errors.New(`no fields are named: want at least to: "{{.To}}" and text: "{{.Text}}"`))
	}
	if !slices.Contains([]string{"none", "basic", "bearer", "header", "field"}, o.Auth.Kind) {
		errs = append(errs, fmt.Errorf("the password is shown by %q: want none, basic, bearer, header or field", o.Auth.Kind))
	}
	if o.Auth.Kind != "none" && o.Auth.Secret == nil {
		errs = append(errs, errors.New("the service wants a secret and none is named"))
	}
	if (o.Auth.Kind == "header" || o.Auth.Kind == "field") && o.Auth.Name == "" {
		errs = append(errs, fmt.Errorf("the %s that carries the secret has no name", o.Auth.Kind))
	}
	if o.CheckURL != "" {
		errs = append(errs, safeURL("check", o.CheckURL))
	}
	if o.Poll != nil {
		errs = append(errs, safeURL("poll", o.Poll.URL))
	}
	if o.Webhook != nil {
		errs = append(errs, o.Webhook.refuse())
	}
	return errors.Join(errs...)
}

func (w *Webhook) refuse() error {
	host, _, err := net.SplitHostPort(w.Listen)
	switch {
	case err != nil:
		return fmt.Errorf("the webhook listens on %q: want host and port, such as 127.0.0.1:8825", w.Listen)
	case !w.Beyond && !isLoopback(host):
		return fmt.Errorf("the webhook would listen on %q, for other machines too: put a reverse proxy before 127.0.0.1, or say that it may", w.Listen)
	case w.Scheme == nil:
		return errors.New("the webhook has no signature scheme: nothing could be believed")
	case w.Paths.Text == "" && w.Paths.Status == "":
		return errors.New("the webhook has no path to a text")
	}
	return nil
}

// safeURL refuses what would show the password on the way.
func safeURL(what, text string) error {
	u, err := url.Parse(text)
	switch {
	case err != nil || u.Host == "":
		return fmt.Errorf("the %s address is none: want https://host/path", what)
	case u.User != nil:
		return fmt.Errorf("the %s address holds a user or password: name the secret's file instead", what)
	case u.Scheme == "https":
		return nil
	case u.Scheme == "http" && isLoopback(u.Hostname()):
		return nil
	}
	return fmt.Errorf("the %s address is %s://%s: want https; plain http is for this machine only", what, u.Scheme, u.Host)
}

func isLoopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// Name is the carrier's name in the farm file and the logs.
func (p *Provider) Name() string { return p.o.Name }

// Medium is text.
func (p *Provider) Medium() ladder.Medium { return ladder.Text }

// Retry is safe where the service counts a message with the same id once.
func (p *Provider) Retry() notify.Retry {
	if p.o.Idempotency != "" {
		return notify.Safe
	}
	return notify.Unsafe
}
