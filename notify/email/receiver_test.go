//go:build linux

package email

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/emersion/go-imap/v2/imapclient"

	"stubbled/notify"
)

// folder makes a folder of its own in the farm's mailbox for one test, and
// puts mails there as a server's filter would.
type folder struct {
	t    testing.TB
	name string
	c    *imapclient.Client
	k    *Tokens
	made time.Time
}

var folders atomic.Int32

func (p *peers) folder(t testing.TB) *folder {
	t.Helper()
	c, err := imapclient.DialStartTLS(fmt.Sprintf("localhost:%d", p.imap), &imapclient.Options{TLSConfig: p.tlsConfig()})
	must(t, err)
	t.Cleanup(func() { _ = c.Close() })
	must(t, c.Login("farm", farmPassword).Wait())
	f := &folder{t: t, name: fmt.Sprintf("Replies%d", folders.Add(1)), c: c, k: farmTokens(t), made: time.Now()}
	must(t, c.Create(f.name, nil).Wait())
	return f
}

func (f *folder) add(raw []byte) {
	f.t.Helper()
	a := f.c.Append(f.name, int64(len(raw)), nil)
	_, err := a.Write(raw)
	must(f.t, err)
	must(f.t, a.Close())
	_, err = a.Wait()
	must(f.t, err)
}

// reply is a mail by Ana that answers the envelope.
func (f *folder) reply(envelope, text string) {
	f.t.Helper()
	f.add([]byte(strings.Join([]string{
		"From: ana@example.test", "To: " + f.k.ReplyTo(envelope, "ana@example.test"),
		"Message-ID: <" + envelope + "@phone.example.test>", "Date: " + f.made.Format(time.RFC1123Z),
		"Subject: Re: Creek", "", text, "",
	}, "\r\n")))
}

func (p *peers) read(f *folder) Incoming {
	in := p.farmMail(f.k)
	in.Folder = f.name
	return in
}

func wants(t testing.TB, got notify.Received, envelope string) {
	t.Helper()
	if got.InReplyTo != envelope || got.StopOnly {
		t.Fatalf("got %+v, want an answer to %s", got, envelope)
	}
}

func nothingHeard(t testing.TB, l *listener) {
	t.Helper()
	select {
	case got := <-l.heard:
		t.Fatalf("heard %+v", got)
	default:
	}
}

func TestTheMailboxGoesOnWhereItWasLeft(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	f.reply("o-1", "creek 9")
	f.reply("o-2", "creek 10")
	l := listen(t, p.read(f), "", nil)
	l.well(t)
	wants(t, l.next(t), "o-1")
	wants(t, l.next(t), "o-2")
	l.stop()
	f.reply("o-3", "creek 11")
	l = listen(t, p.read(f), l.place(), nil)
	l.well(t)
	wants(t, l.next(t), "o-3")
	nothingHeard(t, l)
}

func TestAMailboxNumberedAnewIsReadBackAndMailsKeepTheirIDs(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	f.reply("o-1", "creek 9")
	l := listen(t, p.read(f), "", nil)
	before := l.next(t)
	l.stop()
	must(t, f.c.Delete(f.name).Wait())
	must(t, f.c.Create(f.name, nil).Wait())
	f.reply("o-2", "creek 10") // takes the UID that o-1 had
	f.reply("o-1", "creek 9")
	l2 := listen(t, p.read(f), l.place(), nil)
	wants(t, l2.next(t), "o-2")
	again := l2.next(t)
	wants(t, again, "o-1")
	a, b := parseCursor(l.place()), parseCursor(l2.place())
	if a.validity == b.validity {
		t.Fatal("the server did not number the mailbox anew; nothing was tried")
	}
	if again.ID != before.ID {
		t.Errorf("one mail, two IDs: %+v %+v", before, again)
	}
}

func TestWhatCannotBeStoredIsHeardAgain(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	f.reply("o-1", "creek 9")
	r, err := NewReceiver(p.read(f), time.Now)
	must(t, err)
	r.retry = func(int, error) time.Duration { return time.Millisecond }
	ctx, cancel := context.WithCancel(t.Context())
	var tries int
	var faults []error
	var got []notify.Received
	_ = r.Receive(ctx, "", func(_ context.Context, in []notify.Received, _ string) error {
		if tries++; tries < 3 {
			return errors.New("disk full")
		}
		got = in
		cancel()
		return nil
	}, func(err error) {
		if err != nil {
			faults = append(faults, err)
		}
	})
	if len(got) != 1 || len(faults) != 2 || !strings.Contains(faults[0].Error(), "cannot be stored") {
		t.Errorf("got %+v after %v", got, faults)
	}
}

func TestAConnectionThatFreezesIsNoticedAndReplaced(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	x := startProxy(t, fmt.Sprintf("127.0.0.1:%d", p.imap), nil, nil)
	in := p.read(f)
	in.Server.Port, in.Idle, in.Patience = x.port, 100*time.Millisecond, 400*time.Millisecond
	l := listen(t, in, "", nil)
	l.well(t)
	x.frozen.Store(true)
	if err := l.fault(t); err == nil || !strings.Contains(err.Error(), "in time") {
		t.Fatalf("got %v", err)
	}
	f.reply("o-1", "creek 9") // while nothing comes through
	x.frozen.Store(false)
	wants(t, l.next(t), "o-1")
}

func TestAConnectionThatFreezesAtEachStepFreesTheReader(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	f.reply("o-1", "creek 9")
	for _, at := range []string{"* OK", "AUTHENTICATE", "EXAMINE", "UID SEARCH", "UID FETCH", "IDLE", "DONE"} {
		t.Run(at, func(t *testing.T) {
			x := startProxy(t, fmt.Sprintf("127.0.0.1:%d", p.imap), freezeAt(at), freezeAt(at))
			in := p.read(f)
			in.Server.Host, in.Server.Port, in.Server.Security = "127.0.0.1", x.port, Plain // readable for the proxy
			in.Idle, in.Patience = 50*time.Millisecond, 300*time.Millisecond
			l := listen(t, in, "", nil)
			for {
				err := l.fault(t)
				if err != nil {
					if !strings.Contains(err.Error(), "in time") {
						t.Errorf("got %v", err)
					}
					return
				}
			}
		})
	}
}

// freezeAt freezes the proxy when either side says the word.
func freezeAt(word string) func(*proxy, []byte) []byte {
	return func(x *proxy, b []byte) []byte {
		if bytes.Contains(b, []byte(word)) {
			x.frozen.Store(true)
			return nil
		}
		return b
	}
}

func TestAServerThatCannotTellIsAskedFromTimeToTime(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	x := startProxy(t, fmt.Sprintf("127.0.0.1:%d", p.imap), func(_ *proxy, b []byte) []byte {
		return bytes.ReplaceAll(b, []byte(" IDLE"), []byte(" XDLE"))
	}, nil)
	in := p.read(f)
	in.Server.Host, in.Server.Port, in.Server.Security = "127.0.0.1", x.port, Plain
	in.Poll = 50 * time.Millisecond
	l := listen(t, in, "", nil)
	l.well(t)
	f.reply("o-1", "creek 9")
	wants(t, l.next(t), "o-1")
	if strings.Contains(x.said(), "IDLE") {
		t.Error("it was listened to all the same; nothing was tried")
	}
}

func TestAConnectionCutWhileListeningIsMadeAgain(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	x := startProxy(t, fmt.Sprintf("127.0.0.1:%d", p.imap), nil, nil)
	in := p.read(f)
	in.Server.Port = x.port
	l := listen(t, in, "", nil)
	l.well(t)
	x.cut()
	l.well(t)
	f.reply("o-1", "creek 9")
	wants(t, l.next(t), "o-1")
}

func TestHostileMailDoesNotStandInTheWay(t *testing.T) {
	p := startPeers(t)
	f := p.folder(t)
	big := []byte("From: ana@example.test\r\nTo: " + f.k.ReplyTo("o-big", "ana@example.test") +
		"\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n--b\r\n\r\ncreek 9\r\n--b\r\nContent-Type: application/zip\r\nContent-Transfer-Encoding: base64\r\n\r\n")
	big = append(big, bytes.Repeat([]byte("UEsDBHN0b3Agc3RvcCBzdG9wIHN0b3Agc3RvcCBzdG9wIHN0b3Agc3RvcCBzdG9wIHN0b3A=\r\n"), 50<<20/76)...)
	f.add([]byte("no mail at all"))
	f.add([]byte("\r\n\r\n"))
	f.add([]byte("From: ana@example.test\r\nSubject: \r\rx\r\n" + strings.Repeat("X-Hay: "+strings.Repeat("oats ", 180)+"\r\n", 200) + "\r\nstop"))
	f.add(big)
	f.reply("o-poison", "creek 9")
	f.reply("o-1", "creek 10")
	x := startProxy(t, fmt.Sprintf("127.0.0.1:%d", p.imap), nil, nil)
	in := p.read(f)
	in.Server.Port = x.port
	l := listen(t, in, "", func(r *Receiver) {
		r.read = func(raw []byte) (*letter, error) {
			l, err := readLetter(raw)
			if err == nil && strings.HasPrefix(l.id, "o-poison") {
				panic("a reader's fault")
			}
			return l, err
		}
	})
	got := l.next(t)
	wants(t, got, "o-big")
	if got.Text != "creek 9" {
		t.Errorf("got %q", got.Text)
	}
	wants(t, l.next(t), "o-1")
	if n := x.bytes.Load(); n > 2<<20 {
		t.Errorf("%d bytes came over the line for a mail of %d", n, len(big))
	}
}

func TestWhatIsWrongWithAMailbox(t *testing.T) {
	p := startPeers(t)
	k := farmTokens(t)
	for _, c := range []struct {
		name  string
		tweak func(*Incoming)
		says  string
	}{
		{"a wrong password", func(in *Incoming) { in.Server.Password = "straw" }, "check user and password file"},
		{"a folder that is not there", func(in *Incoming) { in.Folder = "Hay" }, "INBOX always is"},
		{"a port that nothing listens on", func(in *Incoming) { in.Server.Port = 1 }, "nothing listens there"},
		{"an authority that nobody trusts", func(in *Incoming) { in.Server.Roots = nil }, "ca-certificates"},
		{"TLS at once where STARTTLS is spoken", func(in *Incoming) { in.Server.Security = TLS }, "use security starttls"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := p.farmMail(k)
			c.tweak(&in)
			r, err := NewReceiver(in, time.Now)
			must(t, err)
			if err := r.Check(t.Context()); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want %q", err, c.says)
			}
		})
	}
	in := p.farmMail(k)
	in.Server.Port, in.Server.Security = p.imaps, TLS
	r, err := NewReceiver(in, time.Now)
	must(t, err)
	must(t, r.Check(t.Context()))
}

func TestThePauseBetweenTries(t *testing.T) {
	down := errors.New("down")
	for _, c := range []struct {
		name   string
		n      int
		err    error
		lo, hi time.Duration
	}{
		{"after the first failure", 1, down, 2500 * time.Millisecond, 5 * time.Second},
		{"after the third", 3, down, 10 * time.Second, 20 * time.Second},
		{"after a week of them", 10_000, down, 150 * time.Second, 5 * time.Minute},
		{"after a refused login, so that the account is not locked", 1, fmt.Errorf("x: %w", errLogin), 150 * time.Second, 5 * time.Minute},
		{"after many refused logins", 50, errLogin, 30 * time.Minute, time.Hour},
	} {
		if lo, hi := reconnectAfter(c.n, c.err, 0), reconnectAfter(c.n, c.err, 1); lo != c.lo || hi != c.hi {
			t.Errorf("%s: %v to %v, want %v to %v", c.name, lo, hi, c.lo, c.hi)
		}
	}
}

func TestCursors(t *testing.T) {
	now := time.Date(2026, 10, 20, 6, 30, 0, 0, time.UTC)
	c := cursor{7, 42, now.Add(-time.Hour)}
	if got := parseCursor(c.String()); got.validity != 7 || got.uid != 42 || !got.at.Equal(c.at) {
		t.Errorf("got %+v", got)
	}
	for _, s := range []string{"", "hay", "2 7 42 0", "1 7 42", "1 -7 42 0", "1 7 42 -5"} {
		if got := parseCursor(s); got != (cursor{}) {
			t.Errorf("%q: %+v", s, got)
		}
	}
	for _, c := range []struct {
		name string
		at   time.Time
		want time.Duration
	}{
		{"never read", time.Time{}, 7 * 24 * time.Hour},
		{"read an hour ago", now.Add(-time.Hour), 49 * time.Hour},
		{"read in spring", now.Add(-200 * 24 * time.Hour), 30 * 24 * time.Hour},
		{"read in the future, says a broken clock", now.Add(time.Hour), 7 * 24 * time.Hour},
	} {
		if got := now.Sub(cursor{at: c.at}.since(now)); got != c.want {
			t.Errorf("%s: looks back %v, want %v", c.name, got, c.want)
		}
	}
}
