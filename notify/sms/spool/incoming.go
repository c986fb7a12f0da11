package spool

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms"
)

// settled is how old a file must be before what looks unfinished in it is
// taken for broken.
const settled = time.Minute

// errNotYet is a file that is still being written.
var errNotYet = errors.New("still being written")

// incoming reads the texts and delivery reports that smsd wrote. A file that
// is locked, unfinished or none of smsd's is left alone.
func (s *Spool) incoming() ([]item, error) {
	entries, err := os.ReadDir(s.path("incoming"))
	if err != nil {
		return nil, mend(err)
	}
	var items []item
	var errs []error
	for _, e := range entries {
		name := e.Name()
		if name[0] == '.' || strings.HasSuffix(name, lockSuffix) || strings.HasSuffix(name, "-concatenated") || e.IsDir() {
			continue
		}
		file := s.path("incoming", name)
		m, err := readMessage(file)
		if err == nil && m.short() {
			err = fmt.Errorf("%w: it breaks off", errNotYet)
		}
		if err == nil && m.header("From") == "" {
			err = errors.New("it has no From: header")
		}
		if err != nil {
			it, err := s.oddFile(file, err)
			items, errs = append(items, it...), append(errs, err)
			continue
		}
		if it, ok := s.heard(file, m); ok {
			items = append(items, it)
		}
	}
	return items, errors.Join(errs...)
}

// readMessage opens a regular file, and nothing else, and reads it bounded.
func readMessage(file string) (message, error) {
	if _, err := os.Lstat(file + lockSuffix); err == nil {
		return message{}, errNotYet
	}
	f, err := os.OpenFile(file, os.O_RDONLY|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
	if err != nil {
		return message{}, err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return message{}, errors.Join(errors.New("it is no ordinary file"), err)
	}
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	switch {
	case err != nil:
		return message{}, err
	case len(data) > maxFile:
		return message{}, fmt.Errorf("it is larger than %d octets", maxFile)
	case len(data) == 0:
		return message{}, fmt.Errorf("%w: it is empty", errNotYet)
	}
	return parse(data)
}

// oddFile decides on a file that cannot be taken: it is left while it may
// still change, then set aside. What may not be read stays, and is a fault.
func (s *Spool) oddFile(file string, why error) ([]item, error) {
	if errors.Is(why, fs.ErrNotExist) {
		return nil, nil
	}
	if errors.Is(why, fs.ErrPermission) {
		return nil, fmt.Errorf("%s in the spool cannot be read: set umask = 0007 in smsd.conf, "+
			"and add the user that runs stubbled to the group smsd", filepath.Base(file))
	}
	info, err := os.Lstat(file)
	if err != nil || s.now().Sub(info.ModTime()) < settled {
		return nil, nil
	}
	if _, err := os.Lstat(file + lockSuffix); err == nil {
		return nil, nil // smsd drops its old locks when it starts
	}
	if !s.odd[file] {
		s.odd[file] = true
		s.o.Log.Warn("set aside, not understood", "file", filepath.Base(file), "err", why)
	}
	if !info.Mode().IsRegular() {
		return nil, nil
	}
	return []item{{file: file, to: "odd"}}, nil
}

// heard makes of a file what it says: a text, or news of one of ours. It
// reports false where it must wait.
func (s *Spool) heard(file string, m message) (item, bool) {
	it := item{file: file, to: "heard"}
	if strings.HasPrefix(m.text, reportMark) {
		rep, wait := s.deliveryReport(m, file)
		if wait {
			return item{}, false
		}
		if rep != nil {
			it.got = &notify.Received{ID: "report/" + s.identity(file, m), Report: rep}
		}
		return it, true
	}
	it.got = &notify.Received{
		ID:   "text/" + s.identity(file, m),
		From: s.sender(m),
		Text: strings.TrimRight(m.text, "\r\n\x00"),
		Sent: s.stamp(m.header("Sent")),
	}
	return it, true
}

// sender is who sent it: smsd writes international numbers without a plus and
// tells the kind of number apart.
func (s *Spool) sender(m message) string {
	from := m.header("From")
	switch toa := m.header("From_TOA"); {
	case strings.HasPrefix(toa, "D0") || sms.Digits(from) != from:
		return from // a name
	case strings.HasPrefix(toa, "91"), strings.HasPrefix(toa, "90"):
		if n := "+" + from; sms.IsE164(n) {
			return n
		}
		return from
	}
	return sms.Normal(from, s.o.Region)
}

// identity tells a message from any other: by its sender, the network's stamp
// and its text, so that one that smsd read twice from the SIM is one; by its
// file where there is no stamp.
func (s *Spool) identity(file string, m message) string {
	h := sha256.New()
	key := cmp.Or(m.header("Sent"), filepath.Base(file)+"\x00"+m.header("Received"))
	fmt.Fprintf(h, "%s\x00%s\x00%s", m.header("From"), key, m.text)
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// stamp reads smsd's date: its default format, in the spool's zone; zero where
// it is none.
func (s *Spool) stamp(text string) time.Time {
	for _, layout := range []string{"06-01-02 15:04:05", time.DateTime} {
		if t, err := time.ParseInLocation(layout, text, s.o.Zone); err == nil {
			return t
		}
	}
	return time.Time{}
}
