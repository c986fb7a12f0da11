package spool

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

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
	folder := filepath.Dir(where)
	switch {
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
