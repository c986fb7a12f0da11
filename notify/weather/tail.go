package weather

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// Bounds of a log file.
const (
	maxLine = 4 << 10
	maxLog  = 64 << 20 // what is read of a log that is new to us, from its end
)

// A tail follows a file that grows, is cut back, or is replaced.
type tail struct {
	path   string
	file   *os.File
	offset int64
	part   []byte // a line whose end is not yet written
	long   bool   // the line is too long and passed over to its end
	number int    // lines read
	begun  bool   // the beginning was read
	seen   []byte // the last bytes read, to know the file by
}

// read hands over the complete lines written since the last time. again says
// that the file is another or was cut back: what follows begins with its first
// line.
func (t *tail) read(again func(), line func(number int, text string)) error {
	if t.file == nil {
		if err := t.open(again); err != nil {
			return err
		}
	}
	if t.grown() {
		if err := t.drain(line); err != nil {
			return err
		}
	}
	now, err := os.Stat(t.path)
	if errors.Is(err, os.ErrNotExist) {
		return nil // being replaced; what is open was read to its end
	}
	if err != nil {
		return err
	}
	mine, err := t.file.Stat()
	if err != nil {
		return err
	}
	if os.SameFile(mine, now) && t.grown() {
		return nil
	}
	t.close()
	if err := t.open(again); err != nil {
		return err
	}
	return t.drain(line)
}

// grown reports whether what was read last still stands where it was: else
// the file was cut back and written anew, perhaps to more than its old length.
func (t *tail) grown() bool {
	b := make([]byte, len(t.seen))
	n, _ := t.file.ReadAt(b, t.offset-int64(len(t.seen)))
	return bytes.Equal(b[:n], t.seen)
}

func (t *tail) open(again func()) error {
	f, err := os.Open(t.path)
	if err != nil {
		return err
	}
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		_ = f.Close()
		return errors.Join(err, fmt.Errorf("%s is no plain file", t.path))
	}
	*t = tail{path: t.path, file: f}
	again()
	return nil
}

func (t *tail) close() {
	if t.file != nil {
		_ = t.file.Close()
	}
	t.file = nil
}

// skip goes on from the last bytes of a very long log, at the next whole line.
func (t *tail) skip() error {
	info, err := t.file.Stat()
	if err != nil || info.Size()-t.offset <= maxLog {
		return err
	}
	t.offset, t.part, t.long, t.seen = info.Size()-maxLog, nil, true, nil
	return nil
}

func (t *tail) drain(line func(int, string)) error {
	buf := make([]byte, 64<<10)
	for {
		n, err := t.file.ReadAt(buf, t.offset)
		t.offset += int64(n)
		t.seen = append(t.seen, buf[max(0, n-128):n]...)
		t.seen = t.seen[max(0, len(t.seen)-128):]
		t.take(buf[:n], line)
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if !t.begun { // the header was read
			t.begun = true
			if err := t.skip(); err != nil {
				return err
			}
		}
	}
}

func (t *tail) take(b []byte, line func(int, string)) {
	for len(b) > 0 {
		i := bytes.IndexByte(b, '\n')
		if i < 0 {
			if t.part = append(t.part, b...); len(t.part) > maxLine {
				t.part, t.long = nil, true
			}
			return
		}
		whole := append(t.part, b[:i]...)
		t.part, b = nil, b[i+1:]
		t.number++
		if t.long || len(whole) > maxLine {
			whole = nil // handed over as an empty line, that is as junk
			t.long = false
		}
		// A power cut leaves zeros where the disk was not written.
		line(t.number, string(bytes.TrimRight(bytes.TrimLeft(whole, "\x00"), "\r")))
	}
}
