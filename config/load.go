package config

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// largest is the most that is read of a farm file, in bytes. Ten thousand
// paddocks take about 1.5 MB.
const largest = 16 << 20

// An Option changes how a farm file is loaded.
type Option func(*loader)

// WithoutEnvironment keeps STUBBLED_* out, for what must not depend on the
// machine.
func WithoutEnvironment() Option {
	return func(l *loader) { l.env = false }
}

// Opening reads the records that the farm file names through open.
func Opening(open func(name string) (io.ReadCloser, error)) Option {
	return func(l *loader) { l.opener = open }
}

// Load reads a farm file and the records that it names. The error is Problems,
// all of them at once and in the order of the file; the farm is nil then.
func Load(path string, options ...Option) (*Farm, error) {
	data, err := readBounded(path)
	if err != nil {
		return nil, Problems{{File: path, Text: fileTrouble(err)}}
	}
	return LoadText(path, data, options...)
}

// LoadText is Load with a text that stood in the farm file before, whatever
// stands there now. The records that it names are read where they lie.
func LoadText(path string, text []byte, options ...Option) (*Farm, error) {
	return newLoader(path, options).load(text)
}

func openFile(name string) (io.ReadCloser, error) { return os.Open(name) }

func newLoader(path string, options []Option) *loader {
	l := &loader{file: path, dir: filepath.Dir(path), env: true, opener: openFile, touched: map[string]stamp{}}
	for _, o := range options {
		o(l)
	}
	return l
}

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

// loader is one farm file on its way in.
type loader struct {
	file     string
	dir      string
	env      bool
	opener   func(name string) (io.ReadCloser, error)
	embedded bool             // the file is in the binary: no other file is looked at
	touched  map[string]stamp // every file that was looked at, as it was before
	root     *entry
	problems Problems
	warnings Problems
	farm     *Farm
	calls    roll // what paddocks and herds answer to
}

// load takes the bytes through both passes.
func (l *loader) load(data []byte) (*Farm, error) {
	pass := strict{file: l.file}
	l.root = pass.document(data)
	l.problems = pass.problems
	if l.root == nil {
		return nil, l.problems.inOrder(l.file)
	}
	l.farm = &Farm{File: l.file, text: data}
	l.layer()
	var f file
	l.fill(l.root, &f)
	l.take(&f)
	if len(l.problems) > 0 {
		return nil, l.problems.inOrder(l.file)
	}
	l.farm.Warnings = l.warnings.inOrder(l.file)
	l.farm.settings = l.inForce()
	l.farm.Digest = digest(l.farm)
	return l.farm, nil
}

// take makes the farm of what was read, in the order in which one thing leans
// on another.
func (l *loader) take(f *file) {
	farm := l.farm
	farm.Name, farm.Zone, farm.Units, farm.Morning, farm.Cap = f.Farm.Name, f.Farm.Timezone, f.Farm.Units, f.Farm.Morning, f.Farm.Cap
	farm.Carriers, farm.Backup = f.Carriers, f.Backup
	farm.Backup.Dir = l.beside(farm.Backup.Dir)
	l.plan(f)
	l.paddocks(f.Paddocks)
	l.herds(f.Herds)
	l.answers()
	l.fallUse()
	l.contacts(f.Contacts)
	l.rungs()
	l.weather(&f.Weather)
}

// say tells a problem at an entry.
func (l *loader) say(e *entry, format string, args ...any) {
	l.problems = append(l.problems, problemAt(l.file, e, format, args))
}

// warn tells what stops nothing.
func (l *loader) warn(e *entry, format string, args ...any) {
	l.warnings = append(l.warnings, problemAt(l.file, e, format, args))
}

func problemAt(file string, e *entry, format string, args []any) Problem {
	p := Problem{File: file, Text: fmt.Sprintf(format, args...)}
	if e != nil {
		p.File, p.Line, p.Key = e.file, e.line, e.key
	}
	return p
}

// required tells of a key that isn't written. What was written and refused was
// told already.
func (l *loader) required(parent *entry, key, want string) {
	if parent == nil || parent.written(key) {
		return
	}
	l.lacks(parent, key, want)
}

// lacks tells of a key that is missing.
func (l *loader) lacks(parent *entry, key, want string) {
	l.problems = append(l.problems, Problem{File: l.file, Line: max(parent.line, 1), Key: dotted(parent.key, key), Text: "missing; " + want})
}

// read turns an entry into a value by its parser, and tells what the parser
// refused. An entry that isn't there gives the zero value and false.
func read[T any](l *loader, e *entry, parse func(string) (T, error)) (T, bool) {
	var zero T
	if e == nil {
		return zero, false
	}
	v, err := parse(e.text)
	if err != nil {
		l.say(e, "%v", err)
		return zero, false
	}
	return v, true
}

// wordOf is the text of an entry; empty where it isn't there.
func wordOf(e *entry) string {
	if e == nil {
		return ""
	}
	return e.text
}

// beside is a path as the farm file means it: relative to its own folder.
func (l *loader) beside(path string) string {
	if path == "" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(l.dir, path)
}
