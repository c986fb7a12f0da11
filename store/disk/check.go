package disk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

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

func (d *DB) otherSchema(kind *Fault, have int64) error {
	verb := "knows"
	if kind == ErrOlder {
		verb = "wants"
	}
	return &Error{Kind: kind, Op: "open", Path: d.path, Err: fmt.Errorf("schema %d, this program %s %d", have, verb, schema.Newest())}
}

// Check reads every page and index of the database and says what is wrong with
// it; others may read and write meanwhile.
func (d *DB) Check(ctx context.Context) error { return d.integrity(ctx, "integrity_check") }

// QuickCheck reads every page and says what is wrong with them, on a connection
// of its own: on a long history that takes seconds, and nobody waits for it.
func (d *DB) QuickCheck(ctx context.Context) error {
	own := &DB{path: d.path}
	if err := own.openReaders(""); err != nil {
		return err
	}
	defer own.closePools()
	return own.integrity(ctx, "quick_check")
}

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

func (d *DB) foreignKeys(ctx context.Context) error {
	return Each(d.Look(ctx, "check"), func(Scanner) error {
		return &Error{Kind: ErrDamaged, Op: "check", Path: d.path, Err: errors.New("a row names another that is not there")}
	}, `PRAGMA foreign_key_check`)
}

// counts counts the rows of each table of ours.
func (d *DB) counts(ctx context.Context) (map[string]int64, error) {
	look := d.Look(ctx, "count")
	tables, err := All(look, One[string], `SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`)
	all := make(map[string]int64, len(tables))
	for _, table := range tables {
		var n int64
		if err := look.Row(`SELECT count(*) FROM "` + table + `"`).Scan(&n); err != nil {
			return nil, err
		}
		all[table] = n
	}
	return all, err
}
