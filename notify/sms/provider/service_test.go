package provider

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"sync"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/notify/terms"
)

// ana and luis are nobody: 555-01xx numbers are kept for invention.
const (
	ana  = "+15555550142"
	luis = "+15555550143"
)

// A service is a provider on this machine with a switch for every fault.
type service struct {
	*httptest.Server
	mu sync.Mutex

	Status     int    // the answer's code
	Answer     string // and body
	RetryAfter string // header
	Location   string // header
	Silent     bool   // reads the request and never answers
	Endless    bool   // the answer never ends
	Cut        bool   // the connection breaks after the headers of the answer
	Reset      bool   // the connection breaks after the request
	got        []*http.Request
	bodies     []string
	release    chan struct{}
	asked      chan struct{} // a token for each request
}

func newService(t testing.TB, tls bool) *service {
	s := &service{Status: 202, Answer: `{"message":{"id":"abc-1","status":"queued"}}`, release: make(chan struct{}), asked: make(chan struct{}, 1000)}
	s.Server = httptest.NewUnstartedServer(http.HandlerFunc(s.serve))
	s.Config.ErrorLog = quiet()
	if tls {
		s.StartTLS()
	} else {
		s.Start()
	}
	t.Cleanup(func() { close(s.release); s.CloseClientConnections(); s.Close() })
	return s
}

func (s *service) serve(w http.ResponseWriter, r *http.Request) {
	data, _ := io.ReadAll(r.Body)
	s.mu.Lock()
	s.got, s.bodies = append(s.got, r), append(s.bodies, string(data))
	silent, endless, cutOff, reset := s.Silent, s.Endless, s.Cut, s.Reset
	status, answer, retry, location := s.Status, s.Answer, s.RetryAfter, s.Location
	s.mu.Unlock()
	select {
	case s.asked <- struct{}{}:
	default:
	}
	switch {
	case silent:
		<-s.release
		return
	case reset:
		conn, _, _ := w.(http.Hijacker).Hijack()
		conn.(interface{ SetLinger(int) error }).SetLinger(0)
		conn.Close()
		return
	case cutOff:
		conn, buf, _ := w.(http.Hijacker).Hijack()
		fmt.Fprintf(buf, "HTTP/1.1 %d OK\r\nContent-Length: 1000\r\n\r\n{\"mess", status)
		buf.Flush()
		conn.Close()
		return
	}
	if retry != "" {
		w.Header().Set("Retry-After", retry)
	}
	if location != "" {
		w.Header().Set("Location", location)
	}
	w.WriteHeader(status)
	for endless {
		if _, err := io.WriteString(w, "{\"x\":1,                                                           "); err != nil {
			return
		}
	}
	io.WriteString(w, answer)
}

func (s *service) set(change func(*service)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	change(s)
}

func (s *service) count() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.got)
}

func (s *service) last() (*http.Request, string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.got) == 0 {
		return nil, ""
	}
	return s.got[len(s.got)-1], s.bodies[len(s.bodies)-1]
}

// noon is when tests are.
var noon = time.Date(2026, 8, 22, 12, 0, 0, 0, time.UTC)

func atNoon() time.Time { return noon }

func secretOf(s string) func() ([]byte, error) {
	return func() ([]byte, error) { return []byte(s + "\n"), nil }
}

// describe is a plain description of a service.
func describe(s *service, change ...func(*Options)) Options {
	o := Options{
		Request: terms.Request{
			URL: s.URL + "/messages", Encoding: "json",
			Fields: []terms.Field{{Name: "to", Value: "{{.To}}"}, {Name: "text", Value: "{{.Text}}"}, {Name: "ref", Value: "{{.ID}}"}},
		},
		Answer: terms.Answer{
			Every: time.Nanosecond, Timeout: 5 * time.Second,
			IDPath: "message.id", StatusPath: "message.status", ErrorPath: "error.code",
			StatusMap: map[string]string{"queued": "accepted", "delivered": delivered, "undelivered": failedPermanent,
				"busy": failedTemporary, "rejected": failedPermanent, "blocked": optedOut},
		},
	}
	for _, c := range change {
		c(&o)
	}
	return o
}

// usual fills in what a farm file says where nobody wrote it.
func usual(o Options) Options {
	o.Method, o.Encoding, o.Region = cmp.Or(o.Method, http.MethodPost), cmp.Or(o.Encoding, "form"), cmp.Or(o.Region, "US")
	o.Auth.Kind = cmp.Or(o.Auth.Kind, "none")
	o.Timeout, o.Every = cmp.Or(o.Timeout, 20*time.Second), cmp.Or(o.Every, time.Second)
	if o.Success == nil {
		o.Success = []int{200, 201, 202}
	}
	if p := o.Poll; p != nil {
		p.Every, p.LookBack, p.MaxPages = cmp.Or(p.Every, time.Minute), cmp.Or(p.LookBack, 24*time.Hour), cmp.Or(p.MaxPages, 20)
	}
	if o.Webhook != nil {
		o.Webhook.Path = cmp.Or(o.Webhook.Path, "/sms")
	}
	return o
}

func newProvider(t testing.TB, o Options) *Provider {
	t.Helper()
	p, err := New(usual(o), atNoon)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var shut = notify.Envelope{ID: "m-41", Address: ana, Text: "Shut today: Creek & Hill.\n100% \"off\" + {{.ID}}"}

// inbox records what was accepted, as the store does: each id once.
type inbox struct {
	mu      sync.Mutex
	got     []notify.Received
	ids     map[string]int
	cursors []string
	fail    error
}

func newInbox() *inbox { return &inbox{ids: map[string]int{}} }

func (b *inbox) accept(_ context.Context, got []notify.Received, cursor string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.fail != nil {
		return b.fail
	}
	for _, g := range got {
		if b.ids[g.ID]++; b.ids[g.ID] == 1 {
			b.got = append(b.got, g)
		}
	}
	b.cursors = append(b.cursors, cursor)
	return nil
}

func toJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// freePort is a port of this machine that nobody listens on.
func freePort(t testing.TB) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

func logTo(w io.Writer) *slog.Logger { return slog.New(slog.NewTextHandler(w, nil)) }
