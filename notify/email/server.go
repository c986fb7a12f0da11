package email

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/textproto"
	"os"
	"slices"
	"strconv"
	"strings"
	"syscall"

	"github.com/emersion/go-imap/v2"
)

// Security is how a connection is kept from being read on the way.
type Security string

// The kinds of security; any other value is taken as StartTLS, and mandatory.
const (
	StartTLS Security = "starttls" // ports 587 and 143
	TLS      Security = "tls"      // from the first byte: ports 465 and 993
	Plain    Security = "plain"    // none; this machine only
)

// A Server is an account at a mail server.
type Server struct {
	Host     string
	Port     int // 0 is the usual one for the protocol and security
	Security Security
	User     string // empty: no login (a relay on this machine)
	Password string
	// Roots are the authorities trusted; nil is the machine's own list.
	Roots *x509.CertPool
}

// LogValue keeps the password out of logs.
func (s Server) LogValue() slog.Value { return slog.StringValue(s.String()) }

// String is the host and port, without user and password.
func (s Server) String() string { return net.JoinHostPort(s.Host, strconv.Itoa(s.Port)) }

// GoString keeps the password out of debug output.
func (s Server) GoString() string { return "email.Server{" + s.String() + "}" }

// withPort fills in the usual port (RFC 8314, RFC 6409) and refuses a secret that
// would smuggle in a command; all else the farm file was checked for.
func (s Server) withPort(startTLS, tls int) (Server, error) {
	if strings.ContainsAny(s.User+s.Password, "\r\n\x00") {
		return s, fmt.Errorf("mail server %s: user or password holds a line break: check the password file", s.Host)
	}
	switch {
	case s.Port != 0:
	case s.Security == TLS:
		s.Port = tls
	default:
		s.Port = startTLS
	}
	return s, nil
}

func (s Server) tls() *tls.Config {
	return &tls.Config{ServerName: s.Host, RootCAs: s.Roots, MinVersion: tls.VersionTLS12}
}

// A fault is trouble with a mail server, in words for the person who can mend
// it.
type fault struct {
	what string // what is wrong, and where
	mend string
	err  error // the cause
}

func (f *fault) Error() string { return f.what + "; " + f.mend }

func (f *fault) Unwrap() error { return f.err }

// faultOf says what an error on the way to a server means.
func faultOf(s Server, err error) *fault {
	if f, ok := errors.AsType[*fault](err); ok {
		return f
	}
	what, mend := certificateFault(s, err)
	if what == "" {
		what, mend = networkFault(s, err)
	}
	return &fault{what, mend, err}
}

func certificateFault(s Server, err error) (what, mend string) {
	var (
		invalid x509.CertificateInvalidError
		host    x509.HostnameError
		unknown x509.UnknownAuthorityError
		record  tls.RecordHeaderError
		alert   tls.AlertError
	)
	switch {
	case errors.As(err, &invalid) && invalid.Reason == x509.Expired:
		return fmt.Sprintf("the certificate of %s is not valid at this time: it runs from %s to %s", s.Host,
				invalid.Cert.NotBefore.Format("Jan 2 2006"), invalid.Cert.NotAfter.Format("Jan 2 2006")),
			"check this machine's clock; if that is right, tell the mail provider to renew it"
	case errors.As(err, &host):
		return "the certificate is not for " + s.Host, "set host to the very name the mail provider gives for this server"
	case errors.As(err, &unknown):
		return fmt.Sprintf("the certificate of %s is signed by nobody this machine trusts", s.Host),
			"install the package ca-certificates, or name the provider's own authority in the farm file"
	case errors.As(err, &invalid):
		return fmt.Sprintf("the certificate of %s cannot be trusted: %v", s.Host, invalid), "tell the mail provider"
	case errors.As(err, &record):
		return s.String() + " does not begin with TLS", "use security starttls with this port, or the provider's TLS port"
	case errors.As(err, &alert):
		return fmt.Sprintf("%s broke off the TLS handshake (%v)", s, alert), "the server may be too old for TLS 1.2; ask the mail provider"
	}
	return "", ""
}

func networkFault(s Server, err error) (what, mend string) {
	const wait = "it will be tried again; ask the mail provider if it lasts"
	var (
		dns   *net.DNSError
		slow  net.Error
		reply *textproto.Error
		no    *imap.Error
	)
	says := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(err.Error(), w) })
	}
	switch {
	case errors.As(err, &reply):
		return fmt.Sprintf("%s answers %d %s", s, reply.Code, told(reply.Msg)), wait
	case errors.As(err, &no):
		return fmt.Sprintf("%s answers %s %s", s, no.Type, told(no.Text)), wait
	case errors.As(err, &dns):
		return fmt.Sprintf("the name %s cannot be looked up", s.Host), "check the spelling of host, and that this machine is online"
	case errors.Is(err, syscall.ECONNREFUSED):
		return fmt.Sprintf("%s is closed: nothing listens there", s), "check host and port against what the mail provider gives"
	case errors.Is(err, syscall.ENETUNREACH), errors.Is(err, syscall.EHOSTUNREACH):
		return fmt.Sprintf("there is no way to %s from here", s), "check that this machine is online"
	case errors.Is(err, os.ErrDeadlineExceeded), errors.Is(err, context.DeadlineExceeded), errors.As(err, &slow) && slow.Timeout():
		return s.String() + " does not answer in time", "check the internet connection; some networks block this port"
	case errors.Is(err, context.Canceled):
		return "broken off while talking to " + s.String(), "nothing to mend"
	case says("does not support STARTTLS"):
		return noStartTLS(s), "use security tls with the provider's TLS port (465 out, 993 in)"
	case says("does not support SMTP AUTH", "no supported auth"):
		return s.String() + " offers no login that we know",
			"use the provider's submission port (587 or 465), or leave user empty for a relay that wants none"
	case hungUp(err), says("closed before greeting"):
		return s.String() + " hung up", "it will be tried again; if it lasts, check port and security"
	}
	return fmt.Sprintf("trouble with %s: %s", s, told(err.Error())), "check host, port and security"
}

func noStartTLS(s Server) string {
	return s.String() + " offers no STARTTLS, so the password would be readable on the way"
}

// hungUp knows a lost connection; some libraries keep no more of it than its
// words.
func hungUp(err error) bool {
	return slices.ContainsFunc([]error{io.EOF, io.ErrUnexpectedEOF, syscall.ECONNRESET, syscall.EPIPE, net.ErrClosed}, func(e error) bool {
		return errors.Is(err, e) || strings.Contains(err.Error(), e.Error())
	})
}
