package disk

import (
	"context"
	"database/sql"
	"errors"
	"net/url"

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

// openWriter opens the pool of the one connection that writes; takeWriter takes it.
func (d *DB) openWriter() (err error) {
	v := settings("rw")
	v.Add("_pragma", "journal_mode(WAL)")
	v.Add("_pragma", "journal_size_limit(16777216)")
	v.Set("_txlock", "immediate")
	if d.volatile {
		v.Add("_pragma", "synchronous(OFF)")
	} else {
		// Each commit is synced: a text that was acknowledged must survive a
		// power cut.
		v.Add("_pragma", "synchronous(FULL)")
	}
	if d.writer, err = sql.Open("sqlite", dsn(d.path, v)); err != nil {
		return d.Explain("open", err)
	}
	d.writer.SetMaxOpenConns(1)
	return nil
}

func (d *DB) takeWriter(ctx context.Context) (err error) {
	d.Write, err = d.writer.Conn(ctx)
	return d.Explain("open", err)
}

// openReaders opens the pool that only reads, with one more setting or none.
func (d *DB) openReaders(more string) (err error) {
	v := settings("ro")
	if more != "" {
		v.Set(more, "1")
	}
	if d.Read, err = sql.Open("sqlite", dsn(d.path, v)); err != nil {
		return d.Explain("open", err)
	}
	d.Read.SetMaxOpenConns(4)
	return nil
}

// leaveLog keeps the last one to close from removing the log: where the daemon
// was cut off, its next start reads in it what happened.
func (d *DB) leaveLog() error {
	return d.Write.Raw(func(driver any) error {
		fc, ok := driver.(sqlite.FileControl)
		if !ok {
			return errors.New("the driver cannot keep the log")
		}
		_, err := fc.FileControlPersistWAL("main", 1)
		return err
	})
}
