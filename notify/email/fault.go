package email

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"net/textproto"
	"os"
	"strings"
	"syscall"

	"github.com/emersion/go-imap/v2"
)

// A Fault is trouble with a mail server, in words for the person who can mend
// it.
type Fault struct {
	What string // what is wrong, and where
	Mend string
	Err  error // the cause
}

// Error is what is wrong and the mend.
func (f *Fault) Error() string { return f.What + "; " + f.Mend }

// Unwrap is the cause.
func (f *Fault) Unwrap() error { return f.Err }

// faultOf says what an error on the way to a server means.
func faultOf(s Server, err error) *Fault {
	var f *Fault
	if errors.As(err, &f) {
		return f
	}
	f = certificateFault(s, err)
	if f == nil {
		f = networkFault(s, err)
	}
	f.Err = err
	return f
}

func certificateFault(s Server, err error) *Fault {
	var (
		invalid x509.CertificateInvalidError
		host    x509.HostnameError
		unknown x509.UnknownAuthorityError
		record  tls.RecordHeaderError
		alert   tls.AlertError
	)
	switch {
	case errors.As(err, &invalid) && invalid.Reason == x509.Expired:
		return &Fault{What: fmt.Sprintf("the certificate of %s is not valid at this time: it runs from %s to %s", s.Host,
			invalid.Cert.NotBefore.Format("Jan 2 2006"), invalid.Cert.NotAfter.Format("Jan 2 2006")),
			Mend: "check this machine's clock; if that is right, tell the mail provider to renew it"}
	case errors.As(err, &host):
		return &Fault{What: fmt.Sprintf("the certificate is not for %s", s.Host),
			Mend: "set host to the very name the mail provider gives for this server"}
	case errors.As(err, &unknown):
		return &Fault{What: fmt.Sprintf("the certificate of %s is signed by nobody this machine trusts", s.Host),
			Mend: "install the package ca-certificates, or name the provider's own authority in the farm file"}
	case errors.As(err, &invalid):
		return &Fault{What: fmt.Sprintf("the certificate of %s cannot be trusted: %v", s.Host, invalid),
			Mend: "tell the mail provider"}
	case errors.As(err, &record):
		return &Fault{What: fmt.Sprintf("%s does not begin with TLS", s),
			Mend: "use security starttls with this port, or the provider's TLS port"}
	case errors.As(err, &alert):
		return &Fault{What: fmt.Sprintf("%s broke off the TLS handshake (%v)", s, alert),
			Mend: "the server may be too old for TLS 1.2; ask the mail provider"}
	}
	return nil
}

func networkFault(s Server, err error) *Fault {
	var (
		dns   *net.DNSError
		reply *textproto.Error
		no    *imap.Error
	)
	switch {
	case errors.As(err, &reply):
		return &Fault{What: fmt.Sprintf("%s answers %d %s", s, reply.Code, told(reply.Msg)),
			Mend: "it will be tried again; ask the mail provider if it lasts"}
	case errors.As(err, &no):
		return &Fault{What: fmt.Sprintf("%s answers %s %s", s, no.Type, told(no.Text)),
			Mend: "it will be tried again; ask the mail provider if it lasts"}
	case errors.As(err, &dns):
		return &Fault{What: fmt.Sprintf("the name %s cannot be looked up", s.Host),
			Mend: "check the spelling of host, and that this machine is online"}
	case errors.Is(err, syscall.ECONNREFUSED):
		return &Fault{What: fmt.Sprintf("%s is closed: nothing listens there", s),
			Mend: "check host and port against what the mail provider gives"}
	case errors.Is(err, syscall.ENETUNREACH), errors.Is(err, syscall.EHOSTUNREACH):
		return &Fault{What: fmt.Sprintf("there is no way to %s from here", s),
			Mend: "check that this machine is online"}
	case errors.Is(err, os.ErrDeadlineExceeded), errors.Is(err, context.DeadlineExceeded), timeout(err):
		return &Fault{What: fmt.Sprintf("%s does not answer in time", s),
			Mend: "check the internet connection; some networks block this port"}
	case errors.Is(err, context.Canceled):
		return &Fault{What: fmt.Sprintf("broken off while talking to %s", s), Mend: "nothing to mend"}
	case strings.Contains(err.Error(), "does not support STARTTLS"):
		return &Fault{What: fmt.Sprintf("%s offers no STARTTLS, so the password would be readable on the way", s),
			Mend: "use security tls with the provider's TLS port (465 out, 993 in)"}
	case strings.Contains(err.Error(), "does not support SMTP AUTH"),
		strings.Contains(err.Error(), "no supported auth"):
		return &Fault{What: fmt.Sprintf("%s offers no login that we know", s),
			Mend: "use the provider's submission port (587 or 465), or leave user empty for a relay that wants none"}
	case hungUp(err):
		return &Fault{What: fmt.Sprintf("%s hung up", s),
			Mend: "it will be tried again; if it lasts, check port and security"}
	}
	return &Fault{What: fmt.Sprintf("trouble with %s: %s", s, told(err.Error())), Mend: "check host, port and security"}
}

func timeout(err error) bool {
	var t interface{ Timeout() bool }
	return errors.As(err, &t) && t.Timeout()
}

// hungUp knows a lost connection; some libraries keep no more of it than its
// words.
func hungUp(err error) bool {
	for _, e := range []error{io.EOF, io.ErrUnexpectedEOF, syscall.ECONNRESET, syscall.EPIPE, net.ErrClosed} {
		if errors.Is(err, e) || strings.Contains(err.Error(), e.Error()) {
			return true
		}
	}
	return strings.Contains(err.Error(), "closed before greeting")
}
