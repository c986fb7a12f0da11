package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"syscall"
)

// reserveSize is what is kept free for the day the disk is full: enough for
// some hundred commits, so that the alarm can be written down and said.
const reserveSize = 2 << 20

const reserveEnd = ".reserve"

func (s *Store) reserve() string { return s.path + reserveEnd }

// Trouble is why the last write failed, or ErrFull while the disk is full and
// the store lives on its reserve; nil where all is well.
func (s *Store) Trouble() error {
	if err := s.trouble.Load(); err != nil {
		return *err
	}
	if s.lock != nil && !s.volatile && !exists(s.reserve()) {
		return &Error{Kind: ErrFull, Op: "keep a reserve", Path: s.path}
	}
	return nil
}

// wrote notes how a write went. The first that finds the disk full gives the
// reserve back; the write itself failed, and whoever asked for it comes again.
func (s *Store) wrote(err error) {
	var e *Error
	if !errors.As(err, &e) { // a decision that failed is no trouble of the disk
		s.trouble.Store(nil)
		return
	}
	s.trouble.Store(&err)
	if errors.Is(err, ErrFull) {
		s.giveBack(err)
	}
}

// giveBack gives the reserve back where there is one.
func (s *Store) giveBack(why error) {
	if s.lock != nil && os.Remove(s.reserve()) == nil {
		s.log.Error("the disk is full: the reserve was given back to go on for a while", "err", why)
	}
}

// refill makes the reserve where it is missing and there is room for it and as
// much again: or it would take back at once what it was given up for.
func (s *Store) refill() {
	if s.lock == nil || s.volatile || exists(s.reserve()) {
		return
	}
	var disk syscall.Statfs_t
	if err := syscall.Statfs(filepath.Dir(s.path), &disk); err == nil && disk.Bavail*uint64(disk.Bsize) < 2*reserveSize {
		return
	}
	if err := WriteWhole(s.reserve(), bytes.Repeat([]byte("kept free\n"), reserveSize/10)); err != nil {
		s.log.Warn("no room for the reserve", "err", err)
	}
}
