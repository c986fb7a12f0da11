package spool

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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
			if info, err := e.Info(); err == nil && e.Type() == fs.FileMode(0) && now.Sub(info.ModTime()) > keep {
				os.Remove(s.path("done", folder, e.Name()))
			}
		}
	}
}
