package spool

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"
	"unicode/utf8"

	"stubbled/notify"
	"stubbled/notify/sms"
)

// Our own header, which smsd keeps: it tells our files from others'.
const ownHeader = "Stubbled"

// fileMode lets smsd read what we write: Debian's smsd runs with the group
// dialout alone, so the folder's rights keep strangers out, not the file's.
const fileMode = 0o644

// maxText bounds a text, in characters: about ten parts.
const maxText = 1600

// Deliver hands a message to smsd, or finds that it was handed over before.
//
// A crash at any step is safe: before the rename nothing was handed over and
// the next call starts again; after it the name stands in one of the folders
// for as long as done keeps it.
func (s *Spool) Deliver(_ context.Context, e notify.Envelope) notify.Outcome {
	if why := refuse(e); why != "" {
		return notify.Outcome{State: notify.Permanent, Detail: why}
	}
	s.handing.Lock()
	defer s.handing.Unlock()
	where, err := s.find(e.ID)
	if err != nil {
		return down(err)
	}
	if where != "" {
		return s.before(where, e.ID)
	}
	if err := s.hand(e); err != nil {
		return down(err)
	}
	s.o.Log.Info("handed over", "envelope", e.ID, "to", sms.PhoneShort(e.Address))
	return notify.Outcome{State: notify.Sent, Ref: e.ID}
}

// refuse says why no spool file can be made of an envelope; empty where one can.
func refuse(e notify.Envelope) string {
	switch {
	case !goodName(e.ID):
		return fmt.Sprintf("the message's id %.20q cannot be a file's name", e.ID)
	case !sms.IsE164(e.Address):
		return "the number is not written as + and digits; mend it in the farm file"
	case strings.TrimSpace(e.Text) == "" || strings.ContainsRune(e.Text, 0):
		return "the text is empty or holds a NUL"
	case utf8.RuneCountInString(e.Text) > maxText:
		return fmt.Sprintf("the text is longer than %d characters", maxText)
	}
	return ""
}

// find looks for a message in every folder, in the order in which a message
// moves, so that one that moves meanwhile is met all the same.
func (s *Spool) find(id string) (string, error) {
	folders := []string{s.path("outgoing")}
	folders = append(folders, s.o.Queues...)
	folders = append(folders, s.path("sent"), s.path("failed"),
		s.path("done", "sent"), s.path("done", "failed"), s.path("done", "back"), s.path("done", "told"))
	for _, folder := range folders {
		name := filepath.Join(folder, id)
		_, err := os.Lstat(name)
		switch {
		case err == nil:
			return name, nil
		case !errors.Is(err, fs.ErrNotExist):
			return "", err
		}
		if strings.HasPrefix(folder, s.path("done")) {
			continue // ours, made when first needed
		}
		if _, err := os.Stat(folder); err != nil {
			return "", err // it may hide what was handed over
		}
	}
	return "", nil
}

// before says what became of a message that was handed over before.
func (s *Spool) before(where, id string) notify.Outcome {
	folder := filepath.Base(filepath.Dir(where))
	out := notify.Outcome{State: notify.Sent, Ref: id, Detail: "it was handed over before"}
	switch folder {
	case "failed":
		m, err := readMessage(where)
		if err != nil { // it is just being moved
			m, _ = readMessage(s.path("done", "failed", id))
		}
		f := failure(m.header("Fail_reason"))
		out = notify.Outcome{State: notify.Permanent, Ref: id, Code: f.code, Detail: f.detail, Down: f.modem}
	case "back", "told":
		out = notify.Outcome{State: notify.Permanent, Ref: id, Detail: "it was taken back unsent"}
	}
	return out
}

// Gone reports whether a message that was handed over was given to the network;
// the error says why it will not be.
func (s *Spool) Gone(id string) (bool, error) {
	where, err := s.find(id)
	if err != nil || where == "" {
		return false, err
	}
	if out := s.before(where, id); out.State != notify.Sent {
		return false, errors.New(out.Detail)
	}
	return filepath.Base(filepath.Dir(where)) == "sent", nil
}

// hand writes the message beside the spool and moves it in whole.
func (s *Spool) hand(e notify.Envelope) error {
	s.step("start")
	fresh := s.path("done", "new")
	if err := os.MkdirAll(fresh, 0o770); err != nil {
		return err
	}
	temp := filepath.Join(fresh, e.ID)
	if err := writeSynced(temp, s.file(e), s.step); err != nil {
		os.Remove(temp)
		return err
	}
	s.step("written")
	if err := os.Rename(temp, s.path("outgoing", e.ID)); err != nil {
		os.Remove(temp)
		return err
	}
	s.step("moved")
	if err := syncDir(s.path("outgoing")); err != nil {
		return err
	}
	s.step("end")
	return nil
}

// file is the message as smsd reads it.
func (s *Spool) file(e notify.Envelope) []byte {
	alphabet, body := encode(e.Text)
	var b strings.Builder
	fmt.Fprintf(&b, "To: %s\n%s: %s\nAlphabet: %s\nReport: yes\nAutosplit: 3\n", sms.Digits(e.Address), ownHeader, e.ID, alphabet)
	fmt.Fprintf(&b, "Validity: %s\n", validity(s.o.Validity))
	if e.Urgent || e.Answer {
		b.WriteString("Priority: High\n")
	}
	b.WriteString("\n")
	return append([]byte(b.String()), body...)
}

// validity is a period as smsd reads it; it rounds down by itself.
func validity(d time.Duration) string {
	switch {
	case d >= 24*time.Hour && d%(24*time.Hour) == 0:
		return fmt.Sprintf("%d day", d/(24*time.Hour))
	case d >= time.Hour && d%time.Hour == 0:
		return fmt.Sprintf("%d hour", d/time.Hour)
	}
	return fmt.Sprintf("%d min", max(5, d/time.Minute))
}

// writeSynced writes a file so that it is on the disk when it returns.
func writeSynced(name string, data []byte, step func(string)) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC|syscall.O_NOFOLLOW, fileMode)
	if err != nil {
		return err
	}
	step("opened")
	_, err = f.Write(data)
	step("filled")
	if err == nil {
		err = f.Chmod(fileMode) // whatever the umask
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func syncDir(name string) error {
	d, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// down tells a fault of the spool: it is the carrier's, and it passes.
func down(err error) notify.Outcome {
	return notify.Outcome{State: notify.Temporary, Down: true, Detail: mend(err).Error()}
}

// step marks a place between two steps of a handover.
func (s *Spool) step(name string) {
	if s.at != nil {
		s.at(name)
	}
}
