package email

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// need skips a test whose peer is not installed; where everything is meant to
// be installed that is a failure.
func need(t testing.TB, what, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s: %s", what, why)
	}
	t.Skipf("skipped: %s: %s", what, why)
}

// python is Debian's python3, whose email package wrote the mails here.
func python(t testing.TB) string {
	t.Helper()
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if path, err := exec.LookPath(p); err == nil {
			return path
		}
	}
	need(t, "python3", "not installed, and it writes the mails that this test reads")
	return ""
}

func TestMailsWrittenByPythonAreReadAsTyped(t *testing.T) {
	out, err := exec.Command(python(t), "testdata/letters.py").Output()
	must(t, err)
	n := 0
	for line := range bytes.Lines(out) {
		n++
		var c struct {
			Name, Typed string
			Mail        []byte
		}
		must(t, json.Unmarshal(line, &c))
		t.Run(c.Name, func(t *testing.T) {
			l, err := readLetter(c.Mail)
			must(t, err)
			if l.typed != c.Typed || l.from != "ana@example.org" {
				t.Errorf("got %q from %q, want %q\n%.600s", l.typed, l.from, c.Typed, c.Mail)
			}
		})
	}
	if n < 34 {
		t.Errorf("only %d mails", n)
	}
}

func mailOf(fields ...string) []byte {
	return []byte(strings.Join(append(fields, "", "creek 9", ""), "\r\n"))
}

func TestFromMustBeExactlyOneAddress(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"From: ana@example.org", "ana@example.org"},
		{"From: Ana <ANA@Example.org>", "ana@example.org"},
		{`From: "luis@example.org" <ana@example.org>`, "ana@example.org"},
		{"From: =?x-barn?q?Ana?= <ana@example.org>", "ana@example.org"},
		{"From: =?utf-8?q?Luis_=3Cluis=40example.org=3E?= <ana@example.org>", "ana@example.org"},
		{"From: ana@example.org, luis@example.org", ""},
		{"From: ana@example.org\r\nFrom: luis@example.org", ""},
		{"From: ana", ""},
		{"From: <>", ""},
		{"From:", ""},
		{"X-From: ana@example.org", ""},
		{"From: friends: ana@example.org, luis@example.org;", ""},
	} {
		l, err := readLetter(mailOf(c.name, "To: farm@example.org"))
		must(t, err)
		if l.from != c.want {
			t.Errorf("%s: got %q, want %q", c.name, l.from, c.want)
		}
	}
}

func TestAMailOfFiftyMegabytesIsReadAtItsBeginning(t *testing.T) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "From: ana@example.org\r\nContent-Type: multipart/mixed; boundary=b\r\n\r\n--b\r\n\r\ncreek 9\r\n--b\r\nContent-Type: video/mp4\r\nContent-Transfer-Encoding: base64\r\n\r\n")
	b.Write(bytes.Repeat([]byte("aGF5IGFuZCBvYXRz"), 3_300_000))
	begin := time.Now()
	l, err := readLetter(b.Bytes()[:maxMail])
	must(t, err)
	if l.typed != "creek 9" {
		t.Errorf("got %q", l.typed)
	}
	// and whole, should a server not keep to the bound
	if l, err = readLetter(b.Bytes()); err != nil || l.typed != "creek 9" {
		t.Errorf("got %v %v", l, err)
	}
	t.Logf("read in %v", time.Since(begin))
}

func TestAHeaderWithoutEndIsRefused(t *testing.T) {
	if _, err := readLetter(bytes.Repeat([]byte("X-Hay: oats\r\n"), 50_000)); err == nil {
		t.Error("a header of 650 kB is read")
	}
}

func TestFieldsThatSmuggleLines(t *testing.T) {
	l, err := readLetter([]byte("From: ana@example.org\r\nSubject: =?utf-8?q?stop=0D=0ABcc:_x?=\r\nMessage-ID: <a\rb@example.org>\r\n\r\n"))
	must(t, err)
	if strings.ContainsAny(l.subject+l.id+l.typed, "\r\n") {
		t.Errorf("%q %q %q", l.subject, l.id, l.typed)
	}
}

func FuzzLetter(f *testing.F) {
	if out, err := exec.Command("/usr/bin/python3", "testdata/letters.py").Output(); err == nil {
		for line := range bytes.Lines(out) {
			var c struct{ Mail []byte }
			if json.Unmarshal(line, &c) == nil && len(c.Mail) < 4000 {
				f.Add(c.Mail)
			}
		}
	}
	f.Add(mailOf("From: a@b.c", "Authentication-Results: mx.example.org; dmarc=fail; dkim=pass header.d=b.c", "Received: by mx.example.org"))
	k, _ := NewTokens("farm@example.org", newKey)
	f.Add(bounceFor(k, "failed", "5.1.1"))
	e := Incoming{Replies: k, Known: func(string) bool { return true }, Everyone: func() []string { return []string{"ana@example.org"} }, AuthServID: "mx.example.org"}
	f.Fuzz(func(t *testing.T, raw []byte) {
		l, err := readLetter(raw)
		if err != nil {
			return
		}
		if len(l.typed) > maxTyped {
			t.Errorf("typed %d bytes", len(l.typed))
		}
		for line := range strings.SplitSeq(l.typed, "\n") {
			if strings.HasPrefix(line, ">") || ourFooter().MatchString(line) {
				t.Errorf("a quote came through: %q", l.typed)
			}
		}
		got, why := e.hear(l)
		if why == "" && got.Report == nil && got.InReplyTo == "" && !got.StopOnly {
			t.Errorf("trusted without a token: %+v", got)
		}
		if strings.ContainsAny(got.From+got.MailID, "\r\n\x00") {
			t.Errorf("a line break in %q %q", got.From, got.MailID)
		}
	})
}
