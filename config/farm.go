package config

import (
	"net"
	"slices"

	"stubbled/config/links"
	"stubbled/config/settings"
	"stubbled/config/values"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
)

// Units is what lengths are shown in and what a bare number in a text means.
type Units string

const (
	Inches      Units = "inches"
	Centimetres Units = "centimetres"
)

// Farm is a farm file that was read and checked whole. It never changes.
type Farm struct {
	season.Farm

	Was     string // the name that its database was begun under; empty where it never changed
	Units   Units
	Morning ladder.TimeOfDay // when the day's reminders go out
	Cap     int              // texts a contact a day, reserve aside

	Contacts []ladder.Contact // in file order, which is the order in which they are added
	Rungs    []ladder.Rung    // farthest from the cutoff first
	Tell     ladder.Tell

	Carriers links.Carriers
	Weather  links.Weather
	Backup   Backup
	Board    *Board // nil: there is none

	File    string // the farm file's path
	Station string // the station file's path; empty for a date by hand
	From    string // where it is fetched anew each night; empty: nowhere
	Digest  string // changes if and only if the meaning of the file or its record does
	// Warnings are things to look at that stop nothing.
	Warnings settings.Problems

	settings []settings.Setting
	text     []byte
	rules    map[string]int // the line of a paddock's own rest, else of its id
}

// RuleLine is the line of the farm file where a paddock's own rule stands, or goes.
func (f *Farm) RuleLine(paddock string) int { return f.rules[paddock] }

// Text is the farm file as it was read, for LoadText.
func (f *Farm) Text() []byte { return f.text }

// Contact finds one by name, without regard to case and spaces.
func (f *Farm) Contact(name string) (*ladder.Contact, bool) {
	key := values.Fold(name)
	for i := range f.Contacts {
		if values.Fold(f.Contacts[i].Name) == key {
			return &f.Contacts[i], true
		}
	}
	return nil, false
}

// FirstManager is the first manager of the file, or its first contact where it has
// none.
func (f *Farm) FirstManager() *ladder.Contact {
	i := slices.IndexFunc(f.Contacts, ladder.Contact.Manager)
	return &f.Contacts[max(i, 0)]
}

// Backup is where and when the database is copied. How many copies are kept is
// the store's own rule.
type Backup struct {
	Dir string           `key:"dir"` // empty is beside the database
	At  ladder.TimeOfDay `key:"at" as:"time" default:"02:30"`
}

// Board is the page on the machine itself.
type Board struct {
	Listen string `key:"listen" as:"listen" default:"127.0.0.1:8826"` // host:port
}

// Judge keeps it to this machine: whoever sees it sees the farm.
func (b *Board) Judge(r *settings.Reading, e *settings.Entry) {
	if host, _, _ := net.SplitHostPort(b.Listen); b.Listen != "" && !values.Loopback(host) {
		r.Say(e.Get("listen"), "%q can be reached from other machines, and the board asks for no password; keep 127.0.0.1, and put a reverse proxy with a password and TLS before it that calls it by that name", values.Clip(b.Listen))
	}
}
