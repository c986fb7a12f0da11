package email

import (
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"log/slog"
	"net"
	"strconv"
	"strings"
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
