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

// The kinds of security. The zero value is StartTLS, and mandatory.
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

// checked returns the server with its defaults filled in. The usual ports are
// those of RFC 8314 and RFC 6409.
func (s Server) checked(startTLSPort, tlsPort int) (Server, error) {
	if s.Host == "" || strings.ContainsAny(s.Host, " \t\r\n/@") {
		return s, fmt.Errorf("mail server host %q: want a name such as smtp.example.org", s.Host)
	}
	if s.Security == "" {
		s.Security = StartTLS
	}
	switch s.Security {
	case StartTLS, TLS:
	case Plain:
		if !loopback(s.Host) {
			return s, fmt.Errorf("mail server %s: security plain would send the password readable over the network; use starttls or tls (plain is for this machine only)", s.Host)
		}
	default:
		return s, fmt.Errorf("mail server %s: security %q: want starttls, tls or plain", s.Host, string(s.Security))
	}
	if s.Port == 0 {
		s.Port = startTLSPort
		if s.Security == TLS {
			s.Port = tlsPort
		}
	}
	if s.Port < 1 || s.Port > 65535 {
		return s, fmt.Errorf("mail server %s: port %d: want 1 to 65535", s.Host, s.Port)
	}
	if strings.ContainsAny(s.User+s.Password, "\r\n\x00") {
		return s, fmt.Errorf("mail server %s: user or password holds a line break: check the password file", s.Host)
	}
	return s, nil
}

func (s Server) tls() *tls.Config {
	return &tls.Config{ServerName: s.Host, RootCAs: s.Roots, MinVersion: tls.VersionTLS12}
}

func loopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
