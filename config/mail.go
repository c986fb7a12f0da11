package config

import (
	"fmt"
	"net"
	"strings"
	"time"
)

// Email is how mail travels.
type Email struct {
	From     string // the address written from
	ReplyTo  string // the mailbox that answers go to; From where not written
	Authserv string // the name under which the own mail server vouches for what it took in
	Token    Secret // the key that binds answers to what they answer; zero where nothing is received
	OldToken Secret // the key before it, whose answers still count; zero where none
	SMTP     MailServer
	IMAP     *IMAP // nil where mail only goes out
}

// MailServer is an account at a mail server.
type MailServer struct {
	Host     string
	Port     int    // 0 is the usual one
	TLS      string // starttls, tls, or plain on this machine only
	User     string // empty: no login
	Password Secret
	Timeout  time.Duration
}

// IMAP is the mailbox that answers are read from.
type IMAP struct {
	MailServer
	Mailbox string
	Poll    time.Duration // how often it is looked at, besides being woken
}

func (l *loader) email(e *entry) *Email {
	m := &Email{Authserv: wordOf(e.get("authserv"))}
	l.required(e, "from", "the address that mail comes from, such as from: farm@example.org")
	l.required(e, "smtp", "the server that mail goes out by, such as smtp: {host: smtp.example.org, user: farm, password_credential: mail-password}")
	m.From, _ = read(l, e.get("from"), parseEmail)
	m.ReplyTo = m.From
	if to, ok := read(l, e.get("reply_to"), parseEmail); ok {
		m.ReplyTo = to
	}
	m.Token, m.OldToken = l.secret(e, "token"), l.secret(e, "old_token")
	if at := e.get("smtp"); at != nil {
		m.SMTP = l.mailServer(at)
	}
	if at := e.get("imap"); at != nil {
		m.IMAP = &IMAP{MailServer: l.mailServer(at), Mailbox: "INBOX", Poll: 5 * time.Minute}
		if box := wordOf(at.get("mailbox")); box != "" {
			m.IMAP.Mailbox = box
		}
		if d, ok := read(l, at.get("poll"), span(30*time.Second, 24*time.Hour)); ok {
			m.IMAP.Poll = d
		}
		l.required(at, "user", "the account whose mailbox it is")
		l.needToken(e, m.Token, "answers by mail need")
	} else if at := e.get("reply_to"); at != nil {
		l.say(at, "means nothing without imap: nobody would read what comes there; add imap or take it out")
	}
	if !m.OldToken.IsZero() {
		l.needToken(e, m.Token, "besides the old one new mails need")
	}
	return m
}

// needToken tells of a token's key that must be named and isn't.
func (l *loader) needToken(e *entry, s Secret, why string) {
	if s.IsZero() && !e.written("token_file") && !e.written("token_credential") {
		l.problems = append(l.problems, Problem{File: l.file, Line: e.line, Key: dotted(e.key, "token_file"),
			Text: "missing; " + why + " a key of 16 random bytes or more, in a file (token_file) or as a credential (token_credential)"})
	}
}

func (l *loader) mailServer(e *entry) MailServer {
	s := MailServer{User: wordOf(e.get("user")), TLS: "starttls", Timeout: time.Minute}
	l.required(e, "host", "the server's name, such as host: smtp.example.org")
	s.Host, _ = read(l, e.get("host"), parseHost)
	s.Port, _ = read(l, e.get("port"), wholeIn(1, 65535))
	if t, ok := read(l, e.get("tls"), parseTLS); ok {
		s.TLS = t
	}
	if s.TLS == "plain" && s.Host != "" && !loopback(s.Host) {
		l.say(e.get("tls"), "plain would send the password readable over the network; write starttls or tls (plain is for this machine only)")
	}
	s.Password = l.secret(e, "password")
	if s.User != "" && s.Password.IsZero() && !e.written("password_file") && !e.written("password_credential") {
		l.problems = append(l.problems, Problem{File: l.file, Line: e.line, Key: dotted(e.key, "password_file"),
			Text: "missing; the user needs a password, in a file (password_file) or as a credential (password_credential)"})
	}
	if d, ok := read(l, e.get("timeout"), span(5*time.Second, 10*time.Minute)); ok {
		s.Timeout = d
	}
	return s
}

func parseHost(text string) (string, error) {
	if strings.ContainsAny(text, " /@\\") || strings.Contains(text, ":") && net.ParseIP(text) == nil {
		return "", fmt.Errorf("want a server's name such as smtp.example.org, without port or address, got %q", clip(text))
	}
	return text, nil
}

func parseTLS(text string) (string, error) {
	switch t := strings.ToLower(strings.TrimSpace(text)); t {
	case "starttls", "tls", "plain":
		return t, nil
	}
	return "", fmt.Errorf("want starttls, tls or plain, got %q%s", clip(text), orOneOf(text, []string{"starttls", "tls", "plain"}))
}

func loopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
