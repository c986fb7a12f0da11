package email

import (
	"context"
	"crypto/tls"
	"errors"
	"net"
	"net/textproto"
	"strconv"
	"strings"
	"time"
	"unicode"

	gomail "github.com/wneessen/go-mail"
	"github.com/wneessen/go-mail/smtp"

	"stubbled/notify"
)

// A link is one conversation with the server, past its login. It may carry
// several mails.
type link struct {
	client  *smtp.Client
	conn    net.Conn
	carried bool // a mail was handed over on it
	idle    *time.Timer
}

// dial opens a link; where it fails it says at which step.
func (s *Sender) dial(ctx context.Context) (*link, step, error) {
	conn, err := dialServer(ctx, s.o.Server)
	if err != nil {
		return nil, atGreeting, err
	}
	stop := closeWith(ctx, conn)
	defer stop()
	c, err := gomail.NewClient(s.o.Server.Host, s.options(conn)...)
	if err == nil {
		var client *smtp.Client
		if client, err = c.DialToSMTPClientWithContext(ctx); err == nil {
			return &link{client: client, conn: conn}, atSender, nil
		}
	}
	_ = conn.Close()
	if ctx.Err() != nil {
		err = context.Cause(ctx)
	}
	if strings.Contains(err.Error(), "AUTH failed") {
		return nil, atLogin, err
	}
	return nil, atGreeting, err
}

func (s *Sender) options(conn net.Conn) []gomail.Option {
	o := []gomail.Option{
		gomail.WithPort(s.o.Server.Port),
		gomail.WithTimeout(s.o.Patience),
		gomail.WithHELO(s.o.From.Address[strings.LastIndexByte(s.o.From.Address, '@')+1:]),
		gomail.WithTLSConfig(s.o.Server.tls()),
		gomail.WithDialContextFunc(func(context.Context, string, string) (net.Conn, error) { return conn, nil }),
	}
	switch s.o.Server.Security {
	case TLS:
		o = append(o, gomail.WithSSL())
	case Plain:
		o = append(o, gomail.WithTLSPolicy(gomail.NoTLS))
	default:
		o = append(o, gomail.WithTLSPolicy(gomail.TLSMandatory))
	}
	if s.o.Server.User == "" {
		return o
	}
	plain, login := gomail.SMTPAuthPlain, gomail.SMTPAuthLogin
	if s.o.Server.Security == Plain { // this machine only
		plain, login = gomail.SMTPAuthPlainNoEnc, gomail.SMTPAuthLoginNoEnc
	}
	return append(o,
		gomail.WithUsername(s.o.Server.User), gomail.WithPassword(s.o.Server.Password),
		gomail.WithOpportunisticSMTPAuth(gomail.SMTPAuthSCRAMSHA256, plain, login, gomail.SMTPAuthSCRAMSHA1))
}

// dialServer connects, and shakes hands where TLS begins at once.
func dialServer(ctx context.Context, s Server) (net.Conn, error) {
	d := net.Dialer{KeepAlive: 30 * time.Second}
	conn, err := d.DialContext(ctx, "tcp", net.JoinHostPort(s.Host, strconv.Itoa(s.Port)))
	if err != nil || s.Security != TLS {
		return conn, err
	}
	secure := tls.Client(conn, s.tls())
	if err := secure.HandshakeContext(ctx); err != nil {
		_ = conn.Close()
		return nil, err
	}
	return secure, nil
}

// closeWith closes the connection when ctx ends: it is the one thing that
// frees whoever waits for an answer that never comes.
func closeWith(ctx context.Context, conn net.Conn) (stop func() bool) {
	return context.AfterFunc(ctx, func() { _ = conn.Close() })
}

// post hands one mail over. It fails at a step; after it has come back without
// an error the mail is the server's.
func (l *link) post(from string, e notify.Envelope, msg []byte, patience time.Duration) (step, string, error) {
	c, to := l.client, e.Address
	foreign := strings.IndexFunc(from+to, func(r rune) bool { return r > unicode.MaxASCII }) >= 0
	c.SkipSMTPUTF8(!foreign) // asked for only where needed: not every server on the way knows it
	if err := c.UpdateDeadline(patience); err != nil {
		return atSender, "", err
	}
	if err := c.Mail(angled(from)); err != nil {
		return atSender, "", err
	}
	if err := c.Rcpt(angled(to)); err != nil {
		return atRecipient, "", err
	}
	w, err := c.Data()
	if err != nil {
		return atData, "", err
	}
	if _, err := w.Write(msg); err != nil {
		return atContent, "", err
	}
	if err := errors.Join(c.UpdateDeadline(patience), e.Goes()); err != nil {
		return atContent, "", err // without its end a mail is none
	}
	if err := w.Close(); err != nil && !yes(err) {
		return atEnd, "", err
	}
	l.carried = true
	ref := ""
	if d, ok := w.(*smtp.DataCloser); ok {
		ref = told(d.ServerResponse())
	}
	return atEnd, ref, nil
}

// yes reports whether what the library takes for an error says that the mail was
// taken: the first digit alone counts (RFC 5321 section 4.2.1), and the number may
// stand alone (section 4.2).
func yes(err error) bool {
	var reply *textproto.Error
	if errors.As(err, &reply) {
		return reply.Code/100 == 2
	}
	return strings.Contains(err.Error(), `short response: "250"`)
}

// quit says good-bye; nothing depends on the answer.
func (l *link) quit() {
	if l.client.UpdateDeadline(2*time.Second) == nil {
		_ = l.client.Quit()
	}
	_ = l.conn.Close()
}

func angled(address string) string { return "<" + address + ">" }
