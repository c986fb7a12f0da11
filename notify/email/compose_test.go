package email

import (
	"bytes"
	"encoding/base64"
	"flag"
	"io"
	"mime"
	"mime/multipart"
	"net/mail"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/notify"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func testSender(t testing.TB) *Sender {
	t.Helper()
	tokens, err := NewTokens("farm@example.org", []byte("a key of more than sixteen bytes"))
	must(t, err)
	s, err := NewSender(Outgoing{
		Server:  Server{Host: "mail.example.org"},
		From:    mail.Address{Name: "Quail Fork", Address: "farm@example.org"},
		Replies: tokens,
	})
	must(t, err)
	return s
}

func TestTheWholeMailAsItGoesOut(t *testing.T) {
	e := reminder
	e.Subject = "Creek: mañana se cierra el potrero, y hay que sacar las vacas hoy mismo antes de la noche"
	e.ToName = "Luis Ángel Muñoz"
	e.Text = "Hoy: saque las vacas de Creek.\nCuando estén fuera, escriba: off creek\n\nFrom Hill to Lane.\n.\n"
	e.HTML = `<p>Hoy: saque las vacas de <b>Creek</b>.</p><img src="cid:season" alt="Creek 14 in">`
	e.Files = []notify.File{
		{Name: "season.png", Type: "image/png", CID: "season", Data: []byte("\x89PNG invented")},
		{Name: "fechas.ics", Type: "text/calendar; charset=utf-8; method=PUBLISH", Data: []byte("BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")},
	}
	e.Answer, e.InReplyTo = true, "reply-1@phone.example.org"
	got, err := testSender(t).compose(e)
	must(t, err)
	golden(t, "answer.eml", got)
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		must(t, os.MkdirAll("testdata", 0o755))
		must(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	must(t, err)
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the difference\ngot:\n%s", name, got)
	}
}

func TestTheHeaderOfAReminder(t *testing.T) {
	s := testSender(t)
	b, err := s.compose(reminder)
	must(t, err)
	m, err := mail.ReadMessage(bytes.NewReader(b))
	must(t, err)
	for name, want := range map[string]string{
		"Auto-Submitted": "auto-generated",
		"User-Agent":     "", "X-Mailer": "", "In-Reply-To": "",
		"Date":       "Sat, 22 Aug 2026 06:30:00 -0500",
		"Message-Id": "<" + s.MessageID(reminder.ID, reminder.Address) + ">",
		"Subject":    "Creek shuts Sep 1",
		"To":         `"Ana" <ana@example.org>`,
	} {
		if got := m.Header.Get(name); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	r, err := m.Header.AddressList("Reply-To")
	must(t, err)
	if id, ok := s.o.Replies.Open(r[0].Address, "ana@example.org"); !ok || id != reminder.ID {
		t.Errorf("Reply-To %s does not open: %q %t", r[0].Address, id, ok)
	}
	e := reminder
	e.MessageID = "frozen@example.org"
	if b, err = s.compose(e); err != nil || !bytes.Contains(b, []byte("Message-ID: <frozen@example.org>\r\n")) {
		t.Errorf("the frozen Message-ID is not kept (%v)", err)
	}
}

func TestNothingSmuggledIntoAHeader(t *testing.T) {
	nasty := "x\r\nBcc: victim@example.org\r\n\r\nhello\u2028there\x00\x1b[31m"
	e := reminder
	e.ToName, e.Subject, e.InReplyTo, e.MessageID = nasty, nasty, nasty, nasty
	e.Files = []notify.File{
		{Name: nasty + `"; filename="evil.exe`, Type: "text/plain\r\nX-Evil: 1", Data: []byte("a")},
		{Name: nasty, Type: "image/png", CID: nasty, Data: []byte("b")},
	}
	e.HTML = "<p>hello</p>"
	s := testSender(t)
	s.o.From.Name = nasty
	b, err := s.compose(e)
	must(t, err)
	m, err := mail.ReadMessage(bytes.NewReader(b))
	must(t, err)
	if m.Header.Get("Bcc") != "" || m.Header.Get("X-Evil") != "" {
		t.Errorf("smuggled:\n%s", b)
	}
	parts := 0
	walk(t, m.Header.Get("Content-Type"), m.Body, func(h map[string][]string, _ []byte) {
		parts++
		for k, v := range h {
			if k == "X-Evil" || k == "Bcc" {
				t.Errorf("a part has %s: %s", k, v)
			}
		}
	})
	if parts != 4 {
		t.Errorf("%d parts, want 4", parts)
	}
	for _, line := range bytes.Split(b, []byte("\r\n")) {
		if bytes.ContainsAny(line, "\r\n\x00") || len(line) > 998 {
			t.Errorf("a line that mail forbids: %q", line)
		}
	}
}

// walk reads MIME by the standard library, which had no part in writing it.
func walk(t *testing.T, contentType string, r io.Reader, leaf func(map[string][]string, []byte)) {
	t.Helper()
	kind, params, err := mime.ParseMediaType(contentType)
	must(t, err)
	if !strings.HasPrefix(kind, "multipart/") {
		t.Fatalf("not multipart: %s", kind)
	}
	mr := multipart.NewReader(r, params["boundary"])
	for {
		p, err := mr.NextPart()
		if err == io.EOF {
			return
		}
		must(t, err)
		if strings.HasPrefix(p.Header.Get("Content-Type"), "multipart/") {
			walk(t, p.Header.Get("Content-Type"), p, leaf)
			continue
		}
		b, err := io.ReadAll(p)
		must(t, err)
		if p.Header.Get("Content-Transfer-Encoding") == "base64" {
			if b, err = base64.StdEncoding.DecodeString(strings.ReplaceAll(string(b), "\r\n", "")); err != nil {
				t.Error(err)
			}
		}
		leaf(p.Header, b)
	}
}
