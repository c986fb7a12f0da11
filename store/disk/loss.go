package disk

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

// The lock file says, behind the pid, that the database was used, and that it is
// in use: the log of a database in use is always there, so that one which is gone
// was deleted.
const (
	used  = "used\n"
	inUse = used + "in use\n"
)

// Loss is ErrLost, with the mend, where the log of the last writes was deleted or
// damaged. It is noted beside the database until Forget. Nil where nothing was
// lost, as far as can be told.
func (d *DB) Loss() error { return d.loss }

// Forget ends the Loss: whom it concerns was told. Where the note of it
// cannot be removed it is told once more after the next start.
func (d *DB) Forget() {
	d.loss = nil
	if err := os.Remove(d.lossNote()); err != nil && !errors.Is(err, os.ErrNotExist) {
		d.log.Warn("the note of a loss that was told cannot be removed", "err", err)
	}
}

// NotedLoss is what is noted as lost of a database, for those who only look; empty
// where nothing is.
func NotedLoss(path string) string {
	noted, err := os.ReadFile(behindLinks(path) + lossEnd)
	if err != nil {
		return ""
	}
	return string(noted)
}

const lossEnd = ".lost"

func (d *DB) lossNote() string { return d.path + lossEnd }

// lookBack must run before the database is opened, which takes up the log.
func (d *DB) lookBack() error {
	wal := d.path + "-wal"
	lost := ""
	if _, mark := readLock(d.lock); mark == inUse && !exists(wal) && exists(d.path) {
		lost = "the last run was cut off and its log, the file ending in -wal, is gone"
	}
	n, err := lostCommits(wal)
	if err != nil {
		return d.explainFile("read the log", err)
	}
	if n > 1 {
		lost = fmt.Sprintf("the log of the last writes is damaged; %d writes behind the damage are lost", n)
	}
	if err := d.remember(lost); err != nil {
		return err
	}
	if n > 1 {
		d.keepLog(wal)
	}
	if d.loss != nil {
		d.log.Error("something may be lost", "err", d.loss)
	}
	return nil
}

// remember notes a loss beside the database, or finds the one noted before. One
// that cannot be noted is no start: the next one would not see it.
func (d *DB) remember(lost string) error {
	if lost == "" {
		noted, err := os.ReadFile(d.lossNote())
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return d.explainFile("look for a loss", err)
		}
		lost = string(noted)
	} else if err := WriteWhole(d.lossNote(), []byte(lost)); err != nil {
		return d.explainFile("note a loss", err)
	}
	if lost != "" {
		d.loss = &Error{Kind: ErrLost, Op: "open", Path: d.path, Err: errors.New(lost)}
	}
	return nil
}

// emptied reports a database that is gone or an empty file, though it was used:
// the lock file beside it says so. To go on with a new one would lose everything
// without a word.
func emptied(path string) error {
	fi, err := os.Stat(path)
	what := "gone"
	if err == nil {
		what = "an empty file"
	}
	if err == nil && fi.Size() > 0 || err != nil && !errors.Is(err, os.ErrNotExist) || !usedBefore(path) {
		return nil
	}
	return &Error{Kind: ErrDamaged, Op: "open", Path: path,
		Err: fmt.Errorf("it was in use and is %s; to begin with an empty diary remove %s%s", what, path, lockEnd)}
}

// NeverUsed reports whether a database was not written yet.
func NeverUsed(path string) bool {
	path = behindLinks(path)
	fi, err := os.Stat(path)
	return (errors.Is(err, os.ErrNotExist) || err == nil && fi.Size() == 0) && emptied(path) == nil
}

// keepLog keeps a copy of a damaged log for those who may still read it.
func (d *DB) keepLog(wal string) {
	to := wal + ".damaged"
	if err := copyFile(wal, to); err != nil {
		d.log.Warn("the damaged log cannot be copied", "to", to, "err", err)
		return
	}
	d.log.Info("the damaged log was copied", "to", to)
}

// atRest takes back that the database is in use.
func (d *DB) atRest() error {
	if _, mark := readLock(d.lock); strings.HasPrefix(mark, used) {
		return d.mark(used)
	}
	return d.mark("")
}

// usedBefore reports whether a database was ever written.
func usedBefore(path string) bool {
	f, err := os.Open(path + lockEnd)
	if err != nil {
		return false
	}
	defer f.Close()
	_, mark := readLock(f)
	return strings.HasPrefix(mark, used)
}
