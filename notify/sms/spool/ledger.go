package spool

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A ledger knows which message a delivery report speaks of: the network gives
// numbers of 0-255, which come again, and tells the recipient.
type ledger struct {
	loaded bool
	sent   []entry // oldest first
}

type entry struct {
	id, to string
	refs   []string // the network's numbers, one a part
}

// keepEntries bounds the ledger; a report comes within the validity period.
const keepEntries = 2000

// load reads the messages that done keeps, once.
func (l *ledger) load(folder string) error {
	if l.loaded {
		return nil
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int {
		x, errX := a.Info()
		y, errY := b.Info()
		if errX != nil || errY != nil {
			return 0
		}
		return x.ModTime().Compare(y.ModTime())
	})
	for _, e := range entries[max(0, len(entries)-keepEntries):] {
		m, err := readMessage(filepath.Join(folder, e.Name()))
		if err != nil {
			if errors.Is(err, fs.ErrPermission) {
				return err
			}
			continue
		}
		l.put(e.Name(), m)
	}
	l.loaded = true
	return nil
}

// put notes a message and the numbers that the network gave it.
func (l *ledger) put(id string, m message) {
	refs := strings.Fields(strings.TrimSuffix(m.header("Message_id"), "."))
	if len(refs) == 0 || slices.ContainsFunc(l.sent, func(e entry) bool { return e.id == id }) {
		return
	}
	l.sent = append(l.sent, entry{id: id, to: m.header("To"), refs: refs})
	if len(l.sent) > keepEntries {
		l.sent = slices.Delete(l.sent, 0, len(l.sent)-keepEntries)
	}
}

// find names the latest message to a number that has this reference, and
// whether it is that of its last part.
func (l *ledger) find(to, ref string) (id string, last bool) {
	for _, e := range slices.Backward(l.sent) {
		if e.to == to && slices.Contains(e.refs, ref) {
			return e.id, e.refs[len(e.refs)-1] == ref
		}
	}
	return "", false
}
