package config

import (
	"crypto/sha256"
	"errors"
	"io/fs"

	"stubbled/config/settings"
)

// A Watcher sees when the farm file or a file that it names has changed. It
// only looks when asked, and never swaps anything itself: the farm in force
// stays until its owner takes the new one. It is for one goroutine.
type Watcher struct {
	path    string
	now     *Farm
	content [sha256.Size]byte // of the farm file in force
	files   map[string]stamp  // every file that the last load looked at
	told    map[[sha256.Size]byte]bool
	bad     bool // what is on disk was refused
	gone    bool // the farm file was not there at the last look
}

// NewWatcher watches the file that a farm was loaded from.
func NewWatcher(farm *Farm) *Watcher {
	w := &Watcher{path: farm.File, now: farm, files: map[string]stamp{}, told: map[[sha256.Size]byte]bool{}}
	w.files[farm.File] = stamp{} // looked at once, so that nothing that changed since the load is missed
	if data, err := readBounded(farm.File); err == nil {
		w.content = sha256.Sum256(data)
	}
	return w
}

// Check looks whether anything changed. It gives the new farm where there is
// one to take, also when a refused file was put right again. The error is what
// is wrong with a new file, once for each content that is refused. Both are nil
// where there is nothing new.
//
// A farm file that is not there is told at the second look: editors take it
// away for a moment when they save.
func (w *Watcher) Check() (*Farm, error) {
	if !w.changed() {
		return nil, nil
	}
	from := newSource(w.path, nil)
	from.touch(w.path)
	data, err := readBounded(w.path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) && !w.gone {
			w.gone = true
			return nil, nil
		}
		w.files = from.touched
		return nil, w.refuse(data, settings.Problems{{File: w.path, Text: fileTrouble(err)}})
	}
	w.gone = false
	farm, err := from.load(data)
	w.files = from.touched
	if err != nil {
		return nil, w.refuse(data, err)
	}
	content := sha256.Sum256(data)
	if !w.bad && content == w.content && farm.Digest == w.now.Digest {
		return nil, nil
	}
	w.now, w.content, w.bad = farm, content, false
	clear(w.told)
	return farm, nil
}

// refuse notes a refused content, and gives the error the first time.
func (w *Watcher) refuse(data []byte, err error) error {
	w.bad = true
	key := sha256.Sum256(append(append([]byte{}, data...), err.Error()...))
	if w.told[key] {
		return nil
	}
	w.told[key] = true
	return err
}

// changed reports whether any file looks different from the last look.
func (w *Watcher) changed() bool {
	if w.gone {
		return true
	}
	for path, s := range w.files {
		if s.info == nil && path == w.path || !s.same(stampOf(path)) {
			return true
		}
	}
	return false
}
