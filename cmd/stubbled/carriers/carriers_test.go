package carriers

import (
	"context"
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/notify"
	"stubbled/notify/email"
	"stubbled/notify/sms/provider"
	"stubbled/notify/sms/signature"
	"stubbled/scheduler/ladder"
)

var aNoon = time.Date(2026, 8, 22, 12, 0, 0, 0, time.UTC)

// The service's key pair, from a fixed seed; its public half in base64 passes
// for every secret there is.
var (
	serviceKey = ed25519.NewKeyFromSeed([]byte("an invented seed of 32 octets ok"))
	aSecret    = base64.StdEncoding.EncodeToString(serviceKey.Public().(ed25519.PublicKey))
)

// pieces are the parts of a farm file that a page shows: fenced, indented, or
// in a line.
func pieces(t *testing.T, page string) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(farmtest.Top(t), page))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllSubmatch(data, -1) {
		out = append(out, string(m[1]))
	}
	for _, m := range regexp.MustCompile("`((?:carriers|weather|backup): \\{[^`]*\\})`").FindAllSubmatch(data, -1) {
		out = append(out, string(m[1])+"\n")
	}
	for _, m := range regexp.MustCompile(`(?m)^    (?:carriers|weather|backup):.*\n(?:     .*\n)*`).FindAll(data, -1) {
		out = append(out, regexp.MustCompile(`(?m)^    `).ReplaceAllString(string(m), ""))
	}
	return out
}

// farmWith is a farm with a piece in it. Secrets are where the piece says that
// they are.
func farmWith(t *testing.T, piece string) *config.Farm {
	t.Helper()
	dir := t.TempDir()
	t.Setenv(settings.CredentialsEnv, dir)
	piece = strings.ReplaceAll(piece, "/etc/stubbled/", dir+"/")
	for _, m := range regexp.MustCompile(`_(?:file|credential): ([\w./-]+)`).FindAllStringSubmatch(piece, -1) {
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(m[1])), []byte(aSecret+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	farm, err := config.Load(farmtest.File(t, farmtest.Text+piece), config.WithoutEnvironment())
	if err != nil {
		t.Fatalf("%v\n%s", err, piece)
	}
	for _, w := range farm.Warnings {
		if !strings.Contains(w.Text, "numbering table") && !strings.Contains(w.Text, "nobody has") {
			t.Errorf("%s\n%s", w, piece)
		}
	}
	return farm
}

func linked(t *testing.T, farm *config.Farm) Links {
	t.Helper()
	l := Connect(Options{
		Farm: func() *config.Farm { return farm }, Now: func() time.Time { return aNoon }, In: strings.NewReader(""), Out: io.Discard, Run: "test",
		Log: slog.New(slog.DiscardHandler),
	})
	for _, b := range l.Broken {
		t.Fatal(b.Err)
	}
	return l
}

// What a page shows can be copied: it loads, and makes the carriers that it
// speaks of.
func TestWhatThePagesShowLoadsAndConnects(t *testing.T) {
	for page, least := range map[string]int{"notify/sms/README.md": 7, "notify/email/README.md": 1, "notify/weather/README.md": 3, "systemd/README.md": 1} {
		all := pieces(t, page)
		if len(all) < least {
			t.Errorf("%s shows %d pieces of a farm file, want at least %d", page, len(all), least)
		}
		for i, piece := range all {
			t.Run(fmt.Sprintf("%s %d", page, i+1), func(t *testing.T) {
				l := linked(t, farmWith(t, piece))
				for key, name := range map[string]string{"sms:": "sms", "email:": "email", "call:": "call", "log:": "thermometer", "service:": "service"} {
					has := slices.ContainsFunc(l.Carriers, func(c notify.Carrier) bool { return c.Name() == name }) ||
						slices.ContainsFunc(l.Sources, func(s notify.Source) bool { return s.Name() == name })
					if has != strings.Contains(piece, key) {
						t.Errorf("%s connected: %t\n%s", name, has, piece)
					}
				}
				if strings.Contains(piece, "imap:") && !slices.ContainsFunc(l.Receivers, func(r notify.Receiver) bool { return r.Name() == "email" }) {
					t.Errorf("nobody reads the mailbox\n%s", piece)
				}
			})
		}
	}
}

// A service answers in every shape that the page shows, and keeps what it was
// asked.
type service struct {
	*httptest.Server
	asked  []*http.Request
	bodies []string
}

const (
	anAnswer = `{"ref": "m1", "id": "m1", "status": "queued", "data": {"id": "m1", "state": "accepted"}}`
	aText    = `{"ref": "in1", "id": "in1", "direction": "in", "from": "15555550142", "sender": "15555550142", "text": "off creek", "content": {"text": "off creek"}, "at": "2026-08-22T11:59:00Z"}`
	ourOwn   = `{"id": "m1", "direction": "out", "from": "+15555550100", "text": "Shut today: Creek"}`
)

func newService(t *testing.T) *service {
	s := &service{}
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, _ := io.ReadAll(r.Body)
		s.asked, s.bodies = append(s.asked, r), append(s.bodies, string(body))
		switch {
		case r.Method == http.MethodPost:
			w.WriteHeader(map[bool]int{true: http.StatusAccepted, false: http.StatusCreated}[strings.HasPrefix(r.URL.Path, "/v2/")])
			io.WriteString(w, anAnswer)
		case r.URL.Query().Get("limit") != "": // a first page of two
			fmt.Fprintf(w, `{"items": [%s], "links": {"next": "/messages?page=2"}}`, ourOwn)
		default:
			fmt.Fprintf(w, `{"texts": [%s], "data": [%s], "items": [%s]}`, aText, aText, aText)
		}
	}))
	t.Cleanup(s.Close)
	return s
}

// Each service that the page shows is spoken to both ways, through the farm
// file and Connect.
func TestTheServicesOfThePageAreSpokenTo(t *testing.T) {
	n := 0
	for _, piece := range pieces(t, "notify/sms/README.md") {
		if !strings.Contains(piece, "via: http") {
			continue
		}
		n++
		s := newService(t)
		for _, host := range []string{"https://sms.example.org", "https://api.example.org"} {
			piece = strings.ReplaceAll(piece, host, s.URL)
		}
		farm := farmWith(t, piece)
		l := linked(t, farm)
		out := texting(l).Deliver(t.Context(), notify.Envelope{ID: "m-41", Address: "+15555550142", Text: "Shut today: Creek"})
		if out.State != notify.Sent || (out.Ref == "m1") != (farm.Carriers.SMS.HTTP.IDPath != "") || len(s.bodies) != 1 ||
			!strings.Contains(s.bodies[0], "15555550142") || !strings.Contains(s.bodies[0], "Shut") {
			t.Errorf("sent %+v, %q\n%s", out, s.bodies, piece)
		}
		if farm.Carriers.SMS.HTTP.Poll == nil {
			continue
		}
		got := heard(t, l.Receivers[0])
		if got.ID != "text/in1" || got.Text != "off creek" || got.From != "+15555550142" {
			t.Errorf("heard %+v\n%s", got, piece)
		}
		if q := s.asked[1].URL.Query(); q.Has("limit") && (q.Get("since") != "2026-08-20T12:00:00Z" || s.asked[1].Header.Get("X-Access") != aSecret) {
			t.Errorf("asked with %v", q)
		}
	}
	if n < 4 {
		t.Errorf("the page shows %d services", n)
	}
}

// A call goes to an address of its own, with the language that its voice needs.
func TestTheCallOfThePageIsMade(t *testing.T) {
	all := pieces(t, "notify/sms/README.md")
	i := slices.IndexFunc(all, func(p string) bool { return strings.Contains(p, "call:") })
	s := newService(t)
	farm := farmWith(t, strings.ReplaceAll(all[i], "https://voice.example.org", s.URL))
	l := linked(t, farm)
	call := l.Carriers[slices.IndexFunc(l.Carriers, func(c notify.Carrier) bool { return c.Medium() == ladder.Call })]
	for contact, language := range map[string]string{"+15555550142": "en", "+15555550143": "es"} {
		s.bodies = nil
		out := call.Deliver(t.Context(), notify.Envelope{ID: "m-41", Address: contact, Text: "Take the animals off Lane now."})
		if out.State != notify.Sent || out.Ref != "m1" || len(s.bodies) != 1 || !strings.Contains(s.bodies[0], "voice="+language) ||
			!strings.Contains(s.bodies[0], "animals+off+Lane") {
			t.Errorf("called %+v, %q", out, s.bodies)
		}
	}
	if !slices.Equal(Media(farm), []ladder.Medium{ladder.Text, ladder.Mail, ladder.Call}) || Name(farm, ladder.Call) != "call" {
		t.Errorf("the farm speaks by %v", Media(farm))
	}
}

func texting(l Links) notify.Carrier {
	return l.Carriers[slices.IndexFunc(l.Carriers, func(c notify.Carrier) bool { return c.Medium() == ladder.Text })]
}

// heard is the first text that comes in.
func heard(t *testing.T, r notify.Receiver) notify.Received {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	var first notify.Received
	accept := func(_ context.Context, got []notify.Received, _ string) error {
		first = got[0]
		cancel()
		return nil
	}
	_ = r.Receive(ctx, "", accept, func(err error) {
		if err != nil {
			t.Error(err)
		}
	})
	return first
}

// The webhook that the page shows hears texts and news that are signed by the
// service, and nothing else.
func TestTheWebhookOfThePageHears(t *testing.T) {
	all := pieces(t, "notify/sms/README.md")
	i := slices.IndexFunc(all, func(p string) bool { return strings.Contains(p, "webhook:") })
	p := texting(linked(t, farmWith(t, all[i]))).(*provider.Provider)
	var got []notify.Received
	h := p.Handler(func(_ context.Context, r []notify.Received, _ string) error { got = append(got, r...); return nil }, func(error) {})
	call := func(signed, sent string) int {
		r := httptest.NewRequest(http.MethodPost, "/sms", strings.NewReader(sent))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("X-Timestamp", fmt.Sprint(aNoon.Unix()))
		r.Header.Set("X-Signature", base64.StdEncoding.EncodeToString(ed25519.Sign(serviceKey, fmt.Appendf(nil, "%d|%s", aNoon.Unix(), signed))))
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Code
	}
	news := `{"delivery": "blocked", "message": "m1", "code": 9}`
	if a, b, c := call(aText, aText), call(news, news), call(aText, ourOwn); a != 204 || b != 204 || c != 401 {
		t.Errorf("answered %d, %d and to a forged call %d", a, b, c)
	}
	if len(got) != 2 || got[0].Text != "off creek" || got[1].Report == nil || got[1].Report.Ref != "m1" || !got[1].Report.Permanent {
		t.Errorf("heard %+v", got)
	}
}

// everything says every key of the carriers, each with a value of its own.
const everything = `
carriers:
  sms:
    via: %s
    spool: {dir: /srv/sms, queues: [q], pid_file: /a, log_file: /b, state_file: /c, region: CA, stuck_after: 6 min, take_back: 7 hours, validity: 8 hours, poll: 3 s, keep: 9 days}
    http:
      {url: "https://sms.example.org/", method: PUT, encoding: json, fields: {to: "{{.To}}", text: "{{.Text}}"}, headers: {X-Version: "2"},
       auth: {kind: header, name: X-Access, user: farm, secret_credential: s}, success: [201], id_path: a, status_path: b, error_path: c,
       status_map: {gone: opted-out}, idempotency: X-Once, timeout: 9 s, rate: 1 per 2 s, check_url: "https://sms.example.org/me", region: CA,
       poll: {url: "https://sms.example.org/in", every: 2 min, query: {since: "{{.Since.Unix}}"}, look_back: 3 hours, cursor: d, list_path: e, id_path: f, from_path: g,
         text_path: h, sent_path: i, status_path: j, ref_path: k, envelope_path: l, error_path: m, only: {n: o}, next_path: p, next_param: q, max_pages: 4},
       webhook: {listen: "0.0.0.0:8825", beyond: true, path: /r, public_url: "https://farm.example.org/r", scheme: hmac-sha256-body, secret_credential: s, header: X-Sign,
         list_path: e, id_path: f, from_path: g, text_path: h, sent_path: i, status_path: j, ref_path: k, envelope_path: l, error_path: m, only: {n: o}}}
weather: {log: t.csv, place: Creek, unit: F, column: air, day_first: true, every: 2 min, silence: 2 hours,
  service: {url: "https://weather.example.org", station: KQFK, point: "40, -100", contact: ana@example.org, observe: 9 min, forecast: 2 hours, silence: 3 hours}}
`

// Whatever a carrier can be told, the farm file tells it.
func TestEveryKeyReachesItsCarrier(t *testing.T) {
	only := func(via string) *config.Farm {
		other := map[string]string{"spool": "http", "http": "spool"}[via]
		cut := regexp.MustCompile(`(?m)^    ` + other + `:.*\n(?:      .*\n)*`)
		return farmWith(t, cut.ReplaceAllString(fmt.Sprintf(everything, via), ""))
	}
	web := only("http")
	o, err := providerOptions(web.Carriers.SMS.HTTP)
	if err != nil {
		t.Fatal(err)
	}
	linked(t, web)
	modem := only("spool")
	linked(t, modem)
	for name, v := range map[string]any{"provider": o, "spool": modem.Carriers.SMS.Spool, "log": *web.Weather.Log, "feed": web.Weather.Service.Feed} {
		noneMissing(t, name, reflect.ValueOf(v))
	}
	if o.StatusMap["gone"] != "opted-out" {
		t.Errorf("status words %v", o.StatusMap)
	}
}

// noneMissing tells of fields that nobody set. Log, Roots, Medium, Language and
// Sure are not the farm file's.
func noneMissing(t *testing.T, at string, v reflect.Value) {
	t.Helper()
	switch {
	case strings.HasSuffix(at, ".Log"), strings.HasSuffix(at, ".Roots"), strings.HasSuffix(at, ".Medium"), strings.HasSuffix(at, ".Language"), strings.HasSuffix(at, ".Sure"):
	case v.IsZero():
		t.Errorf("%s cannot be said in the farm file", at)
	case v.Kind() == reflect.Pointer && v.Elem().Kind() == reflect.Struct && !strings.HasSuffix(at, ".Zone"):
		noneMissing(t, at, v.Elem())
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			noneMissing(t, at+"."+v.Type().Field(i).Name, v.Field(i))
		}
	}
}

func TestTheUsualSpoolIsDebians(t *testing.T) {
	o := farmWith(t, "carriers: {sms: {via: spool}}\n").Carriers.SMS.Spool
	if o.PIDFile != "/run/smstools/smsd.pid" || o.LogFile != "/var/log/smstools/smsd.log" || o.StateFile != "/var/log/smstools/GSM1.state" {
		t.Errorf("%+v", o)
	}
	data, err := os.ReadFile(filepath.Join(farmtest.Top(t), "notify/sms/spool/smsd.conf"))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"outgoing = " + o.Dir + "/outgoing", "checked = " + o.Dir + "/" + o.Queues[0], "logfile = " + o.LogFile, "regular_run_statfile = " + o.StateFile} {
		if !strings.Contains(string(data), line+"\n") {
			t.Errorf("smsd.conf has no %q", line)
		}
	}
}

// What each scheme signs is worked out here anew, by the standard library; the
// schemes against what other programs signed are the signature package's own test.
func TestEachSignatureOfTheFarmFile(t *testing.T) {
	const body, address = `{"text":"off creek"}`, "https://farm.example.org/sms"
	stamp := fmt.Sprint(aNoon.Unix())
	mac := func(h func() hash.Hash, key, data string) []byte {
		m := hmac.New(h, []byte(key))
		m.Write([]byte(data))
		return m.Sum(nil)
	}
	b64, raw := base64.StdEncoding.EncodeToString, func() string { b, _ := base64.StdEncoding.DecodeString(aSecret); return string(b) }()
	form := url.Values{"to": {"+15555550100"}, "from": {"+15555550142"}, "text": {"off creek"}}.Encode()
	const sorted = "from+15555550142textoff creekto+15555550100"
	for written, c := range map[string]struct {
		body string
		head []string
	}{
		"standard-webhooks":                      {body, []string{"webhook-id", "x", "webhook-timestamp", stamp, "webhook-signature", "v1," + b64(mac(sha256.New, raw, "x."+stamp+"."+body))}},
		"hmac-sha1-url, header: S":               {form, []string{"S", b64(mac(sha1.New, aSecret, address+sorted))}},
		"hmac-sha1-url, header: S, hash: sha256": {form, []string{"S", b64(mac(sha256.New, aSecret, address+sorted))}},
		"hmac-sha256-body, header: S":            {body, []string{"S", "t=" + stamp + ",v1=" + hex.EncodeToString(mac(sha256.New, aSecret, stamp+"."+body))}},
		`hmac-sha256-body, header: S, stamp_field: ts, sign_field: h, encoding: base64, signed: "{timestamp}:{method}:{url}:{body}"`: {
			body, []string{"S", "ts=" + stamp + ",h=" + b64(mac(sha256.New, aSecret, stamp+":POST:"+address+":"+body))}},
		`hmac-sha256-body, header: S, stamp_header: T, nonce_header: N, signed: "{nonce}{timestamp}{body}"`: {
			body, []string{"S", hex.EncodeToString(mac(sha256.New, aSecret, "n1"+stamp+body)), "T", stamp, "N", "n1"}},
		"ed25519, header: S, stamp_header: T": {body, []string{"S", b64(ed25519.Sign(serviceKey, []byte(stamp+"|"+body))), "T", stamp}},
		`ed25519, header: S, stamp_header: T, encoding: hex, signed: "{timestamp}{body}"`: {
			body, []string{"S", hex.EncodeToString(ed25519.Sign(serviceKey, []byte(stamp+body))), "T", stamp}},
	} {
		t.Run(written, func(t *testing.T) {
			farm := farmWith(t, `carriers: {sms: {via: http, http: {url: "https://sms.example.org/", fields: {to: "{{.To}}", text: "{{.Text}}"},
  webhook: {public_url: "`+address+`", secret_credential: s, id_path: id, from_path: from, text_path: text, scheme: `+written+"}}}}\n")
			scheme, err := schemeOf(farm.Carriers.SMS.HTTP.Webhook.Signature)
			if err != nil {
				t.Fatal(err)
			}
			r := signature.Request{Method: "POST", URL: address, Header: http.Header{}, Body: []byte(c.body)}
			if c.body == form {
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			}
			for i := 0; i < len(c.head); i += 2 {
				r.Header.Set(c.head[i], c.head[i+1])
			}
			if err := scheme.Verify(r, aNoon); err != nil {
				t.Errorf("refused: %v", err)
			}
			r.Body = append(r.Body, '0')
			if err := scheme.Verify(r, aNoon); err == nil {
				t.Error("another body was taken")
			}
		})
	}
}

// While the key is changed, answers to mails of either one count, and new
// mails carry the new one's token.
func TestBothKeysOfMailCount(t *testing.T) {
	dir := t.TempDir()
	c := links.Email{From: "farm@example.org", ReplyTo: "answers@example.org", IMAP: &links.IMAP{}}
	for name, s := range map[string]*settings.Secret{"new": &c.Token, "old": &c.OldToken} {
		s.File = filepath.Join(dir, name)
		if err := os.WriteFile(s.File, []byte(name+" key of sixteen octets"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	tokens := func(c links.Email) *email.Tokens {
		got, err := tokensOf(c)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	both, before, after := tokens(c), tokens(links.Email{ReplyTo: c.ReplyTo, IMAP: c.IMAP, Token: c.OldToken}), tokens(links.Email{ReplyTo: c.ReplyTo, IMAP: c.IMAP, Token: c.Token})
	const ana = "ana@example.org"
	if id, ok := both.Open(before.MessageID("m-1", ana), ana); !ok || id != "m-1" {
		t.Error("an answer to a mail of the old key is not heard")
	}
	if _, ok := after.Open(both.MessageID("m-2", ana), ana); !ok || !strings.HasSuffix(both.MessageID("m-2", ana), "@example.org") {
		t.Error("a new mail carries the old key's token")
	}
}

func TestASecretThatIsReadOnceAndWasChangedTakesANewStart(t *testing.T) {
	farm := farmWith(t, `
carriers:
  sms:
    via: http
    http:
      url: http://127.0.0.1:9/texts
      fields: {to: "{{.To}}", text: "{{.Text}}"}
      auth: {kind: bearer, secret_credential: sms-secret}
      webhook: {listen: "127.0.0.1:8825", from_path: from, text_path: text, id_path: id, scheme: hmac-sha256-body, header: X-Signature, secret_credential: sms-webhook}
  email:
    from: farm@example.org
    token_credential: mail-token
    smtp: {host: smtp.example.org, user: farm, password_credential: smtp-password}
    imap: {host: imap.example.org, user: farm, password_credential: imap-password}
`)
	dir := os.Getenv(settings.CredentialsEnv)
	l := linked(t, farm)
	for name, want := range map[string]bool{"mail-token": true, "smtp-password": true, "imap-password": true, "sms-webhook": true, "sms-secret": false} {
		file := filepath.Join(dir, name)
		for _, c := range []struct {
			what, data string
			want       bool
		}{
			{"changed", aSecret + "AAAA", want},
			{"half written", "", false},
			{"as it was", aSecret, false},
		} {
			if err := os.WriteFile(file, []byte(c.data), 0o600); err != nil {
				t.Fatal(err)
			}
			if got := l.OtherSecrets(farm); got != c.want {
				t.Errorf("%s %s: another start is wanted: %t", name, c.what, got)
			}
		}
	}
}
