package disk

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

func (d *DB) reserve() string { return d.path + reserveEnd }

// Trouble is why the last write failed, or ErrFull while the disk is full and
// the store lives on its reserve; nil where all is well.
func (d *DB) Trouble() error {
	if err := d.trouble.Load(); err != nil {
		return *err
	}
	if d.lock != nil && !d.volatile && !exists(d.reserve()) {
		return &Error{Kind: ErrFull, Op: "keep a reserve", Path: d.path}
	}
	return nil
}

// wrote notes how a write went. The first that finds the disk full gives the
// reserve back; the write itself failed, and whoever asked for it comes again.
func (d *DB) wrote(err error) {
	var e *Error
	if !errors.As(err, &e) { // a decision that failed is no trouble of the disk
		d.trouble.Store(nil)
		return
	}
	d.trouble.Store(&err)
	if errors.Is(err, ErrFull) {
		d.giveBack(err)
	}
}

// giveBack gives the reserve back where there is one.
func (d *DB) giveBack(why error) {
	if d.lock != nil && os.Remove(d.reserve()) == nil {
		d.log.Error("the disk is full: the reserve was given back to go on for a while", "err", why)
	}
}

// Refill makes the reserve where it is missing and there is room for it and as
// much again: or it would take back at once what it was given up for.
func (d *DB) Refill() {
	if d.lock == nil || d.volatile || exists(d.reserve()) {
		return
	}
	var disk syscall.Statfs_t
	if err := syscall.Statfs(filepath.Dir(d.path), &disk); err == nil && disk.Bavail*uint64(disk.Bsize) < 2*reserveSize {
		return
	}
	if err := WriteWhole(d.reserve(), bytes.Repeat([]byte("kept free\n"), reserveSize/10)); err != nil {
		d.log.Warn("no room for the reserve", "err", err)
	}
}
