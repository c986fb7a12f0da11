package spool

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// Check proves the spool without sending anything: the folders and the rights
// in them, that they are on one disk, that smsd runs, and how the modem is.
func (s *Spool) Check(context.Context) error {
	if err := s.ready(); err != nil {
		return err
	}
	var errs []error
	for _, folder := range append([]string{s.path("outgoing"), s.path("incoming"), s.path("sent"), s.path("failed")}, s.o.Queues...) {
		errs = append(errs, s.folder(folder))
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	s.looking.Lock()
	s.watch.looked = time.Time{} // look anew
	s.looking.Unlock()
	errs = append(errs, s.readable("pidfile", s.o.PIDFile), s.readable("logfile", s.o.LogFile), s.health())
	return errors.Join(errs...)
}

// folder proves that a file can be moved into a folder and out of it.
func (s *Spool) folder(folder string) error {
	info, err := os.Stat(folder)
	if err != nil {
		return mend(err)
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is no folder", folder)
	}
	if info.Mode()&fs.ModeSticky != 0 && os.Geteuid() != 0 {
		return fmt.Errorf("%s has the sticky bit, so that what smsd writes there cannot be moved away: 'chmod 2770 %s'", folder, folder)
	}
	temp := s.path("done", "new", ".check")
	if err := os.WriteFile(temp, nil, fileMode); err != nil {
		return mend(err)
	}
	defer os.Remove(temp)
	there := filepath.Join(folder, ".stubbled-check"+lockSuffix) // smsd passes over locks
	if err := os.Rename(temp, there); err != nil {
		return mend(err)
	}
	return os.Remove(there)
}

// readable tells of a file of smsd's that is named but may not be read, since
// less of a fault can be told then. A missing one is no fault by itself.
func (s *Spool) readable(what, name string) error {
	if name == "" {
		return nil
	}
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("smsd's %s %s cannot be read: add the user that runs stubbled to the group that owns it", what, name)
	}
	if err == nil {
		f.Close()
	}
	return nil
}
