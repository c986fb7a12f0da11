package main

import (
	"log/slog"
	"os"
	"regexp"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/config"
	"stubbled/notify/email"
	"stubbled/notify/sms"
)

// inJournal reports whether what is written is kept by the service manager.
func inJournal() bool { return os.Getenv("JOURNAL_STREAM") != "" }

// logger writes for the journal where there is one, else for a person. Phone
// numbers and addresses are shortened, whoever logs them.
func logger(e *env) *slog.Logger {
	o := &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		switch {
		case a.Key == slog.TimeKey && inJournal(): // which has the time
			return slog.Attr{}
		case a.Key == slog.TimeKey:
			return a
		case a.Key == "phone": // however it is written
			return slog.String(a.Key, sms.PhoneShort(a.Value.String()))
		}
		if text := a.Value.String(); discreet(text) != text {
			return slog.String(a.Key, discreet(text))
		}
		return a
	}}
	return slog.New(slog.NewTextHandler(e.err, o))
}

// links is what the carriers are made with.
func (e *env) links(farm func() *config.Farm, run string) carriers.Options {
	return carriers.Options{Farm: farm, Now: e.clock.Now, In: e.in, Out: e.out, Run: run, Log: logger(e)}
}

// A whole number and a mail address within words, such as those of an error.
var (
	phone   = regexp.MustCompile(`\+[1-9][0-9]{6,14}\b`)
	address = regexp.MustCompile(`[^\s<>"(),:;@\[\]]+@[^\s<>"(),:;@\[\]]+`)
)

// discreet shortens the numbers and addresses in a text, for where it is kept.
func discreet(text string) string {
	return address.ReplaceAllStringFunc(phone.ReplaceAllStringFunc(text, sms.PhoneShort), email.Short)
}
