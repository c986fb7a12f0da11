//go:build linux

package email

import (
	"bytes"
	"context"
	"encoding/pem"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"stubbled/notify"
)

// listener gathers what a Receiver hears.
type listener struct {
	heard  chan notify.Received
	faults chan error
	stop   func()

	mu     sync.Mutex
	cursor string
	log    bytes.Buffer
}

func (l *listener) place() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.cursor
}

// Write takes log lines.
func (l *listener) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.log.Write(b)
}

func (l *listener) logged() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.log.String()
}

// listen starts a Receiver; it is ready when it has said that it is well.
func listen(t testing.TB, in Incoming, cursor string, tweak func(*Receiver)) *listener {
	t.Helper()
	l := &listener{heard: make(chan notify.Received, 100), faults: make(chan error, 1000)}
	in.Log = slog.New(slog.NewTextHandler(l, nil))
	r, err := NewReceiver(in, time.Now)
	must(t, err)
	r.retry = func(int, error) time.Duration { return 50 * time.Millisecond }
	if tweak != nil {
		tweak(r)
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		_ = r.Receive(ctx, cursor, func(_ context.Context, got []notify.Received, at string) error {
			l.mu.Lock()
			l.cursor = at
			l.mu.Unlock()
			for _, g := range got {
				l.heard <- g
			}
			return nil
		}, func(err error) { l.faults <- err })
	}()
	l.stop = func() { cancel(); <-done }
	t.Cleanup(l.stop)
	return l
}

func (l *listener) well(t testing.TB) {
	t.Helper()
	for range 5 {
		err := l.fault(t)
		if err == nil {
			return
		}
		t.Log(err)
	}
	t.Fatal("the mailbox never came well")
}

func (l *listener) fault(t testing.TB) error {
	t.Helper()
	select {
	case err := <-l.faults:
		return err
	case <-time.After(20 * time.Second):
		t.Fatalf("nothing reported\n%s", l.logged())
		return nil
	}
}

func (l *listener) next(t testing.TB) notify.Received {
	t.Helper()
	select {
	case got := <-l.heard:
		return got
	case <-time.After(20 * time.Second):
		t.Fatalf("nothing heard\n%s", l.logged())
		return notify.Received{}
	}
}

// answerTo is the next thing heard that is this mail; what other tests left in
// the mailbox, such as a bounce, is passed over.
func (l *listener) answerTo(t testing.TB, mailID string, unheard []string) notify.Received {
	t.Helper()
	for {
		got := l.next(t)
		if slices.Contains(unheard, got.MailID) {
			t.Errorf("heard what must be passed over: %+v", got)
		}
		if got.MailID == mailID {
			return got
		}
	}
}

func farmTokens(t testing.TB) *Tokens {
	t.Helper()
	k, err := NewTokens("farm@farm.test", newKey)
	must(t, err)
	return k
}

// farmMail is the farm's mailbox; nothing but the server's own word wakes the
// listener before the test gives up.
func (p *peers) farmMail(k *Tokens) Incoming {
	return Incoming{
		Server: p.imapServer(), Folder: "INBOX", Log: slog.New(slog.DiscardHandler), Replies: k, AuthServID: "mail.farm.test",
		Known:    func(a string) bool { return a == "ana@example.test" || a == "luis@example.test" },
		Everyone: func() []string { return []string{"ana@example.test", "luis@example.test"} },
		Idle:     10 * time.Minute, Poll: 10 * time.Minute, Patience: 20 * time.Second,
	}
}

// answer has Ana's mail program answer the mail with this subject.
func (p *peers) answer(t testing.TB, subject, how, from, text string) (messageID string) {
	t.Helper()
	ca := p.dir + "/ca.pem"
	must(t, os.WriteFile(ca, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: p.authority.cert.Raw}), 0o644))
	out, err := exec.Command(python(t), "testdata/answer.py", fmt.Sprint(p.imap), fmt.Sprint(p.smtp), ca, anaPassword, subject, how, from, text).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s\n%s", err, out, p.log("postfix"))
	}
	return strings.TrimSpace(string(out))
}

func TestAReminderGoesOutAndItsReplyComesBack(t *testing.T) {
	p := startPeers(t)
	k := farmTokens(t)
	s := p.sender(t, k)
	l := listen(t, p.farmMail(k), "", nil)
	l.well(t)
	const ana, luis = "ana@example.test", "luis@example.test"
	var unheard []string
	for i, c := range []struct {
		name, how, from, text string
		trusted, heard        bool
	}{
		{"text above the quote", "above", ana, "creek 14 8 6 8", true, true},
		{"text below the quote", "below", ana, "off creek", true, true},
		{"HTML alone", "html", ana, "mañana: creek 22 cm", true, true},
		{"the plus part stripped by the provider", "stripped", ana, "hill 10 9", true, true},
		{"an away notice is not heard", "away", ana, "I am away", false, false},
		{"a forged From that the farm's own server has seen through", "above", luis, "off hill", false, true},
		{"a stop from it counts all the same", "above", luis, "STOP", false, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := reminder
			e.ID, e.Address = fmt.Sprintf("o-%d", i), ana
			e.Subject = fmt.Sprintf("Creek shuts, reminder %d", i)
			e.Date = time.Now()
			if o := s.Deliver(t.Context(), e); o.State != notify.Sent {
				t.Fatalf("%+v\n%s", o, p.log("postfix"))
			}
			id := p.answer(t, e.Subject, c.how, c.from, c.text)
			if !c.heard {
				unheard = append(unheard, id)
				return
			}
			got := l.answerTo(t, id, unheard)
			want := notify.Received{ID: got.ID, From: c.from, Text: c.text, Sent: got.Sent, MailID: id}
			if c.trusted {
				want.InReplyTo = e.ID
			} else {
				want.StopOnly = true
			}
			if got != want {
				t.Errorf("got %+v\nwant %+v", got, want)
			}
			if age := time.Since(got.Sent); age < -time.Minute || age > time.Minute {
				t.Errorf("sent %v ago", age)
			}
		})
	}
	for _, word := range []string{"ana@", "creek", "stop\n", farmPassword} {
		if strings.Contains(strings.ToLower(l.logged()), word) {
			t.Errorf("the log tells %q:\n%s", word, l.logged())
		}
	}
}

func TestAnAddressThatIsNotThereComesBackAsAReport(t *testing.T) {
	p := startPeers(t)
	k := farmTokens(t)
	l := listen(t, p.farmMail(k), "", nil)
	l.well(t)
	e := reminder
	e.ID, e.Address = "o-bounced", "nobody.here@example.test"
	if o := p.sender(t, k).Deliver(t.Context(), e); o.State != notify.Sent {
		t.Fatalf("%+v", o)
	}
	for {
		got := l.next(t)
		if got.Report == nil { // left from another test
			continue
		}
		if r := got.Report; r.EnvelopeID != "o-bounced" || !r.Permanent || r.Ref != "5.1.1" || strings.Contains(r.Detail, "nobody.here@") {
			t.Errorf("%+v %+v", got, *r)
		}
		return
	}
}
