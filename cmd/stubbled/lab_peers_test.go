package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"net/textproto"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-imap/v2"
	"github.com/emersion/go-imap/v2/imapserver"
	"github.com/emersion/go-imap/v2/imapserver/imapmemserver"
	"github.com/emersion/go-smtp"
)

// A script says, from a seed, how a peer behaves each time it is asked.
type script struct {
	mu     sync.Mutex
	dice   *rand.Rand
	honest bool           // the peer is well
	did    map[string]int // how often what
}

func newScript(seed uint64) *script {
	return &script{dice: rand.New(rand.NewPCG(seed, 7)), did: map[string]int{}}
}

// next draws one of the ways; half of the time a peer is well.
func (s *script) next(ways ...string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	way := "honest"
	if !s.honest && s.dice.IntN(2) == 0 {
		way = ways[s.dice.IntN(len(ways))]
	}
	s.did[way]++
	return way
}

func (s *script) below(n int) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.dice.IntN(n)
}

func (s *script) mends(yes bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.honest = yes
}

// A phone network is a service of texts that takes them, lists what people wrote,
// and lies about both.
type phoneNetwork struct {
	*httptest.Server
	script *script
	mu     sync.Mutex
	took   []labText        // in the order taken
	keys   map[string]int   // what was taken with a key, by it
	wrote  []map[string]any // what people wrote, as it lists it
}

type labText struct{ Ref, To, Text string }

func newPhoneNetwork(t *testing.T, s *script) *phoneNetwork {
	p := &phoneNetwork{script: s, keys: map[string]int{}}
	p.Server = httptest.NewServer(p)
	p.Config.ErrorLog = log.New(io.Discard, "", 0)
	t.Cleanup(p.CloseClientConnections)
	t.Cleanup(p.Close)
	return p
}

func (p *phoneNetwork) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return // cut off by a power cut: it has nothing
	}
	way := p.script.next("hangs before", "hangs after", "login page", "names no id", "redirects", "wants a password", "knows no such page",
		"is in trouble", "wants fewer", "cuts before", "cuts after", "garbage")
	refusal := map[string]int{"redirects": 307, "wants a password": 401, "knows no such page": 404, "is in trouble": 500, "wants fewer": 429}
	switch {
	case way == "hangs before":
		<-r.Context().Done()
		return
	case way == "cuts before":
		panic(http.ErrAbortHandler)
	case refusal[way] != 0:
		w.Header().Set("Location", "/login")
		w.WriteHeader(refusal[way])
		return
	case way == "login page", way == "garbage":
		fmt.Fprint(w, map[string]string{"login page": "<!DOCTYPE html><p>Welcome", "garbage": "\x00\xff{{{"}[way])
		return
	case way == "names no id" && r.Method == http.MethodPost:
		fmt.Fprint(w, `{"status": "please hold"}`)
		return
	}
	answer := p.honest(r, body)
	switch way {
	case "hangs after":
		<-r.Context().Done()
	case "cuts after":
		w.Header().Set("Content-Length", fmt.Sprint(len(answer)))
		w.Write(answer[:p.script.below(len(answer))])
		panic(http.ErrAbortHandler)
	default:
		w.Write(answer)
	}
}

// honest does what was asked.
func (p *phoneNetwork) honest(r *http.Request, body []byte) []byte {
	p.mu.Lock()
	defer p.mu.Unlock()
	if r.Method == http.MethodPost {
		key := r.Header.Get("Idempotency-Key")
		n, known := p.keys[key]
		if !known || key == "" {
			var text labText
			json.Unmarshal(body, &text)
			p.took = append(p.took, text)
			n = len(p.took)
			p.keys[key] = n
		}
		return fmt.Appendf(nil, `{"id": "n%d"}`, n)
	}
	answer, _ := json.Marshal(map[string]any{"texts": p.wrote[max(0, len(p.wrote)-600):]})
	return answer
}

func (p *phoneNetwork) texts() []labText {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.took)
}

// writes is a text of a person's, with the network's stamp.
func (p *phoneNetwork) writes(from, text string, at time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.wrote = append(p.wrote, map[string]any{"id": fmt.Sprint("w", len(p.wrote)), "from": from, "text": text, "at": at.Format(time.RFC3339)})
}

// A post office takes mail by SMTP and keeps it for IMAP, behind lines that hang,
// cut and answer garbage.
type postOffice struct {
	smtpPort, imapPort int
	box                *imapmemserver.User
	mu                 sync.Mutex
	sent               [][]byte
}

func newPostOffice(t *testing.T, s *script) *postOffice {
	o := &postOffice{box: imapmemserver.NewUser("farm", "an invented password")}
	if err := o.box.Create("INBOX", nil); err != nil {
		t.Fatal(err)
	}
	out := smtp.NewServer(o)
	out.Domain, out.ErrorLog = "mail.example.test", log.New(io.Discard, "", 0)
	mem := imapmemserver.New()
	mem.AddUser(o.box)
	in := imapserver.New(&imapserver.Options{
		InsecureAuth: true, Logger: log.New(io.Discard, "", 0), Caps: imap.CapSet{imap.CapIMAP4rev1: {}},
		NewSession: func(*imapserver.Conn) (imapserver.Session, *imapserver.GreetingData, error) {
			return mem.NewSession(), nil, nil
		},
	})
	o.smtpPort = behindABadLine(t, s, func(l net.Listener) { out.Serve(l) })
	o.imapPort = behindABadLine(t, s, func(l net.Listener) { in.Serve(l) })
	t.Cleanup(func() { out.Close(); in.Close() })
	return o
}

func (o *postOffice) NewSession(*smtp.Conn) (smtp.Session, error) { return &letterIn{o}, nil }

type letterIn struct{ o *postOffice }

func (*letterIn) Mail(string, *smtp.MailOptions) error { return nil }
func (*letterIn) Rcpt(string, *smtp.RcptOptions) error { return nil }
func (*letterIn) Reset()                               {}
func (*letterIn) Logout() error                        { return nil }
func (l *letterIn) Data(r io.Reader) error {
	mail, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	l.o.mu.Lock()
	defer l.o.mu.Unlock()
	l.o.sent = append(l.o.sent, mail)
	return nil
}

// writes is a mail with a name above it, to the reply address of the newest mail
// that went out where there is one and it is not forged.
func (o *postOffice) writes(from, words string, forged bool, n int, at time.Time) (answered bool) {
	to := "farm@example.org"
	o.mu.Lock()
	if len(o.sent) > 0 && !forged {
		head, _, _ := bytes.Cut(o.sent[len(o.sent)-1], []byte("\r\n\r\n"))
		for line := range strings.SplitSeq(string(head), "\r\n") {
			if name, value, _ := strings.Cut(line, ":"); textproto.CanonicalMIMEHeaderKey(name) == "Reply-To" {
				to, answered = strings.TrimSpace(value), true
			}
		}
	}
	o.mu.Unlock()
	mail := fmt.Sprintf("From: %s\r\nTo: %s\r\nMessage-ID: <lab%d@example.org>\r\nDate: %s\r\nSubject: Re: farm\r\n\r\n%s\r\n", from, to, n, at.Format(time.RFC1123Z), words)
	o.box.Append("INBOX", bytes.NewReader([]byte(mail)), &imap.AppendOptions{Time: at})
	return answered
}

// behindABadLine serves behind a line that by the script is silent, cut after some
// bytes, or answers garbage, and gives the port of its near end.
func behindABadLine(t *testing.T, s *script, serve func(net.Listener)) int {
	far, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	near, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { near.Close(); far.Close() })
	go serve(far)
	go func() {
		for {
			conn, err := near.Accept()
			if err != nil {
				return
			}
			go badLine(conn, far.Addr().String(), s)
		}
	}()
	return near.Addr().(*net.TCPAddr).Port
}

func badLine(conn net.Conn, to string, s *script) {
	defer conn.Close()
	way := s.next("line hangs", "line cut", "line garbled")
	switch way {
	case "line hangs":
		io.Copy(io.Discard, conn)
		return
	case "line garbled":
		io.WriteString(conn, "\x16\x03\x00 555 ** BYE \xff\r\n")
		return
	}
	peer, err := net.Dial("tcp", to)
	if err != nil {
		return
	}
	defer peer.Close()
	go func() { io.Copy(peer, conn); peer.Close() }()
	if way == "line cut" {
		io.CopyN(conn, peer, int64(s.below(600)))
		return
	}
	io.Copy(conn, peer)
}
