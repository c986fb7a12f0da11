package email

import (
	"bufio"
	"io"
	"net"
	"net/mail"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"stubbled/notify"
)

// A scripted mail server takes every mail, but at one step it answers as it is
// told.
type scripted struct {
	step, answer string
	said         map[string]int // how often each step was asked
}

// usually is what a mail server says at a step.
var usually = map[string]string{
	"greeting": "220 mail.example.test ready", "hello": `250-mail.example.test\n250-ENHANCEDSTATUSCODES\n250-SIZE 100000\n250 AUTH PLAIN`,
	"login": "235 2.7.0 welcome", "sender": "250 2.1.0 ok", "recipient": "250 2.1.5 ok", "data": "354 go on", "content": "250 2.0.0 queued",
	"reset": "250 2.0.0 ok", "end": "221 2.0.0 bye",
}

var stepOf = map[string]string{"EHLO": "hello", "HELO": "hello", "AUTH": "login", "MAIL": "sender", "RCPT": "recipient", "DATA": "data", "RSET": "reset", "QUIT": "end"}

func (s *scripted) serve(conn net.Conn) {
	defer conn.Close()
	in := bufio.NewReader(conn)
	step := "greeting"
	for s.says(conn, step) {
		if step == "data" && s.step != "data" {
			step = "content"
			for line := ""; line != ".\r\n"; {
				var err error
				if line, err = in.ReadString('\n'); err != nil {
					return
				}
			}
			continue
		}
		line, err := in.ReadString('\n')
		if err != nil {
			return
		}
		verb, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		step = stepOf[strings.ToUpper(verb)]
	}
}

func (s *scripted) says(conn net.Conn, step string) bool {
	s.said[step]++
	answer := usually[step]
	if step == s.step {
		answer = s.answer
	}
	switch answer {
	case "(hangs up)":
		return false
	case "(silent)":
		io.Copy(io.Discard, conn)
		return false
	}
	text, err := strconv.Unquote(`"` + answer + `"`)
	if err != nil {
		panic(err)
	}
	_, err = io.WriteString(conn, strings.ReplaceAll(text, "\n", "\r\n")+"\r\n")
	return err == nil
}

// Each row of the table is one answer of a mail server, and what comes of it.
func TestWhatTheMailServerAnswers(t *testing.T) {
	data, err := os.ReadFile("testdata/outcomes.tsv")
	must(t, err)
	rows := 0
	for line := range strings.Lines(string(data)) {
		if line[0] == '#' {
			continue
		}
		c := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(c) != 6 {
			t.Fatalf("%q has %d columns, want 6", line, len(c))
		}
		rows++
		t.Run(c[0], func(t *testing.T) {
			t.Parallel()
			server := &scripted{step: c[1], answer: c[2], said: map[string]int{}}
			o := handOver(t, server, c[2] == "(silent)")
			said := o.State.String()
			if o.Down {
				said += ", down"
			}
			if said != c[3] || o.Code != c[4] || !strings.Contains(o.Detail, c[5]) || (o.Detail == "") != (o.State == notify.Sent) {
				t.Errorf("got %s %q saying %q; want %s %q saying %q", said, o.Code, o.Detail, c[3], c[4], c[5])
			}
			if strings.Contains(o.Detail, "ana@") || strings.Contains(o.Detail, "hay and oats") || strings.ContainsAny(o.Detail, "\x00\x16") || !utf8.ValidString(o.Detail) {
				t.Errorf("the detail tells an address or a secret, or noise: %q", o.Detail)
			}
			if c[1] != "" && server.said[c[1]] == 0 {
				t.Error("it never came to that step")
			}
		})
	}
	if rows < 60 {
		t.Errorf("only %d rows", rows)
	}
}

// handOver hands the reminder to a server on this machine; it waits briefly where
// nothing will come.
func handOver(t *testing.T, server *scripted, briefly bool) notify.Outcome {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	served := make(chan struct{})
	go func() {
		defer close(served)
		if conn, err := l.Accept(); err == nil {
			server.serve(conn)
		}
	}()
	patience := 10 * time.Second
	if briefly {
		patience = 300 * time.Millisecond
	}
	s, err := NewSender(Outgoing{Server: Server{Host: "127.0.0.1", Port: l.Addr().(*net.TCPAddr).Port, Security: Plain, User: "farm", Password: "hay and oats"},
		From: mail.Address{Address: "farm@example.org"}, Patience: patience})
	must(t, err)
	e := reminder
	e.Going = func() error { return nil }
	o := s.Deliver(t.Context(), e)
	must(t, s.Close())
	must(t, l.Close())
	<-served
	return o
}
