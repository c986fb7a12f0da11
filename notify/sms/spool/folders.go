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

// The folders of done.
var doneFolders = []string{"new", "sent", "failed", "back", "told", "heard", "odd"}

// ready makes done's folders; the spool's own are smsd's and must be there.
func (s *Spool) ready() error {
	for _, name := range []string{"outgoing", "incoming", "sent", "failed"} {
		if _, err := os.Stat(s.path(name)); err != nil {
			return mend(err)
		}
	}
	for _, name := range doneFolders {
		if err := os.MkdirAll(s.path("done", name), 0o770); err != nil {
			return mend(err)
		}
	}
	return nil
}

// archive moves a file to a folder of done. smsd may use a name again; another
// file of that name is kept beside it.
func (s *Spool) archive(file, to string) error {
	name := filepath.Base(file)
	target := s.path("done", to, name)
	for i := 2; ; i++ {
		if _, err := os.Lstat(target); err != nil {
			break
		}
		target = s.path("done", to, fmt.Sprintf("%s.%d", name, i))
	}
	return os.Rename(file, target)
}

// ours names the files of a folder that may be messages of ours.
func ours(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, mend(err)
	}
	for _, e := range entries {
		if e.Type().IsRegular() && goodName(e.Name()) {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// purge drops what done has kept long enough, and what a handover that was
// cut short left in new. It looks once an hour.
func (s *Spool) purge() {
	now := s.now()
	if now.Sub(s.watch.purged).Abs() < time.Hour {
		return
	}
	s.watch.purged = now
	for _, folder := range doneFolders {
		keep := s.o.Keep
		if folder == "new" {
			keep = 24 * time.Hour
		}
		entries, err := os.ReadDir(s.path("done", folder))
		if err != nil {
			continue
		}
		for _, e := range entries {
			file := s.path("done", folder, e.Name())
			if info, err := e.Info(); err == nil && e.Type() == fs.FileMode(0) && s.age(file, info) > keep {
				os.Remove(file)
			}
		}
	}
}

// wild is an age that no file has: a clock runs wild, or did as it was written.
const wild = 60 * 24 * time.Hour

// age is how long ago a file was written. What looks older than can be, or younger,
// is dated anew: or a wild clock would take back what was handed over a minute ago,
// and forget that it was.
func (s *Spool) age(file string, info fs.FileInfo) time.Duration {
	now := s.now()
	if age := now.Sub(info.ModTime()); age.Abs() < wild {
		return age
	}
	_ = os.Chtimes(file, now, now) // one that smsd wrote stays as it is, and is kept
	return 0
}

// mend puts a file system's error in plain words with what to do about it.
func mend(err error) error {
	var at *fs.PathError
	where := "the spool"
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		where = at.Path
	case errors.As(err, &link):
		where = link.New
	}
	switch folder := filepath.Dir(where); {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("the disk that holds %s is full: make room (%w)", folder, err)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be written: add the user that runs stubbled to the group smsd, "+
			"and give the spool's folders mode 2770, without the sticky bit (%w)", folder, err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s is missing: make the spool's folders as the README says, and name the same ones in smsd.conf (%w)", where, err)
	case errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s cannot be written: its file system is read-only, or the unit lacks ReadWritePaths= for it (%w)", folder, err)
	case errors.Is(err, syscall.EXDEV):
		return fmt.Errorf("%s is on another disk than the rest of the spool: all of its folders must be on one file system (%w)", folder, err)
	}
	return fmt.Errorf("%s: %w", where, err)
}

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
