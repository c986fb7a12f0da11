package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/pressly/goose/v3"

	"stubbled/store/schema"
)

// version is the schema of the file: 0 for an empty one.
func (d *DB) version(ctx context.Context) (int64, error) {
	var tables, ours int64
	err := d.Read.QueryRowContext(ctx, `SELECT count(*), coalesce(sum(name = 'goose_db_version'), 0) FROM sqlite_schema`).Scan(&tables, &ours)
	if err != nil {
		return 0, d.Explain("open", err)
	}
	if tables == 0 {
		return 0, nil
	}
	var id int64
	if err := d.Read.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil {
		return 0, d.Explain("open", err)
	}
	if ours == 0 {
		return 0, &Error{Kind: ErrNotOurs, Op: "open", Path: d.path}
	}
	var v int64
	err = d.Read.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied = 1`).Scan(&v)
	if err != nil {
		return 0, d.Explain("open", err)
	}
	// A first migration cut short leaves goose's table alone behind.
	if v > 0 && id != schema.ApplicationID {
		return 0, &Error{Kind: ErrNotOurs, Op: "open", Path: d.path}
	}
	return v, nil
}

// migrate checks the file and brings it to the newest schema, with a backup
// beside it first. Each step is one transaction.
func (d *DB) migrate(ctx context.Context, have int64, now time.Time) error {
	want := schema.Newest()
	if have > want {
		return d.otherSchema(ErrNewer, have)
	}
	if have > 0 {
		if err := d.integrity(ctx, "quick_check"); err != nil {
			return err
		}
	}
	if have == want {
		return nil
	}
	if have > 0 {
		to := d.path + fmt.Sprintf(".before-schema-%d.%s", want, now.UTC().Format("20060102T150405Z"))
		if _, err := os.Stat(to); errors.Is(err, fs.ErrNotExist) {
			if err := d.Backup(ctx, to); err != nil {
				return fmt.Errorf("back up before the upgrade: %w", err)
			}
		}
		d.log.Info("database backed up before the upgrade", "to", to, "from_schema", have, "to_schema", want)
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, d.Write, schema.Steps, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return d.Explain("migrate", err)
	}
	if _, err := p.Up(ctx); err != nil {
		return d.Explain("migrate", err)
	}
	return nil
}

func (d *DB) otherSchema(kind error, have int64) error {
	verb := "knows"
	if kind == ErrOlder {
		verb = "wants"
	}
	return &Error{Kind: kind, Op: "open", Path: d.path, Err: fmt.Errorf("schema %d, this program %s %d", have, verb, schema.Newest())}
}

// Check reads every page and index of the database and says what is wrong with
// it; others may read and write meanwhile.
func (d *DB) Check(ctx context.Context) error { return d.integrity(ctx, "integrity_check") }

// integrity says what is wrong with the first few pages or rows that are.
func (d *DB) integrity(ctx context.Context, pragma string) error {
	lines, err := All(d.Look(ctx, "check"), func(r Scanner) (string, error) {
		line, err := One[string](r)
		return strings.TrimSpace(line), err
	}, "PRAGMA "+pragma+"(3)")
	if err != nil {
		return err
	}
	lines = slices.DeleteFunc(lines, func(line string) bool { return line == "ok" })
	if len(lines) > 0 {
		return &Error{Kind: ErrDamaged, Op: "check", Path: d.path, Err: errors.New(strings.Join(lines, "; "))}
	}
	return nil
}
