package provider

import (
	"cmp"
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strings"
	"syscall"
)

// Check proves the service without sending anything: the secret can be read,
// the address answers with a good certificate, and, where there is an address
// to ask, the password is right. The webhook's port is free or ours.
func (p *Provider) Check(ctx context.Context) error {
	if p.o.Auth.Kind != "none" {
		if _, err := p.secret(); err != nil {
			return err
		}
	}
	errs := []error{p.reach(ctx, p.o.URL)}
	switch {
	case p.o.CheckURL != "":
		_, err := p.get(ctx, p.o.CheckURL)
		errs = append(errs, err)
	case p.o.Poll != nil:
		address, err := p.pollURL("")
		if err == nil {
			var tree any
			if tree, err = p.page(ctx, address); err == nil && tree != nil {
				_, err = list(tree, p.o.Poll.List)
			}
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// reach opens a connection to an address, and closes it.
func (p *Provider) reach(ctx context.Context, address string) error {
	u, err := url.Parse(address)
	if err != nil {
		return err
	}
	port := cmp.Or(u.Port(), u.Scheme)
	ctx, cancel := context.WithTimeout(ctx, p.o.Timeout)
	defer cancel()
	var d interface {
		DialContext(context.Context, string, string) (net.Conn, error)
	} = &net.Dialer{}
	if u.Scheme == "https" {
		d = &tls.Dialer{Config: verified(p.o)}
	}
	conn, err := d.DialContext(ctx, "tcp", net.JoinHostPort(u.Hostname(), port))
	if err != nil {
		return fmt.Errorf("%s: %s", u.Host, inWords(err))
	}
	return conn.Close()
}

// inWords is a failed connection with what to do about it. It never holds the
// address's query, where some services want a key.
func inWords(err error) string {
	if outer, ok := errors.AsType[*url.Error](err); ok {
		err = outer.Err
	}
	dns, noName := errors.AsType[*net.DNSError](err)
	invalid, bad := errors.AsType[x509.CertificateInvalidError](err)
	switch slow, timed := errors.AsType[net.Error](err); {
	case errors.Is(err, context.Canceled):
		return "the daemon is stopping"
	case noName:
		return fmt.Sprintf("the name %s is not found: is there internet, and is the address right?", dns.Name)
	case bad && invalid.Reason == x509.Expired:
		return "the service's certificate has expired, or this machine's clock is wrong"
	case is[x509.UnknownAuthorityError](err):
		return "the service's certificate is signed by nobody this machine knows: install ca-certificates"
	case is[x509.HostnameError](err):
		return "the service's certificate is for another name: see the address"
	case is[tls.RecordHeaderError](err), errors.Is(err, http.ErrSchemeMismatch):
		return "the service does not speak TLS at that port"
	case errors.Is(err, syscall.ECONNREFUSED):
		return "nobody listens at the service's address and port"
	case errors.Is(err, syscall.ENETUNREACH), errors.Is(err, syscall.EHOSTUNREACH):
		return "there is no way to the service: is there internet?"
	case timed && slow.Timeout():
		return "the service does not answer in time"
	case errors.Is(err, syscall.ECONNRESET):
		return "the service cut the connection"
	}
	return "the connection to the service failed: " + cut(err.Error(), 120)
}

func is[E error](err error) bool {
	_, ok := errors.AsType[E](err)
	return ok
}

// cut bounds words that come from outside, and leaves out control characters.
func cut(s string, n int) string {
	return bound(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7F {
			return ' '
		}
		return r
	}, s), n)
}

// bound leaves a text of at most so many characters.
func bound(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n])
	}
	return s
}
