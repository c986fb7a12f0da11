package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"

	"modernc.org/sqlite"
)

// settings is what every connection needs.
func settings(mode string) url.Values {
	return url.Values{
		"mode":    {mode},
		"_dqs":    {"0"}, // a misspelt column in quotes is no string
		"_pragma": {"busy_timeout(5000)", "foreign_keys(1)", "trusted_schema(0)", "recursive_triggers(1)", "cell_size_check(1)"},
	}
}

// dsn is the data source name. Without file: the driver drops the mode.
func dsn(path string, v url.Values) string {
	return (&url.URL{Scheme: "file", Path: path, RawQuery: v.Encode()}).String()
}

// openWriter opens the one connection that writes.
func (s *Store) openWriter() (err error) {
	v := settings("rw")
	v.Add("_pragma", "journal_mode(WAL)")
	v.Add("_pragma", "journal_size_limit(16777216)")
	v.Set("_txlock", "immediate")
	if s.volatile {
		v.Add("_pragma", "synchronous(OFF)")
	} else {
		// Each commit is synced: a text that was acknowledged must survive a
		// power cut.
		v.Add("_pragma", "synchronous(FULL)")
	}
	if s.write, err = sql.Open("sqlite", dsn(s.path, v)); err != nil {
		return s.explain("open", err)
	}
	s.write.SetMaxOpenConns(1)
	return nil
}

// openReaders opens the pool that only reads, with one more setting or none.
func (s *Store) openReaders(more string) (err error) {
	v := settings("ro")
	if more != "" {
		v.Set(more, "1")
	}
	if s.read, err = sql.Open("sqlite", dsn(s.path, v)); err != nil {
		return s.explain("open", err)
	}
	s.read.SetMaxOpenConns(4)
	return nil
}

func (s *Store) openBeside(ctx context.Context) error {
	if err := s.openRead(ctx); err != nil {
		return err
	}
	if err := s.openWriter(); err != nil {
		return err
	}
	return s.explain("open", s.leaveLog(ctx))
}

// leaveLog keeps the last one to close from removing the log: where the daemon
// was cut off, its next start reads in it what happened.
func (s *Store) leaveLog(ctx context.Context) error {
	c, err := s.write.Conn(ctx)
	if err != nil {
		return err
	}
	defer c.Close()
	return c.Raw(func(driver any) error {
		fc, ok := driver.(sqlite.FileControl)
		if !ok {
			return errors.New("the driver cannot keep the log")
		}
		_, err := fc.FileControlPersistWAL("main", 1)
		return err
	})
}

func (s *Store) openRead(ctx context.Context) error {
	if err := emptied(s.path); err != nil {
		return err
	}
	if _, err := os.Stat(s.path); err != nil {
		return s.explainFile("open", err)
	}
	if err := s.openReaders(""); err != nil {
		return err
	}
	have, err := s.version(ctx, s.read)
	if errors.Is(err, ErrNoFile) && !exists(s.path+"-wal") {
		// On a disk that cannot be written SQLite cannot make the files of the
		// log; where there is no log none is needed.
		s.read.Close()
		if err := s.openReaders("immutable"); err != nil {
			return err
		}
		have, err = s.version(ctx, s.read)
	}
	if err != nil {
		return err
	}
	switch want := newest(); {
	case have > want:
		return &Error{Kind: ErrNewer, Op: "open", Path: s.path, Err: fmt.Errorf("schema %d, this program knows %d", have, want)}
	case have < want:
		return &Error{Kind: ErrOlder, Op: "open", Path: s.path, Err: fmt.Errorf("schema %d, this program wants %d", have, want)}
	}
	return nil
}
