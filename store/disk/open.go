package disk

import (
	"context"
	"errors"
	"os"
)

// Open takes the lock, backs the file up and brings it to the newest schema
// where its own is older, and makes the first write. Whether every page is good
// is for QuickCheck to say. It fails with
// ErrLocked, ErrNewer, ErrNotOurs, ErrDamaged, ErrReadOnly, ErrFull or ErrIO,
// each with the mend in words.
func Open(ctx context.Context, path string, o Options) (*DB, error) {
	d, err := newDB(path, o)
	if err != nil {
		return nil, err
	}
	if d.lock, err = lockFile(d.path); err != nil {
		return nil, err
	}
	reserve := exists(d.reserve())
	err = d.start(ctx, o)
	if errors.Is(err, ErrFull) && reserve { // whoever met it first gave it back
		d.giveBack(err)
		d.closePools()
		err = d.start(ctx, o)
	}
	if err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

// OpenBeside opens the database of a daemon that may be running, for what a
// second process may write. The schema must be the current one.
func OpenBeside(ctx context.Context, path string) (*DB, error) {
	d, err := OpenRead(ctx, path)
	if err != nil {
		return nil, err
	}
	if err = d.openWriter(); err == nil {
		err = d.takeWriter(ctx)
	}
	if err == nil {
		err = d.Explain("open", d.leaveLog())
	}
	if err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

func (d *DB) start(ctx context.Context, o Options) error {
	if err := emptied(d.path); err != nil {
		return err
	}
	// The file holds names and phone numbers: it is for its owner alone.
	if d.itself == nil {
		f, err := os.OpenFile(d.path, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return d.explainFile("open", err)
		}
		d.itself = f
		if err := lockItself(f); err != nil {
			return err
		}
	}
	have := int64(0)
	for _, step := range []func() error{
		d.lookBack,
		d.atRest,
		// Looked at first through a connection that cannot write: a file that is not
		// ours stays as it is.
		func() error { return d.openReaders("") },
		func() (err error) { have, err = d.version(ctx); return err },
		d.openWriter,
		func() error { return d.migrate(ctx, have, o.Now) },
		func() error { return d.takeWriter(ctx) },
		func() error { return o.Start(ctx, d) },
		func() error { return d.mark(inUse) },
	} {
		if err := step(); err != nil {
			return err
		}
	}
	d.Refill()
	return nil
}

// Close releases the database and the lock. It waits for the write in hand.
func (d *DB) Close() error {
	var errs []error
	if d.lock != nil && d.Write != nil {
		errs = append(errs, d.atRest()) // before the log goes
	}
	errs = append(errs, d.closePools())
	for _, f := range []*os.File{d.itself, d.lock} {
		if f != nil {
			errs = append(errs, f.Close())
		}
	}
	return errors.Join(errs...)
}
