package config

import (
	"cmp"
	"time"

	"stubbled/config/values"
)

// Email is how mail travels.
type Email struct {
	From     string     `key:"from" as:"email" missing:"the address that mail comes from, such as from: farm@example.org"` // the address written from
	ReplyTo  string     `key:"reply_to" as:"email"`                                                                        // the mailbox that answers go to; From where not written
	Authserv string     `key:"authserv"`                                                                                   // the name under which the own mail server vouches for what it took in
	Token    Secret     `prefix:"token_"`                                                                                  // the key that binds answers to what they answer; zero where nothing is received
	OldToken Secret     `prefix:"old_token_"`                                                                              // the key before it, whose answers still count; zero where none
	SMTP     MailServer `key:"smtp" missing:"the server that mail goes out by, such as smtp: {host: smtp.example.org, user: farm, password_credential: mail-password}"`
	IMAP     *IMAP      `key:"imap"` // nil where mail only goes out
}

// MailServer is an account at a mail server.
type MailServer struct {
	Host     string        `key:"host" as:"host" missing:"the server's name, such as host: smtp.example.org"`
	Port     int           `key:"port" as:"number" in:"1..65535"`                                          // 0 is the usual one
	TLS      string        `key:"tls" as:"one of, in any case" in:"starttls tls plain" default:"starttls"` // starttls, tls, or plain on this machine only
	User     string        `key:"user"`                                                                    // empty: no login
	Password Secret        `prefix:"password_"`
	Timeout  time.Duration `key:"timeout" as:"span" in:"5 s..10 min" default:"1 min"`
}

// IMAP is the mailbox that answers are read from.
type IMAP struct {
	Host     string        `key:"host" as:"host" missing:"the server's name, such as host: smtp.example.org"`
	Port     int           `key:"port" as:"number" in:"1..65535"` // 0 is the usual one
	TLS      string        `key:"tls" as:"one of, in any case" in:"starttls tls plain" default:"tls"`
	User     string        `key:"user" missing:"the account whose mailbox it is"`
	Password Secret        `prefix:"password_"`
	Mailbox  string        `key:"mailbox" default:"INBOX"`
	Poll     time.Duration `key:"poll" as:"span" in:"30 s..1 day" default:"5 min"` // how often it is looked at, besides being woken
	Timeout  time.Duration `key:"timeout" as:"span" in:"5 s..10 min" default:"1 min"`
}

// Server is the account at which the mailbox is.
func (m *IMAP) Server() MailServer {
	return MailServer{m.Host, m.Port, m.TLS, m.User, m.Password, m.Timeout}
}

func (m *Email) judge(l *loader, e *entry) {
	m.ReplyTo = cmp.Or(m.ReplyTo, m.From)
	m.Token, m.OldToken = l.secret(e, "token"), l.secret(e, "old_token")
	if m.IMAP != nil {
		l.needToken(e, m.Token, "answers by mail need")
	} else if at := e.get("reply_to"); at != nil {
		l.say(at, "means nothing without imap: nobody would read what comes there; add imap or take it out")
	}
	if !m.OldToken.IsZero() {
		l.needToken(e, m.Token, "besides the old one new mails need")
	}
}

// needToken tells of a token's key that must be named and isn't.
func (l *loader) needToken(e *entry, s Secret, why string) {
	if s.IsZero() && !e.written("token_file") && !e.written("token_credential") {
		l.lacks(e, "token_file", why+" a key of 16 random bytes or more, in a file (token_file) or as a credential (token_credential)")
	}
}

func (s *MailServer) judge(l *loader, e *entry) {
	if s.TLS == "plain" && s.Host != "" && !values.Loopback(s.Host) {
		l.say(e.get("tls"), "plain would send the password readable over the network; write starttls or tls (plain is for this machine only)")
	}
	s.Password = l.secret(e, "password")
	if s.User != "" && s.Password.IsZero() && !e.written("password_file") && !e.written("password_credential") {
		l.lacks(e, "password_file", "the user needs a password, in a file (password_file) or as a credential (password_credential)")
	}
}

func (m *IMAP) judge(l *loader, e *entry) {
	s := m.Server()
	s.judge(l, e)
	m.Password = s.Password
}
