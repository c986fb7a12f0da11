package provider

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"go.yaml.in/yaml/v3"

	"stubbled/notify"
	"stubbled/notify/terms"
)

// profile is as much of a farm file as the README's shapes use.
type profile struct {
	Carriers struct {
		SMS struct {
			Via  string
			HTTP struct {
				URL, Encoding string
				Fields        yaml.Node
				Auth          struct {
					Kind, User string
					Secret     string `yaml:"secret_credential"`
				}
				Success     []int
				IDPath      string            `yaml:"id_path"`
				StatusPath  string            `yaml:"status_path"`
				ErrorPath   string            `yaml:"error_path"`
				StatusMap   map[string]string `yaml:"status_map"`
				Idempotency string
				Rate        string
				Poll        struct {
					URL, Every, Cursor string
					List               string `yaml:"list_path"`
					ID                 string `yaml:"id_path"`
					From               string `yaml:"from_path"`
					Text               string `yaml:"text_path"`
					Sent               string `yaml:"sent_path"`
				}
			}
		} `yaml:"sms"`
	}
}

// profiles reads the README's shapes, with the service moved to this machine.
func profiles(t *testing.T, here string) []Options {
	t.Helper()
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []Options
	for _, block := range strings.Split(string(readme), "```yaml\n")[1:] {
		block, _, _ = strings.Cut(block, "```")
		var f profile
		d := yaml.NewDecoder(strings.NewReader(block))
		d.KnownFields(true)
		if err := d.Decode(&f); err != nil {
			t.Fatalf("%v in\n%s", err, block)
		}
		h := f.Carriers.SMS.HTTP
		move := func(address string) string {
			u, err := url.Parse(address)
			if err != nil || u.Scheme != "https" {
				t.Fatalf("%q is no https address", address)
			}
			return here + u.Path
		}
		o := Options{Request: terms.Request{URL: move(h.URL), Encoding: h.Encoding},
			Answer: terms.Answer{Success: h.Success, IDPath: h.IDPath, StatusPath: h.StatusPath, ErrorPath: h.ErrorPath, StatusMap: h.StatusMap, Idempotency: h.Idempotency, Every: time.Nanosecond},
			Auth:   Auth{Auth: terms.Auth{Kind: h.Auth.Kind, User: h.Auth.User}, Secret: secretOf(h.Auth.Secret)},
			Poll: &terms.Poll{URL: move(h.Poll.URL), Cursor: h.Poll.Cursor,
				Paths: terms.Paths{List: h.Poll.List, ID: h.Poll.ID, From: h.Poll.From, Text: h.Poll.Text, Sent: h.Poll.Sent}}}
		for i := 0; i+1 < len(h.Fields.Content); i += 2 {
			o.Fields = append(o.Fields, terms.Field{Name: h.Fields.Content[i].Value, Value: h.Fields.Content[i+1].Value})
		}
		out = append(out, o)
	}
	return out
}

// Each shape of the README is spoken to a service of that shape, both ways.
func TestTheShapesOfTheReadmeWork(t *testing.T) {
	type want struct {
		path, kind, auth, body string
		answer                 string
		code                   int
		refusal, says, inbox   string
	}
	for i, w := range []want{
		{"/accounts/farm/messages", "application/x-www-form-urlencoded", "Basic ", "sender=%2B15555550100&recipient=%2B15555550142&text=",
			`{"ref": "r1", "status": "queued"}`, 201, `{"code": 30, "message": "blocked"}`, "by its owner's wish",
			`{"texts": [{"ref": "r2", "sender": "+15555550142", "text": "off creek", "sent": "Sat, 22 Aug 2026 11:59:00 +0000"}]}`},
		{"/v2/messages", "application/json", "Bearer sms-token", `"to":["+15555550142"]`,
			`{"data": {"id": "7f", "state": "accepted"}}`, 202, `{"errors": [{"code": "rejected"}]}`, "never",
			`{"data": [{"id": "7e", "from": "15555550142", "content": {"text": "off creek"}, "received_at": "2026-08-22T11:59:00Z"}]}`},
	} {
		t.Run(fmt.Sprintf("shape %d", i+1), func(t *testing.T) {
			refuse := false
			s := httptest.NewServer(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
				if !strings.HasPrefix(r.Header.Get("Authorization"), w.auth) {
					rw.WriteHeader(http.StatusUnauthorized)
					return
				}
				if r.Method == http.MethodGet {
					io.WriteString(rw, w.inbox)
					return
				}
				data, _ := io.ReadAll(r.Body)
				if r.URL.Path != w.path || r.Header.Get("Content-Type") != w.kind || !strings.Contains(string(data), w.body) {
					t.Errorf("%s %v\n%s", r.URL, r.Header, data)
				}
				if refuse {
					rw.WriteHeader(http.StatusBadRequest)
					io.WriteString(rw, w.refusal)
					return
				}
				rw.WriteHeader(w.code)
				io.WriteString(rw, w.answer)
			}))
			defer s.Close()
			all := profiles(t, s.URL)
			if len(all) != 2 {
				t.Fatalf("the README shows %d shapes", len(all))
			}
			p := newProvider(t, all[i])
			if out := p.Deliver(t.Context(), shut); out.State != notify.Sent || out.Ref == "" || out.Detail != "" {
				t.Errorf("sending: %+v", out)
			}
			refuse = true
			if out := p.Deliver(t.Context(), shut); out.State != notify.Permanent || out.Down || !strings.Contains(out.Detail, w.says) || out.OptedOut != (i == 0) {
				t.Errorf("refused: %+v", out)
			}
			in := newInbox()
			if _, err := p.poll(context.Background(), "", in.accept); err != nil || len(in.got) != 1 || in.got[0].Text != "off creek" || in.got[0].From != ana || !in.got[0].Sent.Equal(noon.Add(-time.Minute)) {
				t.Errorf("polling: %v, %+v", err, in.got)
			}
			if err := p.Check(t.Context()); err != nil {
				t.Errorf("check: %v", err)
			}
		})
	}
}
