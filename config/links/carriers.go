// Package links is in charge of what the farm file says of the world outside:
// the carriers of texts and mail, what is heard by them, and where temperatures
// come from.
//
// It sends and hears nothing, and knows neither paddocks nor people: what a
// section says is judged by that section alone.
package links

import (
	"slices"
	"strings"

	"stubbled/config/settings"
)

// Via is what takes texts out and in.
type Via string

// The ways of a text.
const (
	Console Via = "console" // this terminal
	Spool   Via = "spool"   // the folders of an SMS server that drives a modem
	HTTP    Via = "http"    // a provider over HTTP
)

// Carriers is how words travel. Without any, everything speaks on the console.
type Carriers struct {
	SMS   SMS    `key:"sms" read:"always"`
	Email *Email `key:"email"` // nil where mail speaks on the console
	// Call is a service that reads a text out on the telephone; nil: nobody is called.
	Call *HTTPCarrier `key:"call"`
}

// Kept are the secrets that a carrier reads once and goes on with: a mailbox's
// password, the keys of tokens and of signed calls. That of a service is read for
// each request.
func (c Carriers) Kept() (all []settings.Secret) {
	if m := c.Email; m != nil {
		all = append(all, m.Token, m.OldToken, m.SMTP.Password)
		if m.IMAP != nil {
			all = append(all, m.IMAP.Password)
		}
	}
	for _, service := range []*HTTPCarrier{c.SMS.HTTP, c.Call} {
		if service != nil && service.Webhook != nil {
			all = append(all, service.Webhook.Signature.Secret)
		}
	}
	return slices.DeleteFunc(all, settings.Secret.IsZero)
}

// Numbers are those that the farm texts and calls from, as far as the file says
// them: E.164.
func (c Carriers) Numbers() []string {
	all := []string{c.SMS.Number}
	for _, service := range []*HTTPCarrier{c.SMS.HTTP, c.Call} {
		if service == nil {
			continue
		}
		for _, f := range service.Fields { // sender: "+15555550100"
			if digits := strings.TrimPrefix(strings.TrimSpace(f.Value), "+"); len(digits) >= 7 && strings.Trim(digits, "0123456789") == "" {
				all = append(all, "+"+digits)
			}
		}
	}
	return all
}

// Mailboxes are the addresses that the farm writes and is written to by.
func (c Carriers) Mailboxes() []string {
	if c.Email == nil {
		return nil
	}
	all := []string{c.Email.From, c.Email.ReplyTo, c.Email.SMTP.User}
	if c.Email.IMAP != nil {
		all = append(all, c.Email.IMAP.User)
	}
	return all
}

// SMS is how texts travel.
type SMS struct {
	Number string       `key:"number" as:"phone"` // the farm's own; empty: not said
	Via    Via          `key:"via" as:"one of, in any case" in:"console spool http" default:"console"`
	Spool  SpoolFolders `key:"spool" read:"later"` // where Via is Spool
	HTTP   *HTTPCarrier `key:"http" read:"later"`  // where Via is HTTP
}

// Judge reads what Via says, and refuses the other.
func (s *SMS) Judge(r *settings.Reading, e *settings.Entry) {
	if s.Via == "" {
		s.Via = Console
	}
	for _, part := range []Via{Spool, HTTP} {
		if at := e.Get(string(part)); at.InFile() && s.Via != part {
			r.Say(at, "is written, but texts go via %s; write via: %s or take it out", s.Via, part)
		}
	}
	switch s.Via {
	case Spool:
		r.Fill(r.Opened("carriers.sms.spool"), &s.Spool)
	case HTTP:
		r.Required(e, "http", "the provider's url and fields; the example farm file shows them")
		if h := e.Get("http"); h != nil {
			s.HTTP = &HTTPCarrier{}
			r.Fill(h, s.HTTP)
		}
	}
}
