package provider

import (
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"text/template"

	"stubbled/notify/terms"
)

// A field is a terms.Field whose template is read.
type field struct {
	name  string
	value *template.Template
}

// compile reads templates and tries each on a sample.
func compile(fields []terms.Field, sample any) ([]field, error) {
	var out []field
	for _, f := range fields {
		t, err := template.New(f.Name).Option("missingkey=error").Parse(f.Value)
		if err == nil {
			err = t.Execute(io.Discard, sample)
		}
		if err != nil {
			return nil, fmt.Errorf("the field %q cannot be filled in: %w", f.Name, err)
		}
		out = append(out, field{f.Name, t})
	}
	return out, nil
}

// fill gives names and values in order.
func fill(fields []field, data any) ([]terms.Field, error) {
	var out []terms.Field
	for _, f := range fields {
		var b strings.Builder
		if err := f.value.Execute(&b, data); err != nil {
			return nil, fmt.Errorf("the field %q cannot be filled in: %w", f.name, err)
		}
		out = append(out, terms.Field{Name: f.name, Value: b.String()})
	}
	return out, nil
}

// body encodes the fields.
func body(encoding string, fields []terms.Field) (contentType string, data []byte, err error) {
	if encoding == "form" {
		var parts []string
		for _, f := range fields {
			parts = append(parts, url.QueryEscape(f.Name)+"="+url.QueryEscape(f.Value))
		}
		return "application/x-www-form-urlencoded", []byte(strings.Join(parts, "&")), nil
	}
	root := map[string]any{}
	for _, f := range fields {
		if err := place(root, f.Name, f.Value); err != nil {
			return "", nil, err
		}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(root); err != nil {
		return "", nil, err
	}
	return "application/json", bytes.TrimRight(b.Bytes(), "\n"), nil
}

// place puts a value in a tree of objects: a.b leads into a, and to[] is a
// list of one.
func place(root map[string]any, name, value string) error {
	at := root
	parts := strings.Split(name, ".")
	for _, part := range parts[:len(parts)-1] {
		next, ok := at[part].(map[string]any)
		if !ok {
			if _, taken := at[part]; taken {
				return fmt.Errorf("the field %q lies within another field", name)
			}
			next = map[string]any{}
			at[part] = next
		}
		at = next
	}
	last, list := strings.CutSuffix(parts[len(parts)-1], "[]")
	if _, taken := at[last]; taken {
		return fmt.Errorf("the field %q is written twice", name)
	}
	if list {
		at[last] = []string{value}
	} else {
		at[last] = value
	}
	return nil
}

// verified is how every connection over TLS is made.
func verified(o Options) *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, RootCAs: o.Roots}
}

// newClient follows no redirect, keeps no connection (so that a request is
// never written to one that the service is about to close), and needs TLS 1.2.
func newClient(o Options) *http.Client {
	return &http.Client{
		Timeout: o.Timeout,
		Transport: &http.Transport{
			Proxy:                  http.ProxyFromEnvironment,
			TLSClientConfig:        verified(o),
			DisableKeepAlives:      true,
			DisableCompression:     true,
			MaxResponseHeaderBytes: 64 << 10,
			ForceAttemptHTTP2:      false,
		},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
}

// request makes a request with the headers and the password.
func (p *Provider) request(ctx context.Context, method, address, contentType string, data []byte) (*http.Request, error) {
	r, err := http.NewRequestWithContext(ctx, method, address, bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if len(data) == 0 {
		r.Body, r.ContentLength = http.NoBody, 0
	}
	if contentType != "" {
		r.Header.Set("Content-Type", contentType)
	}
	r.Header.Set("Accept", "application/json")
	r.Header.Set("User-Agent", "stubbled")
	for _, h := range p.o.Headers {
		r.Header.Set(h.Name, h.Value)
	}
	return r, p.show(r)
}

// show adds the password, except in a field, which is part of the body.
func (p *Provider) show(r *http.Request) error {
	a := p.o.Auth
	if a.Kind == "none" || a.Kind == "field" {
		return nil
	}
	secret, err := p.secret()
	if err != nil {
		return err
	}
	switch a.Kind {
	case "basic":
		r.SetBasicAuth(a.User, secret)
	case "bearer":
		r.Header.Set("Authorization", "Bearer "+secret)
	case "header":
		r.Header.Set(a.Name, secret)
	}
	return nil
}

func (p *Provider) secret() (string, error) {
	secret, err := p.o.Auth.Secret()
	if err != nil {
		return "", fmt.Errorf("the service's secret cannot be read: %w", err)
	}
	text := strings.TrimSpace(string(secret))
	if text == "" || strings.ContainsAny(text, "\r\n") {
		return "", fmt.Errorf("the service's secret is empty or has more than one line")
	}
	return text, nil
}
