package daemon

import (
	"fmt"
	"io"
	"log/slog"
	"os"
	"regexp"
	"strings"
	"syscall"

	"stubbled/notify/email"
	"stubbled/notify/sms"
)

// InJournal reports whether what is written is kept by the service manager, and
// not only a variable left over in somebody's terminal (systemd.exec(5)).
func InJournal() bool {
	var s syscall.Stat_t
	return syscall.Fstat(int(os.Stderr.Fd()), &s) == nil && os.Getenv("JOURNAL_STREAM") == fmt.Sprintf("%d:%d", s.Dev, s.Ino)
}

// A graded writer marks each line of a log with how grave it is, as a journal
// wants it (sd-daemon(3)): journalctl -p warning shows what to look at.
type graded struct{ io.Writer }

func (g graded) Write(line []byte) (int, error) {
	level, _, _ := strings.Cut(strings.TrimPrefix(string(line), "level="), " ")
	mark, ok := map[string]string{"ERROR": "<3>", "WARN": "<4>", "DEBUG": "<7>"}[level]
	if !ok {
		mark = "<6>"
	}
	_, err := g.Writer.Write(append([]byte(mark), line...))
	return len(line), err
}

// LastWords is why the program ends, for a person or for the journal.
func LastWords(err error) string {
	text := "stubbled: " + err.Error()
	if !InJournal() {
		return text
	}
	return "<3>" + strings.ReplaceAll(Discreet(text), "\n", "\n<3>")
}

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
	if InJournal() {
		w = graded{w}
	}
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
