// Package provider is in charge of texting through a service over HTTP. All
// such services differ only in names: where to send, what the fields are
// called, how the password is shown, where the answer holds the message's id.
// So one transport is told those names and knows no service.
//
// It never decides anything and keeps nothing. Invariants: a value reaches the
// request through its encoder and never by pasting; a request that the service
// may have read is not sent again unless it is marked so that it counts once;
// redirects are not followed; answers are bounded; TLS is verified always, and
// plain HTTP is for this machine only; what came in is accepted before the
// service is told so; no body and no secret is logged or named in an error.
package provider

import (
	"cmp"
	"crypto/x509"
	"log/slog"
	"net/http"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms/signature"
	"stubbled/notify/terms"
	"stubbled/scheduler/ladder"
)

// A Provider is a carrier, a receiver and a checker.
type Provider struct {
	o       Options
	now     func() time.Time
	client  *http.Client
	fields  []field
	query   []field
	pace    pace
	refused notify.Blame
}

var _ notify.Checker = (*Provider)(nil)

// New makes a carrier of a service that the farm file was checked to describe, and
// tries each template.
func New(o Options, now func() time.Time) (*Provider, error) {
	o.Medium = cmp.Or(o.Medium, ladder.Text)
	o.Log = cmp.Or(o.Log, slog.New(slog.DiscardHandler)).With("carrier", o.name())
	p := &Provider{o: o, now: now, client: newClient(o)}
	var err error
	if p.fields, err = compile(o.Fields, terms.Message{To: "+15555550142", Digits: "15555550142", Text: "x", ID: "x"}); err == nil && o.Poll != nil {
		p.query, err = compile(o.Poll.Query, terms.Since{})
	}
	return p, err
}

// Name is the carrier's name in the farm file and the logs: sms or call.
func (p *Provider) Name() string { return p.o.name() }

func (o Options) name() string {
	if o.Medium == ladder.Call {
		return "call"
	}
	return "sms"
}

func (p *Provider) Medium() ladder.Medium { return p.o.Medium }

// Retry is safe where the service counts a message with the same id once.
func (p *Provider) Retry() notify.Retry {
	if p.o.Idempotency != "" {
		return notify.Safe
	}
	return notify.Unsafe
}

// Options describe a service. Whatever can be left out says so.
type Options struct {
	// Medium is what it carries: texts where empty, or calls, whose text a voice
	// reads out.
	Medium ladder.Medium
	terms.Request
	Auth Auth
	terms.Answer
	Poll    *terms.Poll // nil: none
	Webhook *Webhook    // nil: none

	// Language is the tag of the language of whoever has a number; nil: not known.
	Language func(number string) string

	Roots *x509.CertPool // nil: the system's
	Log   *slog.Logger   // nil: none
}

// Auth is how the service knows us. Secret is called for each request and its
// answer is not kept.
type Auth struct {
	terms.Auth
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

// Webhook hears from the service, where it can reach us. Nothing is taken
// without a valid signature.
type Webhook struct {
	terms.Webhook
	terms.Paths
	Scheme signature.Scheme
	// Sure reports whether this machine's clock may be believed: while it may not,
	// the age of a call cannot be judged. nil: always.
	Sure func() bool
}
