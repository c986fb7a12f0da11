package signature

import (
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stubbled/notify/terms"
)

func header(pairs ...string) http.Header {
	h := http.Header{}
	for i := 0; i < len(pairs); i += 2 {
		h.Add(pairs[i], pairs[i+1])
	}
	return h
}

// The vector of the Standard Webhooks specification's reference libraries.
const (
	stdSecret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"
	stdID     = "msg_p5jXN8AQM9LWM0D4loKWxJek"
	stdStamp  = 1614265330
	stdBody   = `{"test": 2432232314}`
	stdSign   = "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE="
)

func standardRequest() Request {
	return Request{Method: "POST", URL: "https://farm.example.org/sms", Body: []byte(stdBody),
		Header: header("webhook-id", stdID, "webhook-timestamp", "1614265330", "webhook-signature", stdSign)}
}

// The vectors over URL and parameters are our own, made by another program:
// printf %s "$url$sorted" | openssl dgst -sha1 -hmac 'made-up key' -binary | base64
const (
	formBody     = "text=off+creek&to=%2B15555550100&id=in-1&from=%2B15555550142&at=2026-08-22T11%3A59%3A00Z"
	formURL      = "https://farm.example.org/sms?farm=quail&n=2"
	formSign     = "BK9+NR5JV0BpRywMGMFk8PqcsV8="
	formSignHTTP = "faac0nnNJvVvkWUNXevLt+h6WLs="
	// The parameters as they stand in the body, not sorted.
	formUnsorted = "YVXhFOcBGA+m9l4zysvE7sylnxc="
)

func formRequest(address, sign string) Request {
	u, query, _ := strings.Cut(address, "?")
	return Request{Method: "POST", URL: u, Query: query, Body: []byte(formBody),
		Header: header("Content-Type", "application/x-www-form-urlencoded", "X-Signature", sign)}
}

func jsonRequest() Request {
	return Request{Method: "POST", URL: "https://farm.example.org/sms",
		Query:  "farm=quail&n=2&digest=003506372190cef6eb4a3bddce873a591839908be64b4d163e51b277c04497ed",
		Body:   []byte(`{"from": "+15555550142", "text": "off creek"}`),
		Header: header("Content-Type", "application/json", "X-Signature", "5y8qL8w8TODQltkpG75nfQnPWoQ=")}
}

func must[T any](s T, err error) T {
	if err != nil {
		panic(err)
	}
	return s
}

var token = must(HMACOverURL([]byte("made-up key"), "X-Signature", ""))

// The Ed25519 key is that of RFC 8032 section 7.1 test 1; the message is ours,
// and openssl pkeyutl -sign -rawin signed it.
const (
	edKey  = "11qYAYKxCrfVS/7TyWQHOg7hcvPapiMlrwIaaPcHURo="
	edSign = "Eup6VDWw6D1/cIhci/EMwgWtBdI7vGc6BF6MBtaoC9FwMm15c4Fs9Ku0zmr2+wfw9hSnoHT+SkiXUIrK6WFjAA=="
)

func edRequest() Request {
	return Request{Method: "POST", Body: []byte(`{"from":"+15555550142","text":"off creek"}`),
		Header: header("X-Stamp", "1700000000", "X-Sign", edSign)}
}

var edScheme = must(Ed25519OverBody(terms.Layout{Header: "X-Sign", Stamp: "X-Stamp", Signed: "{timestamp}|{body}", Encoding: "base64"}, edKey))

func stampedRequest() Request {
	mac := hmac.New(sha256.New, []byte("s3cret"))
	mac.Write([]byte(`1700000000.{"from":"+15555550142"}`))
	return Request{Method: "POST", Body: []byte(`{"from":"+15555550142"}`),
		Header: header("X-Sign", "t=1700000000,v1="+hex.EncodeToString(mac.Sum(nil)))}
}

var stamped = must(HMACOverBody(terms.Layout{Header: "X-Sign"}, []byte("old"), []byte("s3cret")))

func TestRequestsThatOtherProgramsSigned(t *testing.T) {
	for name, c := range map[string]struct {
		scheme Scheme
		r      Request
		now    int64
	}{
		"Standard Webhooks v1":                           {must(StandardWebhooks(stdSecret)), standardRequest(), stdStamp},
		"URL and parameters, https":                      {token, formRequest(formURL, formSign), 0},
		"URL and parameters, http":                       {token, formRequest(strings.Replace(formURL, "https", "http", 1), formSignHTTP), 0},
		"URL and parameters, seen with the port":         {token, formRequest(strings.Replace(formURL, "org", "org:443", 1), formSign), 0},
		"URL and the hash of a body that is no form":     {token, jsonRequest(), 0},
		"Ed25519 with the key of RFC 8032 7.1 test 1":    {edScheme, edRequest(), 1700000000},
		"time stamp and body, the second of two secrets": {stamped, stampedRequest(), 1700000000},
	} {
		t.Run(name, func(t *testing.T) {
			if err := c.scheme.Verify(c.r, time.Unix(c.now, 0)); err != nil {
				t.Error(err)
			}
		})
	}
}

// RFC 8032 section 7.1 test 1: the empty message.
func TestTheEd25519OfTheRFC(t *testing.T) {
	key := must(base64.StdEncoding.DecodeString(edKey))
	sig := must(hex.DecodeString("e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"))
	if !ed25519.Verify(key, nil, sig) {
		t.Error("the vector does not fit")
	}
}

func TestStandardWebhooksByPublicKeyAndWhileKeysChange(t *testing.T) {
	public, private, err := ed25519.GenerateKey(nil)
	if err != nil {
		t.Fatal(err)
	}
	r := standardRequest()
	sig := "v1a," + base64.StdEncoding.EncodeToString(ed25519.Sign(private, []byte(stdID+".1614265330."+stdBody)))
	r.Header.Set("webhook-signature", "v1,AAAA "+sig+" v9,later")
	s := must(StandardWebhooks("whpk_"+base64.StdEncoding.EncodeToString(public), "whsec_"+base64.StdEncoding.EncodeToString(make([]byte, 24))))
	if err := s.Verify(r, time.Unix(stdStamp, 0)); err != nil {
		t.Error(err)
	}
}

func TestRequestsThatAreRefused(t *testing.T) {
	std := must(StandardWebhooks(stdSecret))
	with := func(r Request, pairs ...string) Request {
		for i := 0; i < len(pairs); i += 2 {
			r.Header.Set(pairs[i], pairs[i+1])
		}
		return r
	}
	twice := formRequest(formURL, formSign)
	twice.Body = []byte(formBody + "&id=in-1")
	unbound := jsonRequest()
	unbound.Query = "farm=quail&n=2&digest=00"
	other := stampedRequest()
	other.Body = []byte(`{"from":"+15555550143"}`)
	two := standardRequest()
	two.Header.Add("webhook-signature", stdSign)
	for name, c := range map[string]struct {
		scheme Scheme
		r      Request
		now    int64
		want   error
	}{
		"no signature":                           {std, Request{Header: header("webhook-id", "x", "webhook-timestamp", "1614265330")}, stdStamp, ErrMissing},
		"nothing at all":                         {token, Request{}, 0, ErrMissing},
		"six minutes old":                        {std, standardRequest(), stdStamp + 360, ErrStale},
		"from the future":                        {std, standardRequest(), stdStamp - 360, ErrStale},
		"a stamp that is no number":              {std, with(standardRequest(), "webhook-timestamp", "soon"), stdStamp, ErrMissing},
		"a stamp beyond every calendar":          {std, with(standardRequest(), "webhook-timestamp", "9223372036854775807"), stdStamp, ErrMissing},
		"another id":                             {std, with(standardRequest(), "webhook-id", "msg_other"), stdStamp, ErrWrong},
		"an id that moves the stamp":             {std, with(standardRequest(), "webhook-id", stdID+".1"), stdStamp, ErrUnclear},
		"two signature headers":                  {std, two, stdStamp, ErrUnclear},
		"a thousand signatures":                  {std, with(standardRequest(), "webhook-signature", strings.Repeat(stdSign+" ", 1000)), stdStamp, ErrUnclear},
		"a good signature over another body":     {stamped, other, 1700000000, ErrWrong},
		"hex in capitals":                        {stamped, with(stampedRequest(), "X-Sign", strings.ToUpper(stampedRequest().Header.Get("X-Sign"))), 1700000000, ErrMissing},
		"two stamps":                             {stamped, with(stampedRequest(), "X-Sign", "t=1,"+stampedRequest().Header.Get("X-Sign")), 1700000000, ErrUnclear},
		"a query that holds no hash of the body": {token, unbound, 0, ErrMissing},
		"a parameter twice":                      {token, twice, 0, ErrUnclear},
		"names in the wrong order":               {token, formRequest(formURL, formUnsorted), 0, ErrWrong},
		"signed for http, came by https":         {token, formRequest(formURL, formSignHTTP), 0, ErrWrong},
		"a short Ed25519 signature":              {edScheme, with(edRequest(), "X-Sign", "AAAA"), 1700000000, ErrWrong},
		"a nonce that is signed but not there":   {must(HMACOverBody(terms.Layout{Header: "X-Sign", Nonce: "X-Nonce"}, []byte("s3cret"))), stampedRequest(), 1700000000, ErrMissing},
	} {
		t.Run(name, func(t *testing.T) {
			err := c.scheme.Verify(c.r, time.Unix(c.now, 0))
			if !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
			if err != nil && (strings.Contains(err.Error(), "v1") && !strings.Contains(err.Error(), "lacks") || strings.Contains(err.Error(), "1555")) {
				t.Errorf("the error gives something away: %v", err)
			}
		})
	}
}

// The other published layouts of time stamp, body and the like.
func TestLayouts(t *testing.T) {
	key := []byte("k")
	sign := func(data string) []byte {
		mac := hmac.New(sha256.New, key)
		mac.Write([]byte(data))
		return mac.Sum(nil)
	}
	body := `{"a":"{timestamp} {nonce}"}` // nothing in it is taken for a name
	for name, c := range map[string]struct {
		l    terms.Layout
		data string
		h    func(sum []byte) http.Header
	}{
		"body.nonce.timestamp in base64": {
			terms.Layout{Header: "S", Stamp: "T", Nonce: "N", Signed: "{body}.{nonce}.{timestamp}", Encoding: "base64"},
			body + ".n1.1700000000",
			func(sum []byte) http.Header {
				return header("S", base64.StdEncoding.EncodeToString(sum), "T", "1700000000", "N", "n1")
			}},
		"version, stamp, method, URL and body": {
			terms.Layout{Header: "S", Stamp: "T", Signed: "v1:{timestamp}|{method}|{url}|{body}"},
			"v1:1700000000|POST|https://farm.example.org/sms?a=1|" + body,
			func(sum []byte) http.Header { return header("S", hex.EncodeToString(sum), "T", "1700000000") }},
		"other names of the fields": {
			terms.Layout{Header: "S", StampField: "ts", SignField: "h1", Signed: "{timestamp}:{body}"},
			"1700000000:" + body,
			func(sum []byte) http.Header { return header("S", "ts=1700000000, h1="+hex.EncodeToString(sum)) }},
	} {
		t.Run(name, func(t *testing.T) {
			r := Request{Method: "POST", URL: "https://farm.example.org/sms", Query: "a=1", Body: []byte(body), Header: c.h(sign(c.data))}
			if err := must(HMACOverBody(c.l, key)).Verify(r, time.Unix(1700000000, 0)); err != nil {
				t.Error(err)
			}
			r.Body = append(r.Body, ' ')
			if err := must(HMACOverBody(c.l, key)).Verify(r, time.Unix(1700000000, 0)); err == nil {
				t.Error("a body with a space more was taken")
			}
		})
	}
}

func TestSecretsThatAreNone(t *testing.T) {
	for name, err := range map[string]error{
		"none":                  second(StandardWebhooks()),
		"not base64":            second(StandardWebhooks("whsec_!!!")),
		"too short":             second(StandardWebhooks("whsec_AAAA")),
		"the sender's private":  second(StandardWebhooks("whsk_AAAA")),
		"a public key cut off":  second(StandardWebhooks("whpk_AAAA")),
		"no key":                second(HMACOverURL(nil, "X", "")),
		"a hash of old":         second(HMACOverURL([]byte("k"), "X", "md5")),
		"an empty secret":       second(HMACOverBody(terms.Layout{Header: "X"}, []byte{})),
		"a public key too long": second(Ed25519OverBody(terms.Layout{Header: "X"}, base64.StdEncoding.EncodeToString(make([]byte, 33)))),
	} {
		if err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// Whatever bit of a good request is flipped, it is refused.
func TestNoBitOfAGoodRequestMayChange(t *testing.T) {
	for name, c := range map[string]struct {
		scheme Scheme
		make   func() Request
		now    int64
		signed []string // headers
	}{
		"Standard Webhooks": {must(StandardWebhooks(stdSecret)), standardRequest, stdStamp, []string{"webhook-id", "webhook-timestamp", "webhook-signature"}},
		"URL and form": {token, func() Request {
			return formRequest(formURL, formSign)
		}, 0, []string{"X-Signature"}},
		"URL and JSON":   {token, jsonRequest, 0, []string{"X-Signature"}},
		"stamp and body": {stamped, stampedRequest, 1700000000, []string{"X-Sign"}},
		"Ed25519":        {edScheme, edRequest, 1700000000, []string{"X-Sign", "X-Stamp"}},
	} {
		t.Run(name, func(t *testing.T) {
			for _, where := range append([]string{"body", "url", "query"}, c.signed...) {
				r := c.make()
				get, _ := field(&r, where)
				before := []byte(get())
				for bit := range len(before) * 8 {
					r := c.make()
					_, set := field(&r, where)
					after := append([]byte(nil), before...)
					after[bit/8] ^= 1 << (bit % 8)
					set(string(after))
					if err := c.scheme.Verify(r, time.Unix(c.now, 0)); err == nil && !same(where, r, before, after) {
						t.Errorf("%s with bit %d flipped was taken: %q", where, bit, after)
					}
				}
			}
		})
	}
}

// What we sign ourselves is taken, and with any one bit flipped it is not.
func TestAnyRequestFitsItsOwnSignatureAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.SliceOfN(rapid.Byte(), 1, 64).Draw(t, "key")
		body := rapid.SliceOfN(rapid.Byte(), 1, 200).Draw(t, "body")
		at := rapid.Int64Range(0, 1<<33).Draw(t, "at")
		mac := hmac.New(sha256.New, key)
		mac.Write(append([]byte(strconv.FormatInt(at, 10)+"."), body...))
		r := Request{Body: body, Header: header("X-Sign", fmt.Sprintf("t=%d,v1=%x", at, mac.Sum(nil)))}
		s := must(HMACOverBody(terms.Layout{Header: "X-Sign"}, key))
		if err := s.Verify(r, time.Unix(at, 0)); err != nil {
			t.Fatal(err)
		}
		bit := rapid.IntRange(0, len(body)*8-1).Draw(t, "bit")
		r.Body = append([]byte(nil), body...)
		r.Body[bit/8] ^= 1 << (bit % 8)
		if err := s.Verify(r, time.Unix(at, 0)); err == nil {
			t.Fatalf("bit %d", bit)
		}
	})
}

// field gives and sets a part of a request. The URL is not part of what the
// layouts without {url} and Standard Webhooks sign.
func field(r *Request, where string) (get func() string, set func(string)) {
	switch where {
	case "body":
		return func() string { return string(r.Body) }, func(s string) { r.Body = []byte(s) }
	case "url", "query":
		if r.Header.Get("X-Signature") == "" {
			return func() string { return "" }, nil
		}
		if where == "query" {
			return func() string { return r.Query }, func(s string) { r.Query = s }
		}
		return func() string { return r.URL }, func(s string) { r.URL = s }
	}
	return func() string { return r.Header.Get(where) }, func(s string) { r.Header.Set(where, s) }
}

// same reports whether a form still says the same: %2B and %2b are one.
func same(where string, r Request, before, after []byte) bool {
	if where != "body" || r.Header.Get("Content-Type") != "application/x-www-form-urlencoded" {
		return false
	}
	a, errA := url.ParseQuery(string(before))
	b, errB := url.ParseQuery(string(after))
	return errA == nil && errB == nil && a.Encode() == b.Encode()
}

func FuzzVerify(f *testing.F) {
	f.Add([]byte(stdBody), stdSign, "1614265330", "a=1")
	f.Add([]byte(formBody), "vOEb5UThFn24KEfnOFLQY2AE5FY=", "t=1,v1=00", "foo=1&bar=2")
	schemes := []Scheme{must(StandardWebhooks("whsec_" + base64.StdEncoding.EncodeToString([]byte("another secret of 24 o.")))),
		must(HMACOverURL([]byte("another"), "X-Signature", "sha256")), must(HMACOverBody(terms.Layout{Header: "X-Signature"}, []byte("another")))}
	f.Fuzz(func(t *testing.T, body []byte, sign, stamp, query string) {
		r := Request{Method: "POST", URL: "https://farm.example.org/sms", Query: query, Body: body, Header: header(
			"webhook-id", "x", "webhook-timestamp", stamp, "webhook-signature", sign, "X-Signature", sign, "Content-Type", "application/x-www-form-urlencoded")}
		for _, s := range schemes {
			if err := s.Verify(r, time.Unix(1614265330, 0)); err == nil {
				t.Errorf("%T took what nobody signed", s)
			}
		}
	})
}
