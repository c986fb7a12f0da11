package links_test

import (
	"strings"
	"testing"

	"stubbled/config"
)

// The carriers go by these descriptions unchecked: what cannot work or would
// be open to everybody must end here.
func TestADescriptionThatCannotWorkIsRefused(t *testing.T) {
	const (
		at   = `url: "https://sms.example.org/", `
		what = `fields: {to: "{{.To}}", text: "{{.Text}}"}`
		read = `secret_credential: h, public_url: "https://farm.example.org/sms", id_path: id, from_path: from, text_path: text`
		hook = at + what + `, webhook: {` + read
	)
	for http, says := range map[string]string{
		at + what: "",
		hook + `, scheme: hmac-sha256-body, header: X-Sign}`:       "",
		`url: "http://sms.example.org/messages", ` + what:          "http.url: want https, since plain http",
		`url: "https://a:b@sms.example.org/", ` + what:             "http.url: holds a user or password",
		`url: "ftp://sms.example.org/", ` + what:                   "http.url: want an address such as https://",
		what:                                                       "http.url: missing",
		at + `encoding: xml, ` + what:                              "http.encoding: want form or json",
		`url: "https://sms.example.org/"`:                          "http.fields: missing",
		at + `fields: {to: "{{.Phone}}"}`:                          "http.fields.to: want text with {{.To}}",
		at + `fields: {to: "{{.To"}`:                               "http.fields.to: want text with {{.To}}",
		at + what + `, auth: {kind: digest, secret_credential: k}`: "auth.kind: want none, basic",
		at + what + `, auth: {kind: basic, user: farm}`:            "auth.secret_file: missing",
		at + what + `, auth: {kind: header, secret_credential: k}`: "auth.name: missing",
		at + what + `, poll: {url: "http://sms.example.org/", id_path: id, from_path: from, text_path: text}`: "poll.url: want https",
		hook + `, scheme: standard-webhooks, listen: "0.0.0.0:8825"}`:                                         "can be reached from other machines",
		hook + `, scheme: standard-webhooks, listen: "127.0.0.1"}`:                                            "webhook.listen: want host and port",
		hook + `}`:                           "webhook.scheme: missing",
		hook + `, scheme: hmac-sha256-body}`: "webhook.header: missing",
		hook + `, scheme: hmac-sha256-body, header: X, encoding: base32}`:                   "webhook.encoding: want hex or base64",
		hook + `, scheme: hmac-sha256-body, header: X, signed: "{body}"}`:                   "webhook.signed: want {body} once and {timestamp}",
		hook + `, scheme: hmac-sha256-body, header: X, signed: "{timestamp}"}`:              "webhook.signed: want {body} once and {timestamp}",
		hook + `, scheme: hmac-sha256-body, header: X, signed: "{nonce}{timestamp}{body}"}`: "webhook.nonce_header: missing",
	} {
		_, err := config.Load(written(t, good(t)+"carriers: {sms: {via: http, http: {"+http+"}}}\n"))
		if (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%s:\ngot  %v\nwant %q", http, err, says)
		}
	}
}
