//go:build linux

package email

import (
	"context"
	"fmt"
	"net/mail"
	"testing"
	"time"

	gomail "github.com/wneessen/go-mail"

	"stubbled/notify"
)

// BenchmarkMailsOut takes turns between a Sender and a bare loop of the mail
// library over one open connection to the same server, and reports the rate
// and its share of the bare one's.
func BenchmarkMailsOut(b *testing.B) {
	a := newAuthority(b)
	f := startFaultServer(b, a, faults{})
	b.Run("to a server in memory", func(b *testing.B) {
		against(b, f.sender(b, a, nil), Server{Host: "127.0.0.1", Port: f.port, User: "farm", Password: "hay and oats", Roots: a.roots}, "farm@example.org", "ana@example.org")
	})
	b.Run("to postfix", func(b *testing.B) {
		p := startPeers(b)
		against(b, p.sender(b, nil), Server{Host: "localhost", Port: p.smtp, User: "farm", Password: farmPassword, Roots: p.authority.roots}, "farm@farm.test", "ana@example.test")
	})
}

func against(b *testing.B, s *Sender, server Server, from, to string) {
	const turn = 20 // mails
	bare := bareLoop(b, server, from, to)
	var ours, theirs time.Duration
	mails := 0
	for b.Loop() {
		begin := time.Now()
		bare(turn)
		middle := time.Now()
		for range turn {
			e := reminder
			e.ID, e.Address = fmt.Sprintf("o-%d", mails), to
			if o := s.Deliver(b.Context(), e); o.State != notify.Sent {
				b.Fatalf("%+v", o)
			}
			mails++
		}
		theirs += middle.Sub(begin)
		ours += time.Since(middle)
	}
	b.ReportMetric(float64(mails)/ours.Seconds(), "mails/s")
	b.ReportMetric(float64(theirs)/float64(ours), "of-bare")
	b.ReportMetric(0, "ns/op")
}

// bareLoop sends as the library's own manual does it, on one connection.
func bareLoop(b *testing.B, server Server, from, to string) func(n int) {
	server.Security = StartTLS
	c, err := gomail.NewClient(server.Host, gomail.WithPort(server.Port), gomail.WithTLSPolicy(gomail.TLSMandatory),
		gomail.WithTLSConfig(server.tls()), gomail.WithSMTPAuth(gomail.SMTPAuthPlain),
		gomail.WithUsername(server.User), gomail.WithPassword(server.Password))
	must(b, err)
	must(b, c.DialWithContext(context.Background()))
	b.Cleanup(func() { _ = c.Close() })
	return func(n int) {
		for range n {
			m := gomail.NewMsg()
			m.FromMailAddress(&mail.Address{Address: from})
			m.AddToMailAddress(&mail.Address{Address: to})
			m.Subject(reminder.Subject)
			m.SetBodyString(gomail.TypeTextPlain, reminder.Text)
			must(b, c.Send(m))
		}
	}
}
