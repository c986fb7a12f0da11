package spool

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"stubbled/notify"
)

// watch is what health remembers between two looks.
type watch struct {
	first   map[string]time.Time // when a waiting file was first seen, by name
	state   state
	stateAt time.Time // when it was written
	bad     time.Time // since when the modem's state is bad
	purged  time.Time
	looked  time.Time
	last    error
}

// waiting names our messages that smsd has not sent yet, by folder.
func (s *Spool) waiting() (files []string, err error) {
	for _, folder := range append([]string{s.path("outgoing")}, s.o.Queues...) {
		names, err := ours(folder)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			files = append(files, filepath.Join(folder, name))
		}
	}
	return files, nil
}

// longest is how long a message has been waiting while this program looked
// on; what waited while the machine was off does not count.
func (s *Spool) longest(files []string, now time.Time) (longest time.Duration, folder string) {
	seen := map[string]time.Time{}
	for _, file := range files {
		name := filepath.Base(file)
		first, ok := s.watch.first[name]
		if !ok || first.After(now) || now.Sub(first) > wild {
			first = now
		}
		seen[name] = first
		if d := now.Sub(first); d >= longest {
			longest, folder = d, filepath.Base(filepath.Dir(file))
		}
	}
	s.watch.first = seen
	return longest, folder
}

// takeBack withdraws our messages that waited too long, so that nothing is
// said late that is no longer true. It keeps to smsd's own locks.
func (s *Spool) takeBack() ([]item, error) {
	if s.o.TakeBack < 0 {
		return nil, nil
	}
	files, err := s.waiting()
	if err != nil {
		return nil, err
	}
	s.handing.Lock()
	defer s.handing.Unlock()
	var errs []error
	for _, file := range files {
		info, err := os.Lstat(file)
		if err != nil || s.age(file, info) < s.o.TakeBack {
			continue
		}
		if m, err := readMessage(file); err != nil || m.header(ownHeader) != filepath.Base(file) {
			continue
		}
		errs = append(errs, s.withdraw(file))
	}
	back, err := s.takenBack()
	return back, errors.Join(append(errs, err)...)
}

// withdraw locks a waiting file as smsd would and moves it away.
func (s *Spool) withdraw(file string) error {
	lock, err := os.OpenFile(file+lockSuffix, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if errors.Is(err, fs.ErrExist) {
		return nil // smsd has it
	}
	if err != nil {
		return mend(err)
	}
	lock.Close()
	defer os.Remove(file + lockSuffix)
	if err = os.Rename(file, s.path("done", "back", filepath.Base(file))); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return mend(err)
	}
	s.o.Log.Warn("taken back unsent", "envelope", filepath.Base(file))
	return nil
}

// takenBack tells of what was withdrawn, also before a crash; what is told
// moves on to done/told.
func (s *Spool) takenBack() ([]item, error) {
	entries, err := os.ReadDir(s.path("done", "back"))
	if err != nil {
		return nil, mend(err)
	}
	var items []item
	for _, e := range entries {
		id := e.Name()
		items = append(items, item{file: s.path("done", "back", id), to: "told", got: &notify.Received{
			ID: "back/" + id,
			Report: &notify.Report{EnvelopeID: id, Permanent: true,
				Detail: "taken back unsent: smsd had not sent it after " + inWords(s.o.TakeBack)},
		}})
	}
	return items, nil
}

// inWords is a period as a person says it.
func inWords(d time.Duration) string {
	if d >= 2*time.Hour {
		return fmt.Sprintf("%d h", int(d.Hours()+0.5))
	}
	return fmt.Sprintf("%d min", int(d.Minutes()+0.5))
}
