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
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"slices"
	"time"

	"stubbled/notify"
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

// New makes a carrier of a service's description, and tries each template.
func New(o Options, now func() time.Time) (*Provider, error) {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	o.Medium = cmp.Or(o.Medium, ladder.Text)
	o.Log = o.Log.With("carrier", o.name())
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

// refuse names a description that cannot work or would not be safe.
func (p *Provider) refuse() error {
	o := p.o
	errs := []error{safeURL("url", o.URL)}
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
