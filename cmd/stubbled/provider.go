package main

import (
	"math"
	"net"
	"strings"

	"stubbled/config"
	"stubbled/notify/sms/provider"
	"stubbled/notify/sms/signature"
	"stubbled/notify/weather"
)

// provider is a texting service over HTTP, as the farm file describes it.
func (l *links) provider(e *env, farm *config.Farm) error {
	c := farm.Carriers.SMS.HTTP
	o := provider.Options{
		Name: "sms", URL: c.URL, Method: c.Method, Encoding: c.Encoding, Auth: authOf(c.Auth), Success: c.Success,
		IDPath: c.IDPath, StatusPath: c.StatusPath, ErrorPath: c.ErrorPath, StatusMap: map[string]provider.Status{},
		Idempotency: c.Idempotency, Timeout: c.Timeout, Every: c.Every, Log: logger(e),
	}
	for _, f := range c.Fields {
		o.Fields = append(o.Fields, provider.Field{Name: f.Name, Value: f.Value})
	}
	for word, meaning := range c.StatusMap {
		o.StatusMap[word] = provider.Status(meaning)
	}
	if p := c.Poll; p != nil {
		o.Poll = &provider.Poll{
			URL: p.URL, Every: p.Every, List: p.ListPath, Cursor: p.Cursor,
			Paths: provider.Paths{ID: p.IDPath, From: p.FromPath, Text: p.TextPath, Sent: p.SentPath},
		}
	}
	if w := c.Webhook; w != nil {
		hook, err := webhookOf(w)
		if err != nil {
			return err
		}
		o.Webhook = hook
	}
	p, err := provider.New(o, e.clock.Now)
	if err != nil {
		return err
	}
	l.carriers = append(l.carriers, p)
	if c.Poll != nil || c.Webhook != nil {
		l.receivers = append(l.receivers, p)
	}
	return nil
}

func authOf(a config.Auth) provider.Auth {
	out := provider.Auth{Kind: a.Kind, User: a.User, Name: a.Name}
	if !a.Secret.IsZero() {
		out.Secret = a.Secret.Read
	}
	return out
}

func webhookOf(w *config.Webhook) (*provider.Webhook, error) {
	scheme, err := schemeOf(w)
	if err != nil {
		return nil, err
	}
	host, _, _ := net.SplitHostPort(w.Listen)
	ip := net.ParseIP(host)
	return &provider.Webhook{
		Listen: w.Listen, Beyond: host != "localhost" && (ip == nil || !ip.IsLoopback()), Path: w.Path, PublicURL: w.PublicURL, Scheme: scheme,
		Paths: provider.Paths{ID: w.IDPath, From: w.FromPath, Text: w.TextPath, Sent: w.SentPath},
	}, nil
}

// schemeOf is how a webhook's requests are signed.
func schemeOf(w *config.Webhook) (signature.Scheme, error) {
	secret, err := w.Secret.Read()
	if err != nil {
		return nil, err
	}
	keys := strings.Fields(string(secret)) // two while they are being changed
	switch w.Scheme {
	case "hmac-sha1-url":
		return signature.NewParams(secret, w.Header, "sha1")
	case "hmac-sha256-body":
		all := make([][]byte, len(keys))
		for i, k := range keys {
			all[i] = []byte(k)
		}
		return signature.NewStamped(signature.Layout{Header: w.Header}, all...)
	case "ed25519":
		return signature.NewStampedEd25519(signature.Layout{Header: w.Header}, keys...)
	}
	return signature.NewStandard(keys...)
}

// weather is where temperatures come from besides people and the station's own
// record, which the farm file's watcher reads again.
func (l *links) weather(e *env, farm *config.Farm) error {
	if farm.Weather.Log != "" {
		t, err := weather.NewThermometer(weather.Log{Path: farm.Weather.Log, Place: farm.Name, Zone: farm.Zone, Every: farm.Weather.Every}, e.clock.Now)
		if err != nil {
			return err
		}
		l.sources = append(l.sources, t)
	}
	c := farm.Weather.Service
	if c == nil {
		return nil
	}
	feed := weather.Feed{Base: c.URL, Contact: c.Contact, Station: c.Station, Lat: math.NaN(), Lon: math.NaN()}
	if c.HasSpot {
		feed.Lat, feed.Lon = c.Lat, c.Lon
	}
	s, err := weather.NewService(feed, e.clock.Now)
	if err != nil {
		return err
	}
	l.sources = append(l.sources, s)
	return nil
}
