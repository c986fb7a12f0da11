package provider

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"go.uber.org/goleak"

	"stubbled/notify"
	"stubbled/notify/sms/signature"
	"stubbled/notify/terms"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

const secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"

func standard(t testing.TB) signature.Scheme {
	t.Helper()
	s, err := signature.StandardWebhooks(secret)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// signed is a call as the service makes it, at a time.
func signed(body, id string, at time.Time) *http.Request {
	key, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(secret, "whsec_"))
	if err != nil {
		panic(err)
	}
	mac := hmac.New(sha256.New, key)
	fmt.Fprintf(mac, "%s.%d.%s", id, at.Unix(), body)
	r := httptest.NewRequest(http.MethodPost, "/sms", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("webhook-id", id)
	r.Header.Set("webhook-timestamp", fmt.Sprint(at.Unix()))
	r.Header.Set("webhook-signature", "v1,"+base64.StdEncoding.EncodeToString(mac.Sum(nil)))
	return r
}

func hooked(t testing.TB, change ...func(*Webhook)) (*Provider, *inbox, http.Handler) {
	t.Helper()
	w := &Webhook{Webhook: terms.Webhook{Listen: "127.0.0.1:8825", PublicURL: "https://farm.example.org/sms"}, Scheme: standard(t),
		Paths: terms.Paths{ID: "data.id", From: "data.from", Text: "data.text", Sent: "data.at", Ref: "data.ref", Status: "data.status"}}
	for _, c := range change {
		c(w)
	}
	p := newProvider(t, Options{Request: terms.Request{URL: "https://sms.example.org/", Fields: []terms.Field{{Name: "to", Value: "{{.To}}"}}}, Webhook: w,
		Answer: terms.Answer{StatusMap: map[string]string{"delivered": delivered}}})
	in := newInbox()
	return p, in, p.Handler(in.accept, func(error) {})
}

func call(h http.Handler, r *http.Request) int {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Code
}

const good = `{"data":{"id":"in-1","from":"+15555550142","text":"creek 14 8 6 8","at":"2026-08-22T11:59:00Z"}}`

func TestACallIsHeardOnceItIsRecorded(t *testing.T) {
	_, in, h := hooked(t)
	if code := call(h, signed(good, "msg_1", noon)); code != http.StatusNoContent {
		t.Fatalf("answered %d", code)
	}
	if len(in.got) != 1 || in.got[0].ID != "text/in-1" || in.got[0].From != ana || in.got[0].Text != "creek 14 8 6 8" || !in.got[0].Sent.Equal(noon.Add(-time.Minute)) {
		t.Errorf("heard %+v", in.got)
	}
	call(h, signed(`{"data":{"ref":"abc","status":"delivered"}}`, "msg_2", noon))
	if len(in.got) != 2 || in.got[1].Report == nil || !in.got[1].Report.Delivered {
		t.Errorf("heard %+v", in.got)
	}
}

func TestACallThatIsNotRecordedIsAskedForAgain(t *testing.T) {
	_, in, h := hooked(t)
	in.fail = errors.New("disk full")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, signed(good, "msg_1", noon))
	if w.Code != http.StatusServiceUnavailable || w.Header().Get("Retry-After") == "" || strings.Contains(w.Body.String(), "disk") {
		t.Errorf("answered %d %q", w.Code, w.Body)
	}
	in.fail = nil
	if code := call(h, signed(good, "msg_1", noon)); code != http.StatusNoContent || len(in.got) != 1 {
		t.Errorf("then %d, heard %+v", code, in.got)
	}
}

// While this machine's clock is wrong nobody can say how old a call is: the
// service is asked to call again, and a forged call is refused all the same.
func TestACallThatCannotBeJudgedIsAskedForAgain(t *testing.T) {
	sure := false
	_, in, h := hooked(t, func(w *Webhook) { w.Sure = func() bool { return sure } })
	if code := call(h, signed(good, "msg_1", noon.AddDate(1, 0, 0))); code != http.StatusServiceUnavailable {
		t.Errorf("a call of another year is answered %d", code)
	}
	forged := signed(good, "msg_1", noon)
	forged.Header.Set("webhook-signature", "v1,AAAA")
	if code := call(h, forged); code != http.StatusUnauthorized {
		t.Errorf("a forged call is answered %d", code)
	}
	sure = true
	if code := call(h, signed(good, "msg_1", noon.AddDate(1, 0, 0))); code != http.StatusUnauthorized {
		t.Errorf("by a clock that is sure it is answered %d", code)
	}
	if code := call(h, signed(good, "msg_1", noon)); code != http.StatusNoContent || len(in.got) != 1 {
		t.Errorf("a call of now is answered %d", code)
	}
}

// Fifteen hundred callers who say nothing, or half a line, keep no real call
// waiting.
func TestSilentCallersKeepNobodyWaiting(t *testing.T) {
	p, in, _ := hooked(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- p.serve(ctx, l, in.accept, func(error) {}) }()
	defer func() { stop(); <-ended }()
	for i := range 1500 {
		conn, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if i%2 == 0 {
			io.WriteString(conn, "POST /sms HT")
		}
	}
	r := signed(good, "msg_1", noon)
	r.URL, r.RequestURI = &url.URL{Scheme: "http", Host: l.Addr().String(), Path: "/sms"}, ""
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, Timeout: 10 * time.Second}
	resp, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusNoContent || len(in.got) != 1 {
		t.Errorf("answered %s, heard %d", resp.Status, len(in.got))
	}
}

func TestCallsThatAreRefused(t *testing.T) {
	change := func(r *http.Request, c func(*http.Request)) *http.Request { c(r); return r }
	for name, c := range map[string]struct {
		r    *http.Request
		code int
	}{
		"no signature":      {httptest.NewRequest(http.MethodPost, "/sms", strings.NewReader(good)), 401},
		"an old time stamp": {signed(good, "msg_1", noon.Add(-6*time.Minute)), 401},
		"a right signature, another body": {change(signed(good, "msg_1", noon), func(r *http.Request) {
			r.Body = io.NopCloser(strings.NewReader(strings.Replace(good, "142", "143", 1)))
		}), 401},
		"another address":                    {change(signed(good, "msg_1", noon), func(r *http.Request) { r.URL.Path = "/" }), 404},
		"a GET":                              {change(signed(good, "msg_1", noon), func(r *http.Request) { r.Method = http.MethodGet }), 405},
		"too large":                          {signed(`{"data":"`+strings.Repeat("x", maxBody)+`"}`, "msg_1", noon), 413},
		"signed, but neither JSON nor form":  {signed(`<xml/>`, "msg_1", noon), 400},
		"signed, but nothing for us":         {signed(`{"data":{"from":""}}`, "msg_1", noon), 204},
		"signed, but no list of messages":    {signed(`7`, "msg_1", noon), 204},
		"signed, nested a thousand deep":     {signed(strings.Repeat("[", 20000), "msg_1", noon), 400},
		"a body that breaks off":             {change(signed(good, "msg_1", noon), func(r *http.Request) { r.Body = io.NopCloser(io.MultiReader(strings.NewReader("{"), broken{})) }), 413},
		"two webhook-signature headers":      {change(signed(good, "msg_1", noon), func(r *http.Request) { r.Header.Add("webhook-signature", "v1,AAAA") }), 401},
		"the path with something behind it":  {change(signed(good, "msg_1", noon), func(r *http.Request) { r.URL.Path = "/sms/x" }), 404},
		"signed with an id that has a point": {signed(good, "msg.1", noon), 401},
	} {
		t.Run(name, func(t *testing.T) {
			_, in, h := hooked(t)
			if code := call(h, c.r); code != c.code {
				t.Errorf("answered %d, want %d", code, c.code)
			}
			if len(in.got) != 0 {
				t.Errorf("heard %+v", in.got)
			}
		})
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestAReplayIsNotHeardAgain(t *testing.T) {
	_, in, h := hooked(t)
	for range 3 {
		if code := call(h, signed(good, "msg_1", noon)); code != http.StatusNoContent {
			t.Errorf("answered %d", code)
		}
	}
	if len(in.got) != 1 || in.ids["text/in-1"] != 3 {
		t.Errorf("accepted %v", in.ids)
	}
	if code := call(h, signed(good, "msg_1", noon.Add(-time.Hour))); code != http.StatusUnauthorized {
		t.Errorf("an hour later: %d", code)
	}
}

// A form signed over the URL and its parameters, as HMAC-SHA1.
func TestAFormSignedOverURLAndParameters(t *testing.T) {
	scheme, err := signature.HMACOverURL([]byte("made-up key"), "X-Signature", "sha1")
	if err != nil {
		t.Fatal(err)
	}
	_, in, h := hooked(t, func(w *Webhook) {
		w.Scheme = scheme
		w.Paths = terms.Paths{ID: "id", From: "from", Text: "text"}
	})
	form := url.Values{"id": {"in-9"}, "from": {ana}, "text": {"moved cows & calves + bull"}}
	send := func(query string) int {
		var names []string
		for n := range form {
			names = append(names, n)
		}
		slices.Sort(names)
		mac := hmac.New(sha1.New, []byte("made-up key"))
		io.WriteString(mac, "https://farm.example.org/sms"+query)
		for _, n := range names {
			io.WriteString(mac, n+form.Get(n))
		}
		r := httptest.NewRequest(http.MethodPost, "http://10.0.0.1/sms"+query, strings.NewReader(form.Encode())) // behind a proxy
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded; charset=utf-8")
		r.Header.Set("X-Signature", base64.StdEncoding.EncodeToString(mac.Sum(nil)))
		return call(h, r)
	}
	if code := send("?farm=1"); code != http.StatusNoContent || len(in.got) != 1 || in.got[0].Text != "moved cows & calves + bull" {
		t.Errorf("answered %d, heard %+v", code, in.got)
	}
	form.Add("from", luis)
	if code := send(""); code != http.StatusUnauthorized {
		t.Errorf("a parameter twice: %d", code)
	}
}

// A real server on loopback, a thousand at once, and a slow store: all are
// answered, at most maxBusy are being recorded, and what was answered with 2xx
// was recorded.
func TestAThousandAtOnce(t *testing.T) {
	addr := freePort(t)
	p, in, _ := hooked(t, func(w *Webhook) { w.Listen = addr })
	ctx, cancel := context.WithCancel(context.Background())
	ready, done := make(chan error, 100), make(chan struct{})
	var mu sync.Mutex
	busy, most := 0, 0
	accept := func(ctx context.Context, got []notify.Received, cursor string) error {
		mu.Lock()
		busy++
		most = max(most, busy)
		mu.Unlock()
		time.Sleep(2 * time.Millisecond) // a disk
		mu.Lock()
		busy--
		mu.Unlock()
		return in.accept(ctx, got, cursor)
	}
	go func() { defer close(done); p.Receive(ctx, "", accept, func(err error) { ready <- err }) }()
	if err := <-ready; err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	var all sync.WaitGroup
	codes := map[int]int{}
	for i := range 1000 {
		all.Go(func() {
			body := strings.Replace(good, "in-1", fmt.Sprintf("in-%d", i), 1)
			r := signed(body, fmt.Sprintf("msg_%d", i), noon)
			r.RequestURI, r.URL = "", &url.URL{Scheme: "http", Host: addr, Path: "/sms"}
			code := 0
			for try := 0; code == 0 && try < 5; try++ { // cut off on a busy machine a service calls again
				r.Body = io.NopCloser(bytes.NewReader([]byte(body)))
				if resp, err := client.Do(r); err == nil {
					code = resp.StatusCode
					resp.Body.Close()
				}
			}
			mu.Lock()
			codes[code]++
			mu.Unlock()
		})
	}
	all.Wait()
	cancel()
	<-done
	if codes[204]+codes[503] != 1000 || codes[204] != len(in.got) || codes[204] == 0 {
		t.Errorf("answered %v, recorded %d", codes, len(in.got))
	}
	if most > maxBusy {
		t.Errorf("%d at once in the store", most)
	}
}

func TestACallerThatSaysNothingIsCutOff(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes five seconds")
	}
	addr := freePort(t)
	p, _, _ := hooked(t, func(w *Webhook) { w.Listen = addr })
	ctx, cancel := context.WithCancel(context.Background())
	ready, done := make(chan error, 10), make(chan struct{})
	go func() { defer close(done); p.Receive(ctx, "", newInbox().accept, func(err error) { ready <- err }) }()
	<-ready
	conn, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(conn, "POST /sms HTTP/1.1\r\nHost: farm")
	conn.SetReadDeadline(time.Now().Add(15 * time.Second))
	if _, err := io.ReadAll(conn); err != nil {
		t.Errorf("not cut off: %v", err)
	}
	conn.Close()
	cancel()
	<-done
}

func TestAPortThatIsTakenIsSaid(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	p, _, _ := hooked(t, func(w *Webhook) { w.Listen = l.Addr().String() })
	ctx, cancel := context.WithCancel(context.Background())
	said, done := make(chan error, 10), make(chan struct{})
	go func() { defer close(done); p.Receive(ctx, "", newInbox().accept, func(err error) { said <- err }) }()
	if err := <-said; err == nil || !strings.Contains(err.Error(), "something else there") {
		t.Errorf("said %v", err)
	}
	cancel()
	<-done
}

// Whatever bit of a call's body or signed headers is flipped, nothing is heard.
func TestNoBitOfACallMayChange(t *testing.T) {
	_, in, h := hooked(t)
	for bit := range len(good) * 8 {
		b := []byte(good)
		b[bit/8] ^= 1 << (bit % 8)
		r := signed(good, "msg_1", noon)
		r.Body = io.NopCloser(bytes.NewReader(b))
		if code := call(h, r); code != http.StatusUnauthorized {
			t.Fatalf("bit %d of the body: answered %d", bit, code)
		}
	}
	for _, name := range []string{"webhook-id", "webhook-timestamp", "webhook-signature"} {
		value := signed(good, "msg_1", noon).Header.Get(name)
		for bit := range len(value) * 8 {
			b := []byte(value)
			b[bit/8] ^= 1 << (bit % 8)
			r := signed(good, "msg_1", noon)
			r.Header.Set(name, string(b))
			if code := call(h, r); code != http.StatusUnauthorized {
				t.Fatalf("bit %d of %s: answered %d", bit, name, code)
			}
		}
	}
	if len(in.got) > 0 {
		t.Errorf("heard %+v", in.got)
	}
}

func FuzzCall(f *testing.F) {
	f.Add([]byte(good), "application/json")
	f.Add([]byte("from=%2B15555550142&text=x"), "application/x-www-form-urlencoded")
	_, in, h := hooked(f)
	f.Fuzz(func(t *testing.T, body []byte, kind string) {
		r := signed(string(body), "msg_1", noon)
		r.Header.Set("Content-Type", kind)
		code := call(h, r)
		if code != 204 && code != 400 && code != 413 {
			t.Errorf("answered %d", code)
		}
		for _, g := range in.got {
			if g.ID == "" || len([]rune(g.Text)) > maxText {
				t.Errorf("heard %+v", g)
			}
		}
	})
}
