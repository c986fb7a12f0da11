package disk

import (
	"encoding/binary"
	"errors"
	"io"
	"os"
)

// The write-ahead log has a header of 32 bytes and frames of 24 bytes and a
// page each; sums run on from frame to frame. SQLite takes the frames up to
// the first whose sum is wrong, which is right after a power cut: the last
// commit was torn, and nobody was told that it was done. It says nothing where
// a frame further in is damaged. Format: https://www.sqlite.org/fileformat2.html#walformat
const (
	walHeader   = 32
	frameHeader = 24
)

// lostCommits counts the commits in a log that stand behind a damaged frame.
// Each commit is synced before the next begins, so that one may be the torn
// end of the last run; more were acknowledged and are lost.
func lostCommits(path string) (int, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	defer f.Close()
	var head [walHeader]byte
	if _, err := io.ReadFull(f, head[:]); err != nil {
		return 0, nil // cut before the first frame
	}
	w := walReader{f: f, salt: [8]byte(head[16:24]), page: int(binary.BigEndian.Uint32(head[8:])), order: binary.LittleEndian}
	if binary.BigEndian.Uint32(head[:])&1 == 1 {
		w.order = binary.BigEndian
	}
	w.sum(head[:24])
	if w.a != binary.BigEndian.Uint32(head[24:]) || w.b != binary.BigEndian.Uint32(head[28:]) {
		if err := w.guessHeader(f); err != nil {
			return 0, nil // no frame
		}
	}
	return w.commitsBehindDamage(), nil
}

type walReader struct {
	f      io.Reader
	salt   [8]byte
	page   int
	order  binary.ByteOrder
	a, b   uint32 // the running sum
	broken bool
}

// guessHeader reads on where the header itself is damaged: page and byte order are
// those of our databases on this machine, and the first frame says which
// frames belong together.
func (w *walReader) guessHeader(f io.ReaderAt) error {
	w.broken, w.page, w.order = true, 4096, binary.NativeEndian
	_, err := f.ReadAt(w.salt[:], walHeader+8)
	return err
}

func (w *walReader) sum(data []byte) {
	for i := 0; i+8 <= len(data); i += 8 {
		w.a += w.order.Uint32(data[i:]) + w.b
		w.b += w.order.Uint32(data[i+4:]) + w.a
	}
}

// commitsBehindDamage counts the commits behind the first frame whose sum is
// wrong. A frame there counts only if it is whole by itself: its sum goes on
// from the one that the frame before it holds.
func (w *walReader) commitsBehindDamage() int {
	n := 0
	frame := make([]byte, frameHeader+w.page)
	for {
		if _, err := io.ReadFull(w.f, frame); err != nil {
			return n
		}
		w.sum(frame[:8])
		w.sum(frame[frameHeader:])
		a, b := binary.BigEndian.Uint32(frame[16:]), binary.BigEndian.Uint32(frame[20:])
		// Of other salt are those left over from before the last checkpoint.
		whole := [8]byte(frame[8:16]) == w.salt && a == w.a && b == w.b
		if w.broken && whole && binary.BigEndian.Uint32(frame[4:]) != 0 {
			n++
		}
		w.broken = w.broken || !whole
		w.a, w.b = a, b
	}
}
