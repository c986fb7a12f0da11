package links

import (
	"cmp"
	"time"

	"stubbled/config/settings"
	"stubbled/config/values"
)

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
