package provider

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"syscall"
)

// words is an HTTP status with what to do about it.
func words(code int) string {
	switch {
	case code == http.StatusUnauthorized, code == http.StatusForbidden:
		return "the service refuses the password: see the user and the secret's file"
	case code == http.StatusNotFound, code == http.StatusMethodNotAllowed, code == http.StatusGone:
		return "the service knows no such address: see url and method"
	case code >= 300 && code < 400:
		return "the service has moved: write its new address in the farm file"
	case code == http.StatusTooManyRequests:
		return "the service wants fewer messages: lower the rate"
	case code == http.StatusPaymentRequired:
		return "the service wants to be paid: see the account"
	case code >= 500:
		return "the service is in trouble"
	}
	return "the service refuses the message"
}

// inWords is a failed connection with what to do about it. It never holds the
// address's query, where some services want a key.
func inWords(err error) string {
	var outer *url.Error
	if errors.As(err, &outer) {
		err = outer.Err
	}
	var (
		dns      *net.DNSError
		expired  x509.CertificateInvalidError
		unknown  x509.UnknownAuthorityError
		name     x509.HostnameError
		record   tls.RecordHeaderError
		timeouts interface{ Timeout() bool }
	)
	switch {
	case errors.Is(err, context.Canceled):
		return "the daemon is stopping"
	case errors.As(err, &dns):
		return fmt.Sprintf("the name %s is not found: is there internet, and is the address right?", dns.Name)
	case errors.As(err, &expired) && expired.Reason == x509.Expired:
		return "the service's certificate has expired, or this machine's clock is wrong"
	case errors.As(err, &unknown):
		return "the service's certificate is signed by nobody this machine knows: install ca-certificates"
	case errors.As(err, &name):
		return "the service's certificate is for another name: see the address"
	case errors.As(err, &record), errors.Is(err, http.ErrSchemeMismatch):
		return "the service does not speak TLS at that port"
	case errors.Is(err, syscall.ECONNREFUSED):
		return "nobody listens at the service's address and port"
	case errors.Is(err, syscall.ENETUNREACH), errors.Is(err, syscall.EHOSTUNREACH):
		return "there is no way to the service: is there internet?"
	case errors.As(err, &timeouts) && timeouts.Timeout():
		return "the service does not answer in time"
	case errors.Is(err, syscall.ECONNRESET):
		return "the service cut the connection"
	}
	return "the connection to the service failed: " + cut(err.Error(), 120)
}

// cut bounds words that come from outside, and leaves out control characters.
func cut(s string, n int) string {
	out := make([]rune, 0, min(len(s), n))
	for _, r := range s {
		if len(out) == n {
			break
		}
		if r < ' ' || r == 0x7F {
			r = ' '
		}
		out = append(out, r)
	}
	return string(out)
}
