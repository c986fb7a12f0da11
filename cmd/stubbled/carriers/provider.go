package carriers

import (
	"strings"

	"stubbled/config"
	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/notify/sms/provider"
	"stubbled/notify/sms/signature"
	"stubbled/scheduler/ladder"
)

// provider is a service of texts or calls over HTTP, as the farm file describes it.
func (l *Links) provider(o Options, m ladder.Medium, where string, c *links.HTTPCarrier) error {
	service, err := providerOptions(c)
	service.Medium, service.Language = m, func(number string) string { return languageOf(o.Farm(), number) }
	l.without(ladder.AlarmRepliesDown, "", where+".webhook", err)
	service.Log = o.Log
	if service.Webhook != nil {
		service.Webhook.Sure = o.Sure
	}
	p, err := provider.New(service, o.Now)
	if err != nil {
		return err
	}
	l.Carriers = append(l.Carriers, p)
	if service.Poll != nil || service.Webhook != nil {
		l.Receivers = append(l.Receivers, p)
	}
	return nil
}

// providerOptions is the service as the farm file describes it; the secret of
// its webhook is read; where that cannot be, all but the webhook is given.
func providerOptions(c *links.HTTPCarrier) (provider.Options, error) {
	o := provider.Options{
		URL: c.URL, Method: c.Method, Encoding: c.Encoding, Fields: fieldsOf(c.Fields), Headers: fieldsOf(c.Headers),
		Auth: authOf(c.Auth), Success: c.Success, IDPath: c.IDPath, ErrorPath: c.ErrorPath, StatusPath: c.StatusPath,
		StatusMap: c.StatusMap, Idempotency: c.Idempotency, Timeout: c.Timeout, Every: c.Every, CheckURL: c.CheckURL, Region: c.Region,
	}
	if p := c.Poll; p != nil {
		o.Poll = &provider.Poll{
			Paths: provider.Paths(p.Paths), URL: p.URL, Query: fieldsOf(p.Query), Every: p.Every, Cursor: p.Cursor,
			Next: p.NextPath, NextParam: p.NextParam, LookBack: p.LookBack, MaxPages: p.MaxPages,
		}
	}
	if w := c.Webhook; w != nil {
		scheme, err := schemeOf(w.Signature)
		if err != nil {
			return o, err
		}
		o.Webhook = &provider.Webhook{
			Paths: provider.Paths(w.Paths), Listen: w.Listen, Beyond: w.Beyond, Path: w.Path, PublicURL: w.PublicURL, Scheme: scheme,
		}
	}
	return o, nil
}

// languageOf is the language of the contact who has a number; empty for nobody's.
func languageOf(farm *config.Farm, number string) string {
	for _, c := range farm.Contacts {
		if c.Phone == number {
			return c.Language
		}
	}
	return ""
}

func fieldsOf(fields []settings.Field) []provider.Field {
	var out []provider.Field
	for _, f := range fields {
		out = append(out, provider.Field(f))
	}
	return out
}

func authOf(a links.Auth) provider.Auth {
	out := provider.Auth{Kind: a.Kind, User: a.User, Name: a.Name}
	if !a.Secret.IsZero() {
		out.Secret = a.Secret.Read
	}
	return out
}

// schemeOf is how a webhook's requests are signed.
func schemeOf(s links.Signature) (signature.Scheme, error) {
	secret, err := s.Secret.Read()
	if err != nil {
		return nil, err
	}
	layout := signature.Layout{
		Header: s.Header, Stamp: s.StampHeader, Nonce: s.NonceHeader, StampField: s.StampField, SignField: s.SignField,
		Signed: s.Signed, Encoding: s.Encoding,
	}
	keys := strings.Fields(string(secret)) // two while they are being changed
	switch s.Scheme {
	case links.HMACOverURL:
		return signature.HMACOverURL(secret, s.Header, s.Hash)
	case links.HMACOverBody:
		all := make([][]byte, len(keys))
		for i, k := range keys {
			all[i] = []byte(k)
		}
		return signature.HMACOverBody(layout, all...)
	case links.Ed25519OverBody:
		return signature.Ed25519OverBody(layout, keys...)
	}
	return signature.StandardWebhooks(keys...)
}
