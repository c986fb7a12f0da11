package links_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"stubbled/config"
	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/notify/terms"
)

func good(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../testdata/good/everything.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func written(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "farm.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func load(t *testing.T, text string) *config.Farm {
	t.Helper()
	farm, err := config.Load(written(t, text))
	if err != nil {
		t.Fatalf("refused:\n%v", err)
	}
	return farm
}

func TestAProviderOverHTTPIsReadWhole(t *testing.T) {
	f := load(t, good(t)+`carriers:
  sms:
    via: http
    http:
      url: https://sms.example.org/v1/messages
      encoding: json
      fields: {From: "+15555550100", To: "{{.Digits}}", Body: "{{.Text}}", ref: "{{.ID}}"}
      headers: {X-Version: "2026-01"}
      auth: {kind: basic, user: farm, secret_credential: sms-secret}
      success: [201]
      id_path: message.id
      status_map: {Queued: accepted, DELIVRD: delivered, "30": opted-out}
      idempotency: Idempotency-Key
      rate: 1 per 5 s
      check_url: https://sms.example.org/v1/account
      region: ca
      poll: {url: https://sms.example.org/v1/inbox, query: {after: "{{.Since.Unix}}", box: "1"}, look_back: 2 days, id_path: id, from_path: from, text_path: text,
        status_path: state, ref_path: ref, envelope_path: own, error_path: code, only: {direction: inbound}, cursor: after, next_path: meta.next, next_param: page, max_pages: 5}
      webhook: {listen: "0.0.0.0:8825", beyond: true, scheme: hmac-sha1-url, header: X-Signature, hash: sha256, secret_credential: sms-hook, public_url: https://farm.example.org/sms,
        list_path: events, id_path: id, from_path: From, text_path: Body, only: {kind: text}}
`)
	want := &links.HTTPCarrier{
		Request: terms.Request{
			URL: "https://sms.example.org/v1/messages", Method: "POST", Encoding: "json",
			Fields:  []terms.Field{{Name: "From", Value: "+15555550100"}, {Name: "To", Value: "{{.Digits}}"}, {Name: "Body", Value: "{{.Text}}"}, {Name: "ref", Value: "{{.ID}}"}},
			Headers: []terms.Field{{Name: "X-Version", Value: "2026-01"}},
		},
		Auth: links.Auth{Auth: terms.Auth{Kind: "basic", User: "farm"}, Secret: settings.Secret{Credential: "sms-secret"}},
		Answer: terms.Answer{
			Success: []int{201}, IDPath: "message.id",
			StatusMap:   map[string]string{"Queued": "accepted", "DELIVRD": "delivered", "30": "opted-out"},
			Idempotency: "Idempotency-Key", Timeout: 20 * time.Second, Every: 5 * time.Second,
			CheckURL: "https://sms.example.org/v1/account", Region: "CA",
		},
		Poll: &links.Poll{Poll: terms.Poll{
			Paths: terms.Paths{ID: "id", From: "from", Text: "text", Status: "state", Ref: "ref", Envelope: "own", Error: "code", Only: map[string]string{"direction": "inbound"}},
			URL:   "https://sms.example.org/v1/inbox", Every: time.Minute, Query: []terms.Field{{Name: "after", Value: "{{.Since.Unix}}"}, {Name: "box", Value: "1"}},
			Cursor: "after", Next: "meta.next", NextParam: "page", LookBack: 48 * time.Hour, MaxPages: 5,
		}},
		Webhook: &links.Webhook{
			Paths:   terms.Paths{List: "events", ID: "id", From: "From", Text: "Body", Only: map[string]string{"kind": "text"}},
			Webhook: terms.Webhook{Listen: "0.0.0.0:8825", Beyond: true, Path: "/sms", PublicURL: "https://farm.example.org/sms"},
			Signature: links.Signature{Scheme: "hmac-sha1-url", Secret: settings.Secret{Credential: "sms-hook"},
				Layout: terms.Layout{Header: "X-Signature", Hash: "sha256"}},
		},
	}
	if got := f.Carriers.SMS.HTTP; !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

// What a scheme leaves open has the value that is usual for it.
func TestASchemeFillsInWhatIsUsual(t *testing.T) {
	secret := settings.Secret{Credential: "sms-hook"}
	for written, layout := range map[string]terms.Layout{
		"standard-webhooks":                                                      {},
		"hmac-sha1-url, header: X-Sign":                                          {Header: "X-Sign", Hash: "sha1"},
		"hmac-sha256-body, header: X-Sign":                                       {Header: "X-Sign", Signed: "{timestamp}.{body}", Encoding: "hex"},
		"ed25519, header: X-Sign, stamp_header: X-Stamp":                         {Header: "X-Sign", Stamp: "X-Stamp", Signed: "{timestamp}|{body}", Encoding: "base64"},
		"ed25519, header: X-Sign, stamp_field: ts, sign_field: s, encoding: hex": {Header: "X-Sign", StampField: "ts", SignField: "s", Signed: "{timestamp}|{body}", Encoding: "hex"},
		`hmac-sha256-body, header: X-Sign, stamp_header: T, nonce_header: N, signed: "{body}.{nonce}.{timestamp}"`: {Header: "X-Sign", Stamp: "T", Nonce: "N",
			Signed: "{body}.{nonce}.{timestamp}", Encoding: "hex"},
	} {
		want := links.Signature{Secret: secret, Layout: layout}
		want.Scheme, _, _ = strings.Cut(written, ",")
		f := load(t, good(t)+`carriers: {sms: {via: http, http: {url: "https://sms.example.org/", fields: {to: "{{.To}}", text: "{{.Text}}"}, webhook: {
  public_url: "https://farm.example.org/sms", secret_credential: sms-hook, id_path: id, from_path: from, text_path: text, scheme: `+written+"}}}}\n")
		if got := f.Carriers.SMS.HTTP.Webhook.Signature; got != want {
			t.Errorf("%s\n got %+v\nwant %+v", written, got, want)
		}
	}
}

// A service may be asked for texts and call with news alone.
func TestAWebhookMayTellNewsAlone(t *testing.T) {
	f := load(t, good(t)+`carriers: {sms: {via: http, http: {url: "https://sms.example.org/", fields: {to: "{{.To}}", text: "{{.Text}}"}, status_map: {sent: delivered},
  webhook: {scheme: standard-webhooks, secret_credential: sms-hook, status_path: state, ref_path: id}}}}`+"\n")
	if w := f.Carriers.SMS.HTTP.Webhook; w.Status != "state" || w.Ref != "id" || w.Text != "" || w.Beyond || w.Listen != "127.0.0.1:8825" {
		t.Errorf("webhook %+v", w)
	}
}

func TestListeningForOtherMachinesIsSaidInAsManyWords(t *testing.T) {
	for listen, near := range map[string]bool{
		"127.0.0.1:8825": true, "LOCALHOST:8825": true, "[::1]:8825": true, "127.9.9.9:80": true,
		"0.0.0.0:8825": false, ":8825": false, "[::]:8825": false, "192.0.2.7:8825": false, "farm.example.org:8825": false, "localhost.example.org:80": false,
	} {
		for _, beyond := range []string{"", ", beyond: false", ", beyond: true"} {
			path := written(t, good(t)+`carriers: {sms: {via: http, http: {url: "https://sms.example.org/", fields: {to: "{{.To}}", text: "{{.Text}}"}, webhook: {
  scheme: standard-webhooks, secret_credential: sms-hook, id_path: id, from_path: from, text_path: text, listen: "`+listen+`"`+beyond+"}}}}\n")
			f, err := config.Load(path)
			said := strings.HasSuffix(beyond, "true")
			switch {
			case (err == nil) != (near || said):
				t.Errorf("%s%s: %v", listen, beyond, err)
			case err != nil && !strings.Contains(err.Error(), "add beyond: true if it is meant"):
				t.Errorf("%s%s: %v", listen, beyond, err)
			case err == nil && f.Carriers.SMS.HTTP.Webhook.Beyond != said:
				t.Errorf("%s%s: %+v", listen, beyond, f.Carriers.SMS.HTTP.Webhook)
			}
		}
	}
}

func TestAModemSpoolHasWhatDebianHas(t *testing.T) {
	usual := terms.Spool{
		Dir: "/var/spool/stubbled-sms", Queues: []string{"checked"}, PIDFile: "/run/smstools/smsd.pid",
		LogFile: "/var/log/smstools/smsd.log", StateFile: "/var/log/smstools/GSM1.state", Stale: 5 * time.Minute,
		TakeBack: 6 * time.Hour, Validity: 24 * time.Hour, Poll: 2 * time.Second, Keep: 30 * 24 * time.Hour, Region: "US",
	}
	for _, text := range []string{"{via: spool}", "{via: spool, spool: {stuck_after: 300 s}}", "{via: spool, spool: {}}"} {
		if f := load(t, good(t)+"carriers: {sms: "+text+"}\n"); !reflect.DeepEqual(f.Carriers.SMS.Spool.Spool, usual) {
			t.Errorf("%s\n got %+v\nwant %+v", text, f.Carriers.SMS.Spool, usual)
		}
	}
}

func TestAModemSpoolMayBeElsewhere(t *testing.T) {
	f := load(t, good(t)+`carriers: {sms: {via: spool, spool: {dir: /srv/sms/, queues: [GSM1, /srv/sms/GSM2], pid_file: none, log_file: /srv/log, state_file: None,
  region: gb, stuck_after: 10 min, take_back: never, validity: 2 days, poll: 5 s, keep: 7 days}}}`+"\n")
	want := terms.Spool{Dir: "/srv/sms", Queues: []string{"GSM1", "/srv/sms/GSM2"}, LogFile: "/srv/log", Stale: 10 * time.Minute,
		TakeBack: -1, Validity: 48 * time.Hour, Poll: 5 * time.Second, Keep: 7 * 24 * time.Hour, Region: "GB"}
	if !reflect.DeepEqual(f.Carriers.SMS.Spool.Spool, want) {
		t.Errorf(" got %+v\nwant %+v", f.Carriers.SMS.Spool, want)
	}
}

func TestMailOutAndIn(t *testing.T) {
	f := load(t, good(t)+`carriers:
  email:
    from: farm@example.org
    token_credential: mail-token
    smtp: {host: localhost, tls: plain}
    imap: {host: imap.example.org, user: farm, password_credential: mail-password, poll: 2 min}
`)
	m := f.Carriers.Email
	if m.ReplyTo != "farm@example.org" || m.SMTP.TLS != "plain" || m.SMTP.Timeout != time.Minute || m.Token.Credential != "mail-token" {
		t.Errorf("mail %+v", m)
	}
	if m.IMAP.TLS != "tls" || m.IMAP.Mailbox != "INBOX" || m.IMAP.Poll != 2*time.Minute || m.IMAP.Password.Credential != "mail-password" {
		t.Errorf("imap %+v", m.IMAP)
	}
}

// A key is changed by naming both for a while.
func TestAnswersToMailsOfTheOldKeyStillCount(t *testing.T) {
	f := load(t, good(t)+`carriers:
  email:
    from: farm@example.org
    reply_to: answers@example.org
    token_credential: mail-token
    old_token_credential: mail-token-old
    smtp: {host: localhost, tls: plain}
    imap: {host: imap.example.org, user: farm, password_credential: mail-password, timeout: 30 s}
`)
	if m := f.Carriers.Email; m.Token.Credential != "mail-token" || m.OldToken.Credential != "mail-token-old" || m.ReplyTo != "answers@example.org" || m.IMAP.Timeout != 30*time.Second {
		t.Errorf("mail %+v", m)
	}
}

func TestWeatherAndBackup(t *testing.T) {
	path := written(t, good(t)+`weather: {log: thermometer.csv, place: Creek, unit: c, column: air, day_first: yes, every: 5 min, silence: 3 hours,
  service: {station: kqfk, point: "40.00, -100.00", contact: ana@example.org, observe: 30 min, forecast: 2 hours, silence: 9 hours}}
backup: {dir: copies, at: "03:15"}
`)
	f, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Dir(path)
	if want := (terms.Thermometer{File: filepath.Join(dir, "thermometer.csv"), Place: "Creek", Unit: "C", Column: "air", DayFirst: true, Every: 5 * time.Minute, Silence: 3 * time.Hour}); *f.Weather.Log != want {
		t.Errorf("log %+v\nwant %+v", f.Weather.Log, want)
	}
	want := terms.Feed{URL: "https://api.weather.gov", Station: "KQFK", Point: &terms.Point{Lat: 40, Lon: -100}, Contact: "ana@example.org",
		Observe: 30 * time.Minute, Forecast: 2 * time.Hour, Silence: 9 * time.Hour}
	if !reflect.DeepEqual(f.Weather.Service.Feed, want) {
		t.Errorf("service %+v\nwant %+v", f.Weather.Service, want)
	}
	if f.Backup != (config.Backup{Dir: filepath.Join(dir, "copies"), At: 3*60 + 15}) {
		t.Errorf("backup %+v", f.Backup)
	}
	if f := load(t, good(t)); f.Weather.Service != nil || f.Weather.Log != nil {
		t.Errorf("weather nobody wrote: %+v", f.Weather)
	}
}

func TestWeatherThatSaysNoMoreThanItMustHasTheUsualTimes(t *testing.T) {
	f := load(t, good(t)+"weather: {log: /var/log/thermometer.csv, service: {station: KQFK, contact: ana@example.org}}\n")
	if w := f.Weather.Log; *w != (terms.Thermometer{File: "/var/log/thermometer.csv", Every: 30 * time.Second, Silence: 6 * time.Hour}) {
		t.Errorf("log %+v", w)
	}
	if s := f.Weather.Service; s.Observe != 20*time.Minute || s.Forecast != time.Hour || s.Silence != 6*time.Hour {
		t.Errorf("service %+v", s)
	}
}

func TestASecretFileThatIsMissingIsOnlyAWarning(t *testing.T) {
	f := load(t, good(t)+"carriers:\n  email:\n    from: farm@example.org\n    smtp: {host: smtp.example.org, user: farm, password_file: later}\n")
	if !strings.Contains(f.Warnings.Error(), "carriers.email.smtp.password_file: file ") || f.Carriers.Email.SMTP.Password.File == "" {
		t.Errorf("warnings: %v", f.Warnings)
	}
}
