// Package links is in charge of what the farm file says of the world outside:
// the carriers of texts and mail, what is heard by them, and where temperatures
// come from.
//
// It sends and hears nothing, and knows neither paddocks nor people: what a
// section says is judged by that section alone.
package links

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/notify/terms"
)

// Via is what takes texts out and in.
type Via string

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
	s.Via = cmp.Or(s.Via, Console)
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

// Email is how mail travels.
type Email struct {
	From     string          `key:"from" as:"email" missing:"the address that mail comes from, such as from: farm@example.org"` // the address written from
	ReplyTo  string          `key:"reply_to" as:"email"`                                                                        // the mailbox that answers go to; From where not written
	Authserv string          `key:"authserv"`                                                                                   // the name under which the own mail server vouches for what it took in
	Token    settings.Secret `prefix:"token_"`                                                                                  // the key that binds answers to what they answer; zero where nothing is received
	OldToken settings.Secret `prefix:"old_token_"`                                                                              // the key before it, whose answers still count; zero where none
	SMTP     SMTP            `key:"smtp" missing:"the server that mail goes out by, such as smtp: {host: smtp.example.org, user: farm, password_credential: mail-password}"`
	IMAP     *IMAP           `key:"imap"` // nil where mail only goes out
}

// MailServer is an account at a mail server.
type MailServer struct {
	Host     string          `key:"host" as:"host" missing:"the server's name, such as host: smtp.example.org"`
	Port     int             `key:"port" as:"number" in:"1..65535"`                       // 0 is the usual one
	TLS      string          `key:"tls" as:"one of, in any case" in:"starttls tls plain"` // starttls, tls, or plain on this machine only
	User     string          `key:"user"`                                                 // empty: no login
	Password settings.Secret `prefix:"password_"`
}

// SMTP is the server that mail goes out by.
type SMTP struct {
	MailServer `default:"tls: starttls"`
	Timeout    time.Duration `key:"timeout" as:"span" in:"5 s..10 min" default:"1 min"`
}

// IMAP is the mailbox that answers are read from.
type IMAP struct {
	MailServer `default:"tls: tls" missing:"user: the account whose mailbox it is"`
	Mailbox    string        `key:"mailbox" default:"INBOX"`
	Poll       time.Duration `key:"poll" as:"span" in:"30 s..1 day" default:"5 min"` // how often it is looked at, besides being woken
	Timeout    time.Duration `key:"timeout" as:"span" in:"5 s..10 min" default:"1 min"`
}

func (m *Email) Judge(r *settings.Reading, e *settings.Entry) {
	m.ReplyTo = cmp.Or(m.ReplyTo, m.From)
	m.Token, m.OldToken = r.Secret(e, "token"), r.Secret(e, "old_token")
	if m.IMAP != nil {
		needToken(r, e, "answers by mail need")
	} else if at := e.Get("reply_to"); at != nil {
		r.Say(at, "means nothing without imap: nobody would read what comes there; add imap or take it out")
	}
	if !m.OldToken.IsZero() {
		needToken(r, e, "besides the old one new mails need")
	}
}

// needToken tells of a token's key that must be named and isn't.
func needToken(r *settings.Reading, e *settings.Entry, why string) {
	r.RequiredSecret(e, "token", why+" a key of 16 random bytes or more, in a file (token_file) or as a credential (token_credential)")
}

func (s *MailServer) Judge(r *settings.Reading, e *settings.Entry) {
	if s.TLS == "plain" && s.Host != "" && !values.Loopback(s.Host) {
		r.Say(e.Get("tls"), "plain would send the password readable over the network; write starttls or tls (plain is for this machine only)")
	}
	s.Password = r.Secret(e, "password")
	if s.User != "" {
		r.RequiredSecret(e, "password", "the user needs a password, in a file (password_file) or as a credential (password_credential)")
	}
}

// SpoolFolders is the spool of an SMS server that drives a modem.
type SpoolFolders struct{ terms.Spool }

func (s *SpoolFolders) Judge(r *settings.Reading, e *settings.Entry) {
	s.Queues = queues(r, e.Get("queues"))
	if s.TakeBack > 0 && s.Stale > 0 && s.TakeBack <= s.Stale {
		at := e.Get("take_back")
		if !at.Said() {
			at = e.Get("stuck_after")
		}
		r.Say(at, "take_back (%s) must be longer than stuck_after (%s): a text would be taken back before anybody is told that it waits",
			values.InWords(s.TakeBack), values.InWords(s.Stale))
	}
}

// ownFolders are those of the spool that are no queues.
var ownFolders = []string{"outgoing", "incoming", "sent", "failed", "done"}

func queues(r *settings.Reading, e *settings.Entry) []string {
	var out []string
	for _, item := range e.List() {
		switch name := item.Text; {
		case slices.Contains(ownFolders, name):
			r.Say(item, "%q is no queue; want the folder that smsd moves texts to until the modem is free, such as checked", name)
		case !filepath.IsAbs(name) && name != filepath.Base(name), name == "..", name == ".":
			r.Say(item, "want a folder's name such as checked, or its whole path, got %q", values.Clip(name))
		case slices.Contains(out, name):
			r.Say(item, "%q is listed twice; keep one", values.Clip(name))
		default:
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return []string{"checked"}
	}
	return out
}
