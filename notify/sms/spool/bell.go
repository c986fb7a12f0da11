package spool

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// quiet is how often the folders are looked at while the kernel tells of each
// file: for what only time changes, and for a watch that died without a word.
const quiet = 30 * time.Second

// settling is how long a ring waits for the next: a message comes in several
// writes.
const settling = 20 * time.Millisecond

// late is how much later than the look that found a file its ring may come.
const late = time.Second

// A bell rings when a file comes into a folder of the spool. It may be silent
// where it should ring (the kernel refuses the watch, or another machine wrote
// the file), so the folders are looked at by the clock as well.
type bell struct {
	open    func() (*fsnotify.Watcher, error)
	w       *fsnotify.Watcher // nil: there is none
	folders []string
	deaf    bool   // a look by the clock found what no ring had told of
	why     string // the last reason why folders cannot be watched
}

// hang watches the folders, also those that were deleted and made again, and
// says why they cannot be watched. To watch one twice does nothing.
func (b *bell) hang(folders ...string) error {
	if b.w == nil {
		w, err := b.open()
		if err != nil {
			return err
		}
		b.w = w
	}
	b.folders = folders
	var errs []error
	for _, folder := range folders {
		errs = append(errs, b.w.Add(folder))
	}
	if err := errors.Join(errs...); err != nil {
		b.takeDown()
		return err
	}
	return nil
}

func (b *bell) takeDown() {
	if b.w != nil {
		b.w.Close()
		b.w = nil
	}
}

// wait returns when it rings or when d is over, and reports whether it rang.
func (b *bell) wait(ctx context.Context, d time.Duration) (rang bool) {
	timer := time.NewTimer(d)
	defer timer.Stop()
	var events chan fsnotify.Event
	var errs chan error
	if b.w != nil {
		events, errs = b.w.Events, b.w.Errors
	}
	for {
		select {
		case <-ctx.Done():
			return rang
		case <-timer.C:
			return rang
		case e, ok := <-events:
			if !ok {
				b.takeDown()
				return true
			}
			if !rang && b.announces(e) {
				rang = true
				timer.Reset(min(d, settling))
			}
		case err := <-errs:
			if !errors.Is(err, fsnotify.ErrEventOverflow) {
				b.takeDown()
			}
			return true // some rings are lost
		}
	}
}

// announces reports whether there may be something to take: a file that came,
// grew, may be read now or was let go of by smsd; or a folder is gone. What we
// move away is nothing.
func (b *bell) announces(e fsnotify.Event) bool {
	return e.Has(fsnotify.Create|fsnotify.Write|fsnotify.Chmod) || strings.HasSuffix(e.Name, lockSuffix) || slices.Contains(b.folders, e.Name)
}
