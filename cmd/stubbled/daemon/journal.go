package daemon

import (
	"io"
	"log/slog"
	"os"
	"regexp"

	"stubbled/notify/email"
	"stubbled/notify/sms"
)

// InJournal reports whether what is written is kept by the service manager.
func InJournal() bool { return os.Getenv("JOURNAL_STREAM") != "" }

// Logger writes for the journal where there is one, else for a person. Phone
// numbers and addresses are shortened, whoever logs them.
func Logger(w io.Writer) *slog.Logger {
	o := &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		switch {
		case a.Key == slog.TimeKey && InJournal(): // which has the time
			return slog.Attr{}
		case a.Key == slog.TimeKey:
			return a
		case a.Key == "phone": // however it is written
			return slog.String(a.Key, sms.PhoneShort(a.Value.String()))
		}
		if text := a.Value.String(); Discreet(text) != text {
			return slog.String(a.Key, Discreet(text))
		}
		return a
	}}
	return slog.New(slog.NewTextHandler(w, o))
}

// A whole number and a mail address within words, such as those of an error.
var (
	phone   = regexp.MustCompile(`\+[1-9][0-9]{6,14}\b`)
	address = regexp.MustCompile(`[^\s<>"(),:;@\[\]]+@[^\s<>"(),:;@\[\]]+`)
)

// Discreet shortens the numbers and addresses in a text, for where it is kept.
func Discreet(text string) string {
	return address.ReplaceAllStringFunc(phone.ReplaceAllStringFunc(text, sms.PhoneShort), email.Short)
}
