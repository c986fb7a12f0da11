// Package carriers ties the daemon to the world outside: it makes the carriers,
// receivers and weather sources that a farm file describes. It sends and hears
// nothing by itself. What cannot be made, since a secret is missing or a setting
// is wrong, is named with its mend, and the others go on without it.
package carriers

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"time"

	"stubbled/config"
	"stubbled/config/links"
	"stubbled/notify"
	"stubbled/notify/console"
	"stubbled/notify/sms/spool"
	"stubbled/scheduler/ladder"
)

// Options is what carriers are made with.
type Options struct {
	Farm func() *config.Farm // the one in force, which may change
	Now  func() time.Time
	Sure func() bool // whether Now may be believed; nil: always
	In   io.Reader   // the console
	Out  io.Writer
	Run  string // makes the console's lines unlike those of any other run
	Log  *slog.Logger
}

// Links is everything that ties the daemon to the world outside.
type Links struct {
	Carriers  []notify.Carrier
	Receivers []notify.Receiver
	Sources   []notify.Source
	Broken    []Broken
	secrets   [sha256.Size]byte // of those that were read for good
}

// Broken is a link that cannot be made as the farm file and its secrets are: the
// others go on without it.
type Broken struct {
	What   string        // the alarm's word
	Medium ladder.Medium // by which nobody can be told; empty for none
	Err    error         // where in the farm file, and the mend
}

// without notes what cannot be made.
func (l *Links) without(what string, m ladder.Medium, where string, err error) {
	if err != nil {
		l.Broken = append(l.Broken, Broken{what, m, fmt.Errorf("%s: %w", where, err)})
	}
}

// Rules are what the courier needs of the farm file.
func Rules(farm *config.Farm) notify.Rules {
	return notify.Rules{
		Farm: farm.Name, Zone: farm.Zone, Contacts: farm.Contacts, Cap: farm.Cap,
		Centimetres: farm.Units == config.Centimetres, Stock: farm.OtherStock(),
	}
}

// Media are the ways in which a farm speaks.
func Media(farm *config.Farm) []ladder.Medium {
	media := []ladder.Medium{ladder.Text, ladder.Mail}
	if farm.Carriers.Call != nil {
		media = append(media, ladder.Call)
	}
	return media
}

// Name is what a medium travels by.
func Name(farm *config.Farm, m ladder.Medium) string {
	switch {
	case m == ladder.Call:
		return "call"
	case m == ladder.Mail && farm.Carriers.Email != nil:
		return "email"
	case m == ladder.Text && farm.Carriers.SMS.Via != "" && farm.Carriers.SMS.Via != links.Console:
		return "sms"
	}
	return "console"
}

// Connect makes the carriers of a farm file. A farm without any speaks on the
// console.
func Connect(o Options) Links {
	farm := o.Farm()
	var l Links
	l.secrets, _ = secretsOf(farm)
	screen := console.NewScreen(o.Out, farm.Zone)
	if Name(farm, ladder.Text) == "console" {
		l.Carriers = append(l.Carriers, console.Phone{Out: screen, For: ladder.Text, Called: "console"})
		l.Receivers = append(l.Receivers, console.Lines{
			In: o.In, Out: screen, Run: o.Run, Now: o.Now,
			Address: func(name string) (string, bool) { return Address(o.Farm(), name) },
		})
	}
	if Name(farm, ladder.Mail) == "console" {
		l.Carriers = append(l.Carriers, console.Phone{Out: screen, For: ladder.Mail, Called: "console-mail"})
	}
	switch farm.Carriers.SMS.Via {
	case links.Spool:
		s := spool.New(spool.Options{Spool: farm.Carriers.SMS.Spool.Spool, Zone: farm.Zone, Log: o.Log}, o.Now)
		l.Carriers, l.Receivers = append(l.Carriers, s), append(l.Receivers, s)
	case links.HTTP:
		l.without(ladder.AlarmSMSDown, ladder.Text, "carriers.sms", l.provider(o, ladder.Text, "carriers.sms.http", farm.Carriers.SMS.HTTP))
	}
	if c := farm.Carriers.Call; c != nil {
		l.without(ladder.AlarmCallsDown, ladder.Call, "carriers.call", l.provider(o, ladder.Call, "carriers.call", c))
	}
	if c := farm.Carriers.Email; c != nil {
		l.mail(o, *c)
	}
	l.weather(o)
	return l
}

// OtherSecrets reports whether a farm's secrets are others than those that the links
// were made with. While one of them cannot be read it is being written.
func (l Links) OtherSecrets(farm *config.Farm) bool {
	now, whole := secretsOf(farm)
	return whole && now != l.secrets
}

// secretsOf is a digest of the secrets that are read once; whole is false where one
// could not be.
func secretsOf(farm *config.Farm) (sum [sha256.Size]byte, whole bool) {
	var all []byte
	whole = true
	for _, secret := range farm.Carriers.Kept() {
		data, err := secret.Read()
		whole = whole && err == nil
		one := sha256.Sum256(data)
		all = append(all, one[:]...)
	}
	return sha256.Sum256(all), whole
}

// OnConsole lists the media that somebody is to be reached by and that are only
// printed. Under a service manager that is a journal, and nobody has a phone there.
func (l Links) OnConsole(farm *config.Farm) (all []ladder.Medium) {
	for _, c := range l.Carriers {
		_, printed := c.(console.Phone)
		reached := func(who ladder.Contact) bool { return who.Address(c.Medium()) != "" }
		if printed && slices.ContainsFunc(farm.Contacts, reached) {
			all = append(all, c.Medium())
		}
	}
	return all
}

// Address is how a contact is reached: the phone, else the mailbox.
func Address(farm *config.Farm, name string) (string, bool) {
	c, ok := farm.Contact(name)
	if !ok {
		return "", false
	}
	address := cmp.Or(c.Phone, c.Email)
	return address, address != ""
}
