package email

import (
	"errors"
	"io"
	"net"
	"net/mail"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-sasl"
	"github.com/emersion/go-smtp"
)

// faults are the switches of the SMTP server below: each step can be refused,
// cut off or left without an answer.
type faults struct {
	login, sender, recipient, data, content error
	hangUpAt                                string // sender, recipient, data, content
	silentAt                                string
	noTLS                                   bool
}

// faultServer is an SMTP server whose every step can be made to fail.
type faultServer struct {
	port    int
	stop    chan struct{}
	waiting chan string // tells the step at which somebody is kept waiting

	mu     sync.Mutex
	faults faults
	conns  int
	got    []caught
}

type caught struct {
	from, to string
	utf8     bool
	data     []byte
}

func (f *faultServer) set(to faults) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.faults = to
}

func (f *faultServer) caught() []caught {
	f.mu.Lock()
	defer f.mu.Unlock()
	return append([]caught(nil), f.got...)
}

func (f *faultServer) connections() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.conns
}

func startFaultServer(t testing.TB, a *authority, with faults) *faultServer {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	f := &faultServer{port: l.Addr().(*net.TCPAddr).Port, stop: make(chan struct{}), waiting: make(chan string, 1), faults: with}
	s := smtp.NewServer(f)
	s.Domain = "mail.example.test"
	s.EnableSMTPUTF8 = true
	s.ErrorLog = quiet{}
	s.ReadTimeout, s.WriteTimeout = 20*time.Second, 20*time.Second
	if !with.noTLS {
		s.TLSConfig = a.config(t, time.Now().Add(time.Hour))
	}
	done := make(chan struct{})
	go func() { defer close(done); _ = s.Serve(l) }()
	t.Cleanup(func() { close(f.stop); _ = s.Close(); _ = l.Close(); <-done })
	return f
}

type quiet struct{}

func (quiet) Printf(string, ...any) {}
func (quiet) Println(...any)        {}

func (f *faultServer) NewSession(c *smtp.Conn) (smtp.Session, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.conns++
	return &faultSession{server: f, conn: c}, nil
}

type faultSession struct {
	server   *faultServer
	conn     *smtp.Conn
	from, to string
	utf8     bool
}

// at is what the switches say of a step.
func (s *faultSession) at(step string, refusal func(faults) error) error {
	s.server.mu.Lock()
	now := s.server.faults
	s.server.mu.Unlock()
	switch step {
	case now.hangUpAt:
		_ = s.conn.Conn().Close()
		return errors.New("hung up")
	case now.silentAt:
		select {
		case s.server.waiting <- step:
		default:
		}
		<-s.server.stop
		return errors.New("too late")
	}
	return refusal(now)
}

func (s *faultSession) AuthMechanisms() []string { return []string{sasl.Plain} }

func (s *faultSession) Auth(string) (sasl.Server, error) {
	return sasl.NewPlainServer(func(_, user, password string) error {
		if err := s.at("login", func(f faults) error { return f.login }); err != nil {
			return err
		}
		if user != "farm" || password != "hay and oats" {
			return smtp.ErrAuthFailed
		}
		return nil
	}), nil
}

func (s *faultSession) Mail(from string, o *smtp.MailOptions) error {
	s.from, s.utf8 = from, o.UTF8
	return s.at("sender", func(f faults) error { return f.sender })
}

func (s *faultSession) Rcpt(to string, _ *smtp.RcptOptions) error {
	s.to = to
	return s.at("recipient", func(f faults) error { return f.recipient })
}

func (s *faultSession) Data(r io.Reader) error {
	if err := s.at("data", func(f faults) error { return f.data }); err != nil {
		return err
	}
	b, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	if err := s.at("content", func(f faults) error { return f.content }); err != nil {
		return err
	}
	s.server.mu.Lock()
	defer s.server.mu.Unlock()
	s.server.got = append(s.server.got, caught{s.from, s.to, s.utf8, b})
	return nil
}

func (s *faultSession) Reset()        {}
func (s *faultSession) Logout() error { return nil }

// sender returns a Sender to the server; tweak may change what it knows.
func (f *faultServer) sender(t testing.TB, a *authority, tweak func(*Outgoing)) *Sender {
	t.Helper()
	o := Outgoing{
		Server: Server{Host: "127.0.0.1", Port: f.port, User: "farm", Password: "hay and oats", Roots: a.roots},
		From:   mail.Address{Name: "Quail Fork", Address: "farm@example.org"}, Patience: 2 * time.Minute,
	}
	if tweak != nil {
		tweak(&o)
	}
	s, err := NewSender(o)
	must(t, err)
	t.Cleanup(func() { must(t, s.Close()) })
	return s
}
