package disk

import (
	"context"
	"errors"
	"os"
	"slices"

	"stubbled/store/schema"
)

// OpenRead opens the database to look at it. It never writes, takes no lock,
// and may be used beside a running daemon. Another schema is ErrOlder or
// ErrNewer, unless it is allowed.
func OpenRead(ctx context.Context, path string, allowed ...*Fault) (*DB, error) {
	d, err := newDB(path, Options{})
	if err != nil {
		return nil, err
	}
	if err := d.openRead(ctx, allowed); err != nil {
		d.closePools()
		return nil, err
	}
	return d, nil
}

func (d *DB) openRead(ctx context.Context, allowed []*Fault) error {
	if err := emptied(d.path); err != nil {
		return err
	}
	if _, err := os.Stat(d.path); err != nil {
		return d.explainFile("open", err)
	}
	if err := d.openReaders(""); err != nil {
		return err
	}
	have, err := d.version(ctx)
	if errors.Is(err, ErrNoFile) && !exists(d.path+"-wal") {
		// On a disk that cannot be written SQLite cannot make the files of the
		// log; where there is no log none is needed.
		d.Read.Close()
		if err := d.openReaders("immutable"); err != nil {
			return err
		}
		have, err = d.version(ctx)
	}
	if err != nil {
		return err
	}
	var kind *Fault
	switch want := schema.Newest(); {
	case have > want:
		kind = ErrNewer
	case have < want:
		kind = ErrOlder
	}
	if kind == nil || slices.Contains(allowed, kind) {
		return nil
	}
	return d.otherSchema(kind, have)
}
