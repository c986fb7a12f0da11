package email

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/mail"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/emersion/go-smtp"

	"stubbled/notify"
)

var reminder = notify.Envelope{
	ID: "01j9creek-ana", Address: "ana@example.org", ToName: "Ana", Subject: "Creek shuts Sep 1",
	Text: "10 days: Creek shuts Sep 1. Leave 8 in.\n\nReply STOP to end these mails.\n",
	Date: time.Date(2026, 8, 22, 6, 30, 0, 0, time.FixedZone("CDT", -5*3600)),
}

func refuse(code int, a, b, c int, words string) error {
	return &smtp.SMTPError{Code: code, EnhancedCode: smtp.EnhancedCode{a, b, c}, Message: words}
}

// The line may break at any byte of what either says: a mail that the server has is
// never called unsent, and one that it has not is never called sent.
func TestTheLineCutAtEachByte(t *testing.T) {
	const never = 1 << 30
	f := startFaultServer(t, newAuthority(t), faults{noTLS: true})
	whole := &cutLine{ours: never, theirs: never}
	if o, _ := f.behind(t, whole); o.State != notify.Sent {
		t.Fatalf("the whole line: %+v", o)
	}
	sent, unknown := 1, 0
	each := func(cut *cutLine) {
		o, going := f.behind(t, cut)
		switch {
		case o.State == notify.Sent:
			sent++
		case o.State == notify.UnknownState && going && o.Down:
			unknown++
		case o.State != notify.Temporary || going || !o.Down:
			t.Errorf("cut after %d bytes of ours, %d of theirs: noted to go: %t: %+v", cut.ours, cut.theirs, going, o)
		}
		if has := len(f.caught()); has < sent || has > sent+unknown {
			t.Fatalf("cut after %d bytes of ours, %d of theirs: the server has %d mails; called sent are %d, unknown %d", cut.ours, cut.theirs, has, sent, unknown)
		}
	}
	theirs, ours := int(whole.heard.Load()), int(whole.said.Load())
	for n := range theirs {
		each(&cutLine{ours: never, theirs: n})
	}
	for n := 0; n < ours; n++ {
		each(&cutLine{ours: n, theirs: never})
		if n > 150 && n < ours-60 {
			n += 12 // the middle of a mail is all alike
		}
	}
	if unknown == 0 {
		t.Error("no cut left anything unknown: the end of the mail was not cut")
	}
}

// A cutLine is a line to a server that breaks after so many bytes of either side.
type cutLine struct {
	ours, theirs int
	said, heard  atomic.Int64
}

func (c *cutLine) carry(near net.Conn, far string) {
	defer near.Close()
	peer, err := net.Dial("tcp", far)
	if err != nil {
		return
	}
	back := make(chan struct{})
	go func() {
		defer close(back)
		n, _ := io.CopyN(peer, near, int64(c.ours))
		c.said.Store(n)
		peer.Close()
	}()
	n, _ := io.CopyN(near, peer, int64(c.theirs))
	c.heard.Store(n)
	near.Close()
	<-back
}

// behind hands the reminder to the server over a line; going says that it was noted
// to go.
func (f *faultServer) behind(t *testing.T, c *cutLine) (o notify.Outcome, going bool) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	gone := make(chan struct{})
	go func() {
		defer close(gone)
		if near, err := l.Accept(); err == nil {
			c.carry(near, fmt.Sprint("127.0.0.1:", f.port))
		}
	}()
	s, err := NewSender(Outgoing{Server: Server{Host: "127.0.0.1", Port: l.Addr().(*net.TCPAddr).Port, Security: Plain},
		From: mail.Address{Address: "farm@example.org"}, Patience: 5 * time.Second})
	must(t, err)
	e := reminder
	e.Going = func() error { going = true; return nil }
	o = s.Deliver(t.Context(), e)
	must(t, s.Close())
	must(t, l.Close())
	<-gone
	return o, going
}

// An account that was shut refuses every mail, and fails none; one mail that the
// server will not have, where it takes the others, is given up.
func TestAServerThatRefusesEverythingFailsNothing(t *testing.T) {
	a := newAuthority(t)
	shut := startFaultServer(t, a, faults{content: refuse(554, 5, 7, 1, "account suspended")}).sender(t, a, nil)
	for try := range 4 {
		for _, id := range []string{"o-1", "o-2"} {
			mail := reminder
			mail.ID = id
			o := shut.Deliver(t.Context(), mail)
			if o.State != notify.Temporary || o.Down != (try > 0 || id == "o-2") {
				t.Errorf("try %d of %s: %+v", try, id, o)
			}
		}
	}
	f := startFaultServer(t, a, faults{content: refuse(554, 5, 7, 1, "looks like junk")})
	s := f.sender(t, a, nil)
	if o := s.Deliver(t.Context(), reminder); o.State != notify.Temporary {
		t.Errorf("at first: %+v", o)
	}
	s.refused.Took("another")
	if o := s.Deliver(t.Context(), reminder); o.State != notify.Permanent {
		t.Errorf("though it took another: %+v", o)
	}
}

// Over TLS, with one conversation of the library's own server: what is refused, cut
// off and left without an answer there comes to the same as in the table.
func TestEachStepOfAConversationOverTLSMadeToFail(t *testing.T) {
	a := newAuthority(t)
	for _, c := range []struct {
		name   string
		faults faults
		state  notify.State
		code   string
		down   bool
		says   string
	}{
		{"a server that takes it", faults{}, notify.Sent, "", false, ""},
		{"a wrong password is the account's fault, and the mail waits", faults{login: smtp.ErrAuthFailed},
			notify.Temporary, "535 5.7.8", true, "check user and password"},
		{"an address that is not there is permanent", faults{recipient: refuse(550, 5, 1, 1, "<ana@example.org>: no such user")},
			notify.Permanent, "550 5.1.1", false, "contact's address"},
		{"a mail refused after its end may be refused as any would be", faults{content: refuse(554, 5, 7, 1, "looks like junk")},
			notify.Temporary, "554 5.7.1", false, "will not take this mail"},
		{"hung up at the recipient", faults{hangUpAt: "recipient"}, notify.Temporary, "", true, "hung up"},
		{"hung up after the end: nobody knows", faults{hangUpAt: "content"}, notify.UnknownState, "", true, "taken or not"},
		{"silent after the end: nobody knows", faults{silentAt: "content"}, notify.UnknownState, "", true, "taken or not"},
		{"no STARTTLS offered: the password is not sent", faults{noTLS: true}, notify.Temporary, "", true, "offers no STARTTLS"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := startFaultServer(t, a, c.faults)
			s := f.sender(t, a, nil)
			ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
			if c.faults.silentAt != "" {
				ctx, cancel = context.WithTimeout(t.Context(), 300*time.Millisecond)
			}
			defer cancel()
			o := s.Deliver(ctx, reminder)
			if o.State != c.state || o.Code != c.code || o.Down != c.down || !strings.Contains(o.Detail, c.says) {
				t.Errorf("got %+v, want state %d code %q down %t saying %q", o, c.state, c.code, c.down, c.says)
			}
			if strings.Contains(o.Detail, "ana@") || strings.Contains(o.Detail, "hay and oats") {
				t.Errorf("the detail tells an address or a secret: %q", o.Detail)
			}
			if n := len(f.caught()); (n == 1) != (c.state == notify.Sent) {
				t.Errorf("the server took %d mails", n)
			}
		})
	}
}

func TestServersThatAreNotThere(t *testing.T) {
	a := newAuthority(t)
	closed, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	port := closed.Addr().(*net.TCPAddr).Port
	must(t, closed.Close())
	f := startFaultServer(t, a, faults{})
	for _, c := range []struct {
		name  string
		tweak func(*Outgoing)
		says  string
	}{
		{"a closed port", func(o *Outgoing) { o.Server.Port = port }, "nothing listens there"},
		{"a name that does not exist", func(o *Outgoing) { o.Server.Host = "mail.farm.invalid" }, "cannot be looked up"},
		{"an authority that nobody trusts", func(o *Outgoing) { o.Server.Roots = nil }, "ca-certificates"},
		{"TLS at once to a port that wants STARTTLS", func(o *Outgoing) { o.Server.Security = TLS }, "use security starttls"},
		{"a wrong password", func(o *Outgoing) { o.Server.Password = "straw" }, "password"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := f.sender(t, a, c.tweak)
			o := s.Deliver(t.Context(), reminder)
			if o.State != notify.Temporary || !o.Down || !strings.Contains(o.Detail, c.says) {
				t.Errorf("got %+v, want temporary and down, saying %q", o, c.says)
			}
			if err := s.Check(t.Context()); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("check says %v, want %q", err, c.says)
			}
		})
	}
	must(t, f.sender(t, a, nil).Check(t.Context()))
}

func TestCertificates(t *testing.T) {
	a := newAuthority(t)
	for _, c := range []struct {
		name string
		ends time.Time
		for_ []string
		says string
	}{
		{"that ran out", time.Now().Add(-time.Hour), nil, "check this machine's clock"},
		{"for another name", time.Now().Add(time.Hour), []string{"other.example.org"}, "very name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := net.Listen("tcp", "127.0.0.1:0")
			must(t, err)
			f := &faultServer{port: l.Addr().(*net.TCPAddr).Port, stop: make(chan struct{})}
			srv := smtp.NewServer(f)
			srv.ErrorLog, srv.TLSConfig = quiet{}, a.config(t, c.ends, c.for_...)
			go func() { _ = srv.Serve(l) }()
			t.Cleanup(func() { _ = srv.Close() })
			err = f.sender(t, a, nil).Check(t.Context())
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want %q", err, c.says)
			}
		})
	}
}

func TestSeveralMailsGoInOneConversation(t *testing.T) {
	a := newAuthority(t)
	f := startFaultServer(t, a, faults{})
	s := f.sender(t, a, nil)
	for i, with := range []faults{{}, {recipient: refuse(550, 5, 1, 1, "no")}, {}, {}} {
		f.set(with)
		want := notify.Sent
		if with.recipient != nil {
			want = notify.Permanent
		}
		if o := s.Deliver(t.Context(), reminder); o.State != want {
			t.Fatalf("mail %d: %+v", i, o)
		}
	}
	// go-smtp makes a session at the first EHLO and another after STARTTLS.
	if n := f.connections(); n > 2 {
		t.Errorf("%d sessions for four mails", n)
	}
	if n := len(f.caught()); n != 3 {
		t.Errorf("got %d mails, want 3", n)
	}
}

func TestAConversationThatTheServerEndedMeanwhileIsBegunAnew(t *testing.T) {
	a := newAuthority(t)
	f := startFaultServer(t, a, faults{})
	s := f.sender(t, a, nil)
	if o := s.Deliver(t.Context(), reminder); o.State != notify.Sent {
		t.Fatalf("%+v", o)
	}
	_ = s.open.conn.Close()
	if o := s.Deliver(t.Context(), reminder); o.State != notify.Sent {
		t.Fatalf("%+v", o)
	}
	if n := len(f.caught()); n != 2 {
		t.Errorf("got %d mails, want 2", n)
	}
}

func TestAContextThatEndsFreesTheSender(t *testing.T) {
	a := newAuthority(t)
	f := startFaultServer(t, a, faults{silentAt: "recipient"})
	s := f.sender(t, a, nil)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	go func() { <-f.waiting; cancel() }()
	if o := s.Deliver(ctx, reminder); o.State != notify.Temporary || o.Down {
		t.Errorf("stopping is no trouble of the server: %+v", o)
	}
}

func TestASecondHandOverIsTheSameToTheByte(t *testing.T) {
	a := newAuthority(t)
	f := startFaultServer(t, a, faults{})
	tokens, err := NewTokens("farm@example.org", []byte("a key of more than sixteen bytes"))
	must(t, err)
	e := reminder
	e.HTML = `<p>Creek</p><img src="cid:season" alt="season">`
	e.Files = []notify.File{
		{Name: "season.png", Type: "image/png", CID: "season", Data: []byte("not really a picture")},
		{Name: "cutoffs.ics", Type: "text/calendar; charset=utf-8; method=PUBLISH", Data: []byte("BEGIN:VCALENDAR\r\n")},
	}
	for range 2 {
		s := f.sender(t, a, func(o *Outgoing) { o.Replies = tokens })
		if o := s.Deliver(t.Context(), e); o.State != notify.Sent {
			t.Fatalf("%+v", o)
		}
	}
	got := f.caught()
	if len(got) != 2 || !bytes.Equal(got[0].data, got[1].data) {
		t.Fatalf("two hand-overs differ:\n%s\n----\n%s", got[0].data, got[1].data)
	}
}

func TestAddressesThatCannotBeWrittenTo(t *testing.T) {
	a := newAuthority(t)
	f := startFaultServer(t, a, faults{})
	s := f.sender(t, a, nil)
	for _, to := range []string{"", "ana", "ana@", "ana@example.org\r\nRCPT TO:<x@example.org>", "Ana <ana@example.org>", "ana@example.org, b@example.org"} {
		e := reminder
		e.Address = to
		if o := s.Deliver(t.Context(), e); o.State != notify.Permanent {
			t.Errorf("%q: %+v", to, o)
		}
	}
	if f.connections() != 0 {
		t.Error("the server was called for an address that is none")
	}
}

func TestWhatAnAccountMustNotBe(t *testing.T) {
	from := Outgoing{}.From
	from.Address = "farm@example.org"
	for _, c := range []struct {
		name, says string
		s          Server
	}{
		{"a password with a line break", "password file", Server{Host: "mail.example.org", User: "u", Password: "x\n"}},
	} {
		if _, err := NewSender(Outgoing{Server: c.s, From: from}); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %v", c.name, err)
		}
	}
	s, err := NewSender(Outgoing{Server: Server{Host: "mail.example.org", Security: TLS}, From: from})
	must(t, err)
	if s.o.Server.Port != 465 {
		t.Errorf("port %d", s.o.Server.Port)
	}
}

func TestOnlyExplicit5xxIsPermanent(t *testing.T) {
	for at := atGreeting; at <= atEnd; at++ {
		for _, err := range []error{errors.New("5 is only a number"), net.ErrClosed, context.DeadlineExceeded} {
			if o := classify(at, err, Server{Host: "h"}); o.State == notify.Permanent || o.State == notify.Sent {
				t.Errorf("step %d, %v: %+v", at, err, o)
			}
		}
	}
}

func TestAPasswordIsNotPrinted(t *testing.T) {
	o := Outgoing{Server: Server{Host: "mail.example.org", Port: 587, User: "farm", Password: "hay and oats"}}
	var b bytes.Buffer
	slog.New(slog.NewJSONHandler(&b, nil)).Info("x", "server", o.Server, "all", fmt.Sprintf("%v %+v %#v %s", o, o.Server, o.Server, o.Server))
	if strings.Contains(b.String(), "hay") {
		t.Errorf("printed: %s", b.String())
	}
}

// Close ends a conversation kept for the next mail.
func (s *Sender) Close() error {
	s.mu.Lock()
	l := s.take()
	s.mu.Unlock()
	if l != nil {
		l.quit()
	}
	return nil
}
