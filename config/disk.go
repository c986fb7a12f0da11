package config

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"stubbled/config/settings"
	"stubbled/scheduler/frost"
)

// An Option changes how a farm file is loaded.
type Option func(*source)

// WithoutEnvironment keeps STUBBLED_* out, for what must not depend on the
// machine.
func WithoutEnvironment() Option {
	return func(s *source) { s.Environment = false }
}

// Opening reads the records that the farm file names through open.
func Opening(open func(name string) (io.ReadCloser, error)) Option {
	return func(s *source) { s.open = open }
}

// In says in which folder lies what the farm file names.
func In(dir string) Option {
	return func(s *source) { s.Dir = dir }
}

// source is where a farm file comes from, with the files that it names.
type source struct {
	settings.Source
	open    func(name string) (io.ReadCloser, error)
	touched map[string]stamp // every file that was looked at, as it was before
}

func newSource(path string, options []Option) *source {
	s := &source{
		Source:  settings.Source{File: path, Dir: filepath.Dir(path), Environment: true},
		open:    func(name string) (io.ReadCloser, error) { return frost.Open(name) },
		touched: map[string]stamp{},
	}
	s.Touch = s.touch
	for _, o := range options {
		o(s)
	}
	return s
}

// largest is the most that is read of a farm file, in bytes. Ten thousand
// paddocks take about 1.5 MB.
const largest = 16 << 20

func readBounded(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largest+1))
	if err == nil && len(data) > largest {
		err = fmt.Errorf("over %d MB, which is no farm file", largest>>20)
	}
	return data, err
}

// fileTrouble is why a file could not be read, and the mend.
func fileTrouble(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file; write one with stubbled init, or name it with --farm"
	case errors.Is(err, fs.ErrPermission):
		return "may not be read by this user; give read permission on it and its folder"
	}
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		err = pathErr.Err
	}
	return "cannot be read: " + err.Error()
}

// stamp is what a file looks like from outside; zero where it isn't there.
type stamp struct {
	size int64
	mod  time.Time
	mode fs.FileMode
	info fs.FileInfo
}

func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime(), info.Mode(), info}
}

// touch notes how a file looks before it is read, so that a change while it is
// read shows at the next look.
func (s *source) touch(path string) { s.touched[path] = stampOf(path) }

func (s stamp) same(o stamp) bool {
	if s.info == nil || o.info == nil {
		return s.info == nil && o.info == nil
	}
	return s.size == o.size && s.mod.Equal(o.mod) && s.mode == o.mode && os.SameFile(s.info, o.info)
}
