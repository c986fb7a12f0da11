package config_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"stubbled/config"
)

func TestAProviderOverHTTPIsReadWhole(t *testing.T) {
	f := load(t, good(t)+`carriers:
  sms:
    via: http
    http:
      url: https://sms.example.org/v1/messages
      encoding: json
      fields: {From: "+15555550100", To: "{{.To}}", Body: "{{.Text}}", ref: "{{.ID}}"}
      auth: {kind: basic, user: farm, secret_credential: sms-secret}
      success: [201]
      id_path: message.id
      status_map: {Queued: accepted, DELIVRD: delivered}
      idempotency: Idempotency-Key
      rate: 1 per 5 s
      poll: {url: https://sms.example.org/v1/inbox, id_path: id, from_path: from, text_path: text, cursor: after}
      webhook: {scheme: hmac-sha1-url, secret_credential: sms-hook, public_url: https://farm.example.org/sms, id_path: id, from_path: From, text_path: Body}
`)
	want := &config.HTTPCarrier{
		URL: "https://sms.example.org/v1/messages", Method: "POST", Encoding: "json",
		Fields:      []config.Field{{Name: "From", Value: "+15555550100"}, {Name: "To", Value: "{{.To}}"}, {Name: "Body", Value: "{{.Text}}"}, {Name: "ref", Value: "{{.ID}}"}},
		Auth:        config.Auth{Kind: "basic", User: "farm", Secret: config.Secret{Credential: "sms-secret"}},
		Success:     []int{201},
		IDPath:      "message.id",
		StatusMap:   map[string]string{"Queued": "accepted", "DELIVRD": "delivered"},
		Idempotency: "Idempotency-Key", Timeout: 20 * time.Second, Every: 5 * time.Second,
		Poll: &config.Poll{URL: "https://sms.example.org/v1/inbox", Every: time.Minute, IDPath: "id", FromPath: "from", TextPath: "text", Cursor: "after"},
		Webhook: &config.Webhook{Listen: "127.0.0.1:8825", Path: "/sms", Scheme: "hmac-sha1-url", Secret: config.Secret{Credential: "sms-hook"},
			PublicURL: "https://farm.example.org/sms", IDPath: "id", FromPath: "From", TextPath: "Body"},
	}
	if got := f.Carriers.SMS.HTTP; !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

func TestAModemSpoolHasItsUsualFolder(t *testing.T) {
	f := load(t, good(t)+"carriers: {sms: {via: spool}}\n")
	if f.Carriers.SMS.Spool != (config.SpoolFolders{Dir: "/var/spool/sms", StuckAfter: 15 * time.Minute}) {
		t.Errorf("spool %+v", f.Carriers.SMS.Spool)
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

func TestWeatherAndBackup(t *testing.T) {
	path := written(t, good(t)+`weather: {log: thermometer.csv, every: 5 min, service: {station: KMHK, point: "39.10, -96.61", contact: ana@example.org}}
backup: {dir: copies, keep: 30 nights, at: "03:15"}
`)
	f, err := config.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Dir(path)
	if f.Weather.Log != filepath.Join(dir, "thermometer.csv") || f.Weather.Every != 5*time.Minute {
		t.Errorf("weather %+v", f.Weather)
	}
	if s := f.Weather.Service; s == nil || s.URL != "https://api.weather.gov" || s.Lat != 39.10 || s.Lon != -96.61 || !s.HasSpot || s.Station != "KMHK" {
		t.Errorf("service %+v", s)
	}
	if f.Backup != (config.Backup{Dir: filepath.Join(dir, "copies"), Keep: 30, At: 3*60 + 15}) {
		t.Errorf("backup %+v", f.Backup)
	}
	if f := load(t, good(t)); f.Weather.Service != nil || f.Weather.Log != "" {
		t.Errorf("weather nobody wrote: %+v", f.Weather)
	}
}

func TestASecretThatOthersMayReadIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "secret")
	for mode, ok := range map[os.FileMode]bool{0o600: true, 0o400: true, 0o640: false, 0o604: false, 0o644: false, 0o660: false, 0o620: false} {
		_ = os.Remove(path)
		if err := os.WriteFile(path, []byte("hunter2\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		got, err := config.Secret{File: path}.Read()
		switch {
		case ok && (err != nil || string(got) != "hunter2"):
			t.Errorf("mode %04o: %q, %v", mode, got, err)
		case !ok && (err == nil || !strings.Contains(err.Error(), "chmod 600") || strings.Contains(err.Error(), "hunter2")):
			t.Errorf("mode %04o: %v", mode, err)
		}
	}
}

func TestASecretThatIsNoSecretIsRefused(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty")
	if err := os.WriteFile(empty, []byte("\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	huge := filepath.Join(dir, "huge")
	if err := os.WriteFile(huge, make([]byte, 1<<20), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]config.Secret{
		"is not there": {File: filepath.Join(dir, "nowhere")}, "is empty": {File: empty}, "which is no secret": {File: huge}, "no ordinary file": {File: dir},
		"no secret is named": {},
	} {
		if _, err := s.Read(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%v: %v, want %q", s, err, name)
		}
	}
}

func TestACredentialComesFromTheServiceManager(t *testing.T) {
	dir := t.TempDir()
	// The service manager's own modes count, whatever they are.
	if err := os.WriteFile(filepath.Join(dir, "mail-password"), []byte("hunter2"), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv(config.CredentialsEnv, dir)
	if got, err := (config.Secret{Credential: "mail-password"}).Read(); err != nil || string(got) != "hunter2" {
		t.Errorf("%q, %v", got, err)
	}
	t.Setenv(config.CredentialsEnv, "")
	if _, err := (config.Secret{Credential: "mail-password"}).Read(); err == nil || !strings.Contains(err.Error(), "LoadCredential=mail-password") {
		t.Errorf("without a folder: %v", err)
	}
}

func TestASecretFileThatIsMissingIsOnlyAWarning(t *testing.T) {
	f := load(t, good(t)+"carriers:\n  email:\n    from: farm@example.org\n    smtp: {host: smtp.example.org, user: farm, password_file: later}\n")
	if !strings.Contains(f.Warnings.Error(), "carriers.email.smtp.password_file: file ") || f.Carriers.Email.SMTP.Password.File == "" {
		t.Errorf("warnings: %v", f.Warnings)
	}
}
