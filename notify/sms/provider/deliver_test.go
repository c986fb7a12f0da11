package provider

import (
	"bufio"
	"context"
	"crypto/x509"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/notify"
	"stubbled/notify/terms"
)

func quiet() *log.Logger { return log.New(io.Discard, "", 0) }

func TestAMessageAsAFormAndBasicPassword(t *testing.T) {
	s := newService(t, false)
	p := newProvider(t, describe(s, func(o *Options) {
		o.Encoding = "form"
		o.Fields = []terms.Field{{Name: "From", Value: "+15555550100"}, {Name: "To", Value: "{{.To}}"}, {Name: "Body", Value: "{{.Text}}"}}
		o.Auth = Auth{Auth: terms.Auth{Kind: "basic", User: "farm"}, Secret: secretOf("s3cret")}
	}))
	out := p.Deliver(t.Context(), shut)
	if out.State != notify.Sent || out.Ref != "abc-1" || p.Retry() != notify.Unsafe {
		t.Errorf("got %+v", out)
	}
	r, body := s.last()
	form, err := url.ParseQuery(body)
	if err != nil || form.Get("Body") != shut.Text || form.Get("To") != ana || len(form) != 3 {
		t.Errorf("sent %q: %v", body, err)
	}
	if user, pass, _ := r.BasicAuth(); user != "farm" || pass != "s3cret" || r.Header.Get("Content-Type") != "application/x-www-form-urlencoded" {
		t.Errorf("headers %v", r.Header)
	}
}

func TestAMessageAsJSONAndBearerPassword(t *testing.T) {
	s := newService(t, true)
	roots := x509.NewCertPool()
	roots.AddCert(s.Certificate())
	p := newProvider(t, describe(s, func(o *Options) {
		o.Roots = roots
		o.Fields = []terms.Field{{Name: "from", Value: "+15555550100"}, {Name: "to[]", Value: "{{.Digits}}"}, {Name: "message.text", Value: "{{.Text}}"}, {Name: "message.ref", Value: "{{.ID}}"}}
		o.Auth = Auth{Auth: terms.Auth{Kind: "bearer"}, Secret: secretOf("s3cret")}
		o.Idempotency = "Idempotency-Key"
		o.Headers = []terms.Field{{Name: "Version", Value: "2026-01"}}
	}))
	if out := p.Deliver(t.Context(), shut); out.State != notify.Sent || p.Retry() != notify.Safe {
		t.Errorf("got %+v", out)
	}
	r, body := s.last()
	want := toJSON(map[string]any{"from": "+15555550100", "to": []string{"15555550142"}, "message": map[string]string{"text": shut.Text, "ref": "m-41"}})
	var got, wanted any
	json.Unmarshal([]byte(body), &got)
	json.Unmarshal([]byte(want), &wanted)
	if toJSON(got) != toJSON(wanted) {
		t.Errorf("sent %s\nwant %s", body, want)
	}
	if r.Header.Get("Authorization") != "Bearer s3cret" || r.Header.Get("Idempotency-Key") != "m-41" || r.Header.Get("Version") != "2026-01" {
		t.Errorf("headers %v", r.Header)
	}
}

func TestTheSecretInAHeaderOrAField(t *testing.T) {
	s := newService(t, false)
	newProvider(t, describe(s, func(o *Options) {
		o.Auth = Auth{Auth: terms.Auth{Kind: "header", Name: "X-Key"}, Secret: secretOf("k")}
	})).Deliver(t.Context(), shut)
	if r, _ := s.last(); r.Header.Get("X-Key") != "k" {
		t.Errorf("headers %v", r.Header)
	}
	newProvider(t, describe(s, func(o *Options) {
		o.Auth = Auth{Auth: terms.Auth{Kind: "field", Name: "api_key"}, Secret: secretOf("k")}
	})).Deliver(t.Context(), shut)
	if _, body := s.last(); !strings.Contains(body, `"api_key":"k"`) {
		t.Errorf("body %s", body)
	}
}

// Each row of the table is one answer of a service, and what comes of it.
func TestWhatTheServiceAnswers(t *testing.T) {
	data, err := os.ReadFile("testdata/outcomes.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		c := strings.Split(line, "\t")
		if len(c) != 9 {
			t.Fatalf("%q has %d columns, want 9", line, len(c))
		}
		rows++
		t.Run(c[0], func(t *testing.T) {
			s := newService(t, false)
			if c[1] != "" {
				s.Status, _ = strconv.Atoi(c[1])
			}
			switch c[2] {
			case "(cut)":
				s.Cut = true
			case "(endless)":
				s.Endless = true
			case "(none)":
				s.Answer = ""
			case "":
			default:
				s.Answer = c[2]
			}
			s.RetryAfter, s.Location = c[3], c[4]
			after, err := time.ParseDuration(c[7])
			if err != nil {
				t.Fatal(err)
			}
			out := newProvider(t, describe(s, func(o *Options) {
				if c[5] == "no id named" {
					o.IDPath = ""
				}
			})).Deliver(t.Context(), shut)
			state, down, _ := strings.Cut(c[6], ", ")
			if out.State.String() != state || out.Down != (down == "down") || out.After != after || !strings.Contains(out.Detail, c[8]) {
				t.Errorf("got %+v, want %s after %s saying %q", out, c[6], after, c[8])
			}
			if out.OptedOut != (c[0] == "the number opted out") {
				t.Error("opted out?")
			}
			if r, _ := s.last(); s.count() != 1 || r.URL.Path != "/messages" {
				t.Errorf("asked %d times, at last %s", s.count(), r.URL)
			}
		})
	}
	if rows < 40 {
		t.Errorf("only %d rows", rows)
	}
}

// A service may cut its answer, or the request, at any byte: what it can have
// acted on is never called certain, and what it cannot have is.
func TestTheLineCutAtEachByte(t *testing.T) {
	const answer = "HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: 26\r\n\r\n{\"message\":{\"id\":\"abc-1\"}}"
	cutAt := func(t *testing.T, reads, writes int) notify.Outcome {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		done := make(chan struct{})
		defer func() { l.Close(); <-done }()
		go func() {
			defer close(done)
			conn, err := l.Accept()
			if err != nil {
				return
			}
			io.ReadFull(conn, make([]byte, max(reads, 0)))
			if reads < 0 { // the whole request
				http.ReadRequest(bufio.NewReader(conn))
				io.WriteString(conn, answer[:writes])
			}
			conn.Close()
		}()
		o := Options{Request: terms.Request{URL: "http://" + l.Addr().String() + "/messages", Fields: []terms.Field{{Name: "to", Value: "{{.To}}"}, {Name: "text", Value: "{{.Text}}"}}},
			Answer: terms.Answer{IDPath: "message.id", Success: []int{200}}}
		return newProvider(t, o).Deliver(t.Context(), shut)
	}
	for n := range len(answer) + 1 {
		out := cutAt(t, -1, n)
		want := notify.UnknownState
		if n == len(answer) {
			want = notify.Sent
		}
		if out.State != want || out.Down != (want != notify.Sent) {
			t.Errorf("the answer cut after %d of %d bytes: %+v", n, len(answer), out)
		}
	}
	for n := range 20 {
		if out := cutAt(t, n*10, 0); out.State != notify.UnknownState && out.State != notify.Temporary || !out.Down {
			t.Errorf("the request cut after %d bytes: %+v", n*10, out)
		}
	}
}

func TestARefusalFailsAMessageOnlyWhereTheServiceTookAnotherOne(t *testing.T) {
	s := newService(t, false)
	p := newProvider(t, describe(s))
	say := func(id string, status int) notify.Outcome {
		t.Helper()
		s.Status = status
		e := shut
		e.ID = id
		return p.Deliver(t.Context(), e)
	}
	if out := say("bad", 400); out.State != notify.Temporary || out.Down {
		t.Errorf("refused once, with none to compare it with: %+v", out)
	}
	if out := say("good", 200); out.State != notify.Sent {
		t.Errorf("another one: %+v", out)
	}
	if out := say("bad", 400); out.State != notify.Permanent {
		t.Errorf("refused again, and the service takes others: %+v", out)
	}
	for i, id := range []string{"a", "b", "c", "d"} {
		if out := say(id, 422); out.State != notify.Temporary || out.Down != (i > 0) {
			t.Errorf("every message is refused, the %d. one: %+v", i+1, out)
		}
	}
	for _, id := range []string{"a", "b", "c", "d"} {
		if out := say(id, 200); out.State != notify.Sent {
			t.Errorf("the service is well again: %+v", out)
		}
	}
	for try := 1; try <= 4; try++ {
		if out := say("alone", 400); out.State != notify.Temporary || out.Down != (try >= 3) {
			t.Errorf("one message alone, refused %d times: %+v", try, out)
		}
	}
}

func TestWhatIsLostOnTheWay(t *testing.T) {
	for name, c := range map[string]struct {
		set        func(*service)
		idempotent bool
		url        func(*service) string
		state      notify.State
		says       string
	}{
		"no answer in time":               {func(s *service) { s.Silent = true }, false, nil, notify.UnknownState, "may have been sent"},
		"no answer, but it counts once":   {func(s *service) { s.Silent = true }, true, nil, notify.Temporary, "safe to send"},
		"the line is cut after it":        {func(s *service) { s.Reset = true }, false, nil, notify.UnknownState, "may have been sent"},
		"the line is cut, it counts once": {func(s *service) { s.Reset = true }, true, nil, notify.Temporary, "safe"},
		"nobody listens":                  {func(s *service) {}, false, func(*service) string { return "http://127.0.0.1:9/messages" }, notify.Temporary, "nobody listens"},
		"no such name":                    {func(s *service) {}, false, func(*service) string { return "https://sms.invalid/messages" }, notify.Temporary, ""},
		"TLS at a port without":           {func(s *service) {}, false, func(s *service) string { return strings.Replace(s.URL, "http:", "https:", 1) + "/messages" }, notify.Temporary, "TLS"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newService(t, false)
			c.set(s)
			o := describe(s, func(o *Options) {
				o.Timeout = 300 * time.Millisecond
				if c.idempotent {
					o.Idempotency = "Idempotency-Key"
				}
				if c.url != nil {
					o.URL, o.Timeout = c.url(s), 5*time.Second
				}
			})
			out := newProvider(t, o).Deliver(t.Context(), shut)
			if out.State != c.state || !out.Down || !strings.Contains(out.Detail, c.says) || strings.Contains(out.Detail, "0142") {
				t.Errorf("got %+v, want state %v saying %q", out, c.state, c.says)
			}
		})
	}
}

func TestACertificateThatNobodyVouchesForIsRefused(t *testing.T) {
	s := newService(t, true)
	out := newProvider(t, describe(s)).Deliver(t.Context(), shut)
	if out.State != notify.Temporary || !out.Down || !strings.Contains(out.Detail, "certificate") || s.count() != 0 {
		t.Errorf("got %+v after %d requests", out, s.count())
	}
}

func TestADaemonThatStopsHasSentNothing(t *testing.T) {
	s := newService(t, false)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if out := newProvider(t, describe(s)).Deliver(ctx, shut); out.State != notify.Temporary || s.count() != 0 {
		t.Errorf("got %+v", out)
	}
}

func TestTheRateIsWaitedForBeforeAMessageIsThere(t *testing.T) {
	s := newService(t, false)
	now := noon
	p, err := New(usual(describe(s, func(o *Options) { o.Every = 10 * time.Second })), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	waits := func() bool {
		ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
		defer cancel()
		return p.Turn(ctx) != nil
	}
	if waits() {
		t.Error("the first waits")
	}
	if out := p.Deliver(t.Context(), shut); out.State != notify.Sent {
		t.Errorf("the first: %+v", out)
	}
	if !waits() {
		t.Error("the second, at once")
	}
	now = now.Add(9990 * time.Millisecond)
	if waits() {
		t.Error("a moment early, it comes to its turn")
	}
	now = now.Add(-time.Hour) // the clock is set back
	if left := p.pace.left(now, p.o.Every); left > 10*time.Second {
		t.Errorf("after the clock was set back it waits %s", left)
	}
}

func TestASecretThatCannotBeReadIsSaidAndNothingIsSent(t *testing.T) {
	s := newService(t, false)
	for name, secret := range map[string]func() ([]byte, error){
		"missing": func() ([]byte, error) { return nil, os.ErrNotExist }, "empty": secretOf(""), "two lines": secretOf("a\nX-Evil: 1"),
	} {
		out := newProvider(t, describe(s, func(o *Options) { o.Auth = Auth{Auth: terms.Auth{Kind: "bearer"}, Secret: secret} })).Deliver(t.Context(), shut)
		if out.State != notify.Temporary || !out.Down || !strings.Contains(out.Detail, "secret") || s.count() != 0 {
			t.Errorf("%s: %+v", name, out)
		}
	}
}

// All else is told where the farm file is read.
func TestFieldsOfNothingKnownAreRefused(t *testing.T) {
	s := newService(t, false)
	for _, value := range []string{"{{.Phone}}", "{{.To"} {
		_, err := New(usual(describe(s, func(o *Options) { o.Fields = []terms.Field{{Name: "to", Value: value}} })), atNoon)
		if err == nil || !strings.Contains(err.Error(), "cannot be filled in") {
			t.Errorf("%s: got %v", value, err)
		}
	}
}

// Whatever a person's words are, they arrive as they are and nothing beside
// them changes.
func TestWordsReachTheServiceThroughTheEncoderAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune(`abc &=%+"\{}[]<>;,'/?#:`+"\n\r\tñ🌱\u2028"))).Draw(t, "text")
		fields, err := compile([]terms.Field{{Name: "to", Value: "{{.To}}"}, {Name: "a.b", Value: "x{{.Text}}y"}}, terms.Message{})
		if err != nil {
			t.Fatal(err)
		}
		filled, err := fill(fields, terms.Message{To: ana, Text: text})
		if err != nil {
			t.Fatal(err)
		}
		_, form, err := body("form", filled)
		if err != nil {
			t.Fatal(err)
		}
		got, err := url.ParseQuery(string(form))
		if err != nil || len(got) != 2 || got.Get("a.b") != "x"+text+"y" {
			t.Fatalf("form %q: %v", form, err)
		}
		_, data, err := body("json", filled)
		if err != nil {
			t.Fatal(err)
		}
		tree, err := decode(data)
		if err != nil || word(tree, "a.b") != "x"+text+"y" || word(tree, "to") != ana {
			t.Fatalf("json %q: %v", data, err)
		}
	})
}

func TestFieldsThatLieInEachOther(t *testing.T) {
	for _, fields := range [][]terms.Field{{{Name: "a", Value: "1"}, {Name: "a.b", Value: "2"}}, {{Name: "a", Value: "1"}, {Name: "a", Value: "2"}}, {{Name: "a.b", Value: "1"}, {Name: "a", Value: "2"}}} {
		if _, _, err := body("json", fields); err == nil {
			t.Errorf("%v was taken", fields)
		}
	}
}

func TestNothingPrivateIsLogged(t *testing.T) {
	var said strings.Builder
	s := newService(t, false)
	p := newProvider(t, describe(s, func(o *Options) {
		o.Log = logTo(&said)
		o.Auth = Auth{Auth: terms.Auth{Kind: "bearer"}, Secret: secretOf("s3cret")}
	}))
	p.Deliver(t.Context(), shut)
	s.set(func(s *service) { s.Status = 400; s.Answer = `{"error":{"code":"no"}}` })
	p.Deliver(t.Context(), shut)
	if log := said.String(); log == "" || strings.Contains(log, "5555550142") || strings.Contains(log, "Creek") || strings.Contains(log, "s3cret") || strings.Contains(log, base64.StdEncoding.EncodeToString([]byte("s3cret"))) {
		t.Errorf("the log says:\n%s", log)
	}
}

func TestCheckSaysWhatIsWrong(t *testing.T) {
	s := newService(t, false)
	list := func(o *Options) {
		o.Poll = &terms.Poll{URL: s.URL + "/inbox", Paths: terms.Paths{List: "messages", ID: "id", From: "from", Text: "text"}}
	}
	for name, c := range map[string]struct {
		set    func(*service)
		change func(*Options)
		says   string
	}{
		"well":                        {func(s *service) { s.Status, s.Answer = 200, `{"messages":[]}` }, list, ""},
		"well, with an empty list":    {func(s *service) { s.Status, s.Answer = 200, `{"messages":null}` }, list, ""},
		"a wrong password":            {func(s *service) { s.Status = 401 }, list, "password"},
		"a wrong path to the list":    {func(s *service) { s.Status, s.Answer = 200, `{"data":[]}` }, list, `nothing at "messages"`},
		"nothing to ask, port closed": {func(s *service) {}, func(o *Options) { o.URL = "http://127.0.0.1:9/" }, "nobody listens"},
		"no certificate":              {func(s *service) {}, func(o *Options) { o.URL = strings.Replace(s.URL, "http:", "https:", 1) }, "TLS"},
		"an address to ask":           {func(s *service) { s.Status = 403 }, func(o *Options) { o.CheckURL = s.URL + "/account" }, "password"},
	} {
		t.Run(name, func(t *testing.T) {
			s.set(c.set)
			err := newProvider(t, describe(s, c.change)).Check(t.Context())
			if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want %q", err, c.says)
			}
		})
	}
}

// BenchmarkDeliver measures messages against a bare client that posts the same
// to the same service.
func BenchmarkDeliver(b *testing.B) {
	s := newService(b, false)
	p := newProvider(b, describe(s))
	bare := newClient(p.o)
	var ours, plain time.Duration
	for b.Loop() {
		start := time.Now()
		if out := p.Deliver(context.Background(), shut); out.State != notify.Sent {
			b.Fatal(out)
		}
		ours += time.Since(start)
		start = time.Now()
		resp, err := bare.Post(s.URL+"/messages", "application/json", strings.NewReader(`{"to":"+15555550142","text":"x","ref":"m-41"}`))
		if err != nil {
			b.Fatal(err)
		}
		_, err = io.Copy(io.Discard, resp.Body)
		if err := errors.Join(err, resp.Body.Close()); err != nil {
			b.Fatal(err)
		}
		plain += time.Since(start)
	}
	b.ReportMetric(float64(plain)/float64(ours), "of-bare-rate")
	b.ReportMetric(float64(b.N)/ours.Seconds(), "texts/s")
}

var _ http.Handler = (*hook)(nil)
