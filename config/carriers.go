package config

import (
	"fmt"
	"strings"
)

// Via is what takes texts out and in.
type Via string

// The ways of a text.
const (
	Console Via = "console" // this terminal
	Spool   Via = "spool"   // the folders of an SMS server that drives a modem
	HTTP    Via = "http"    // a provider over HTTP
)

// Carriers is how words travel. Without any, everything speaks on the console.
type Carriers struct {
	SMS   SMS
	Email *Email // nil where mail speaks on the console
}

// SMS is how texts travel.
type SMS struct {
	Via   Via
	Spool SpoolFolders // where Via is Spool
	HTTP  *HTTPCarrier // where Via is HTTP
}

// carriers reads how words travel.
func (l *loader) carriers() {
	c := &l.farm.Carriers
	c.SMS = l.sms(l.root.at("carriers.sms"))
	if e := l.root.at("carriers.email"); e != nil {
		c.Email = l.email(e)
	}
}

func (l *loader) sms(e *entry) SMS {
	s := SMS{Via: Console}
	if via, ok := read(l, e.get("via"), parseVia); ok {
		s.Via = via
	}
	for _, part := range []Via{Spool, HTTP} {
		if at := e.get(string(part)); at != nil && at.from == fromFile && s.Via != part {
			l.say(at, "is written, but texts go via %s; write via: %s or take it out", s.Via, part)
		}
	}
	switch s.Via {
	case Spool:
		s.Spool = l.spool(l.opened("carriers.sms.spool"))
	case HTTP:
		h := e.get("http")
		l.required(e, "http", "the provider's url and fields; the example farm file shows them")
		if h != nil {
			s.HTTP = l.http(h)
		}
	}
	return s
}

func parseVia(text string) (Via, error) {
	switch v := Via(strings.ToLower(strings.TrimSpace(text))); v {
	case Console, Spool, HTTP:
		return v, nil
	}
	return "", fmt.Errorf("want console, spool or http, got %q%s", clip(text), orOneOf(text, []string{"console", "spool", "http"}))
}
