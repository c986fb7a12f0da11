package weather

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
)

// Bounds of a log file.
const (
	maxLine = 4 << 10
	maxHead = 64 << 10 // what is read of a log's beginning, whatever its length
	maxLog  = 64 << 20 // and of its end, where it is new to us
)

// A tail follows a file that grows, is cut back, or is replaced.
type tail struct {
	path   string
	file   *os.File
	offset int64  // what is before it was read; a line still being written is not
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

// drain reads to the end of the file.
func (t *tail) drain(line func(number int, text string)) error {
	r := bufio.NewReaderSize(io.NewSectionReader(t.file, t.offset, math.MaxInt64-t.offset), maxLine)
	for {
		b, err := r.ReadSlice('\n')
		if err != nil && err != io.EOF && err != bufio.ErrBufferFull {
			return err
		}
		if err == nil || err == bufio.ErrBufferFull || t.long {
			t.take(b, err == nil, line)
		}
		if err == io.EOF {
			return nil
		}
		if !t.begun && t.offset >= maxHead {
			if err := t.skip(); err != nil {
				return err
			}
			return t.drain(line)
		}
	}
}

// take is past a line, or past a piece of one that is too long.
func (t *tail) take(b []byte, ends bool, line func(int, string)) {
	t.offset += int64(len(b))
	t.seen = append(t.seen, b...)
	t.seen = t.seen[max(0, len(t.seen)-128):]
	if !ends {
		t.long = true
		return
	}
	if t.long {
		b, t.long = nil, false // handed over as an empty line, that is as junk
	}
	t.number++
	// A power cut leaves zeros where the disk was not written.
	line(t.number, string(bytes.TrimRight(bytes.TrimLeft(b, "\x00"), "\r\n")))
}

// skip goes on from the last bytes of a very long log, at the next whole line.
func (t *tail) skip() error {
	t.begun = true
	info, err := t.file.Stat()
	if err == nil && info.Size()-t.offset > maxLog {
		t.offset, t.long, t.seen = info.Size()-maxLog, true, nil
	}
	return err
}
