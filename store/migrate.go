package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql
var embedded embed.FS

// migrations is the steps of the schema; a test adds one to them.
var migrations fs.FS = embedded

// applicationID marks the file as ours: 'stub'.
const applicationID = 0x73747562

// newest is the schema that this program writes.
func newest() int64 {
	files, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var n int64
	for _, f := range files {
		v, err := strconv.ParseInt(strings.SplitN(strings.TrimPrefix(f, "migrations/"), "_", 2)[0], 10, 64)
		if err != nil {
			panic(fmt.Sprintf("migration %s has no number", f)) // a test runs this
		}
		n = max(n, v)
	}
	return n
}

// version is the schema of the file: 0 for an empty one.
func (s *Store) version(ctx context.Context, db *sql.DB) (int64, error) {
	var tables, ours int64
	err := db.QueryRowContext(ctx, `SELECT count(*), coalesce(sum(name = 'goose_db_version'), 0) FROM sqlite_schema`).Scan(&tables, &ours)
	if err != nil {
		return 0, s.explain("open", err)
	}
	if tables == 0 {
		return 0, nil
	}
	var id int64
	if err := db.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil {
		return 0, s.explain("open", err)
	}
	if ours == 0 {
		return 0, &Error{Kind: ErrNotOurs, Op: "open", Path: s.path}
	}
	var v int64
	err = db.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied = 1`).Scan(&v)
	if err != nil {
		return 0, s.explain("open", err)
	}
	// A first migration cut short leaves goose's table alone behind.
	if v > 0 && id != applicationID {
		return 0, &Error{Kind: ErrNotOurs, Op: "open", Path: s.path}
	}
	return v, nil
}

// migrate checks the file and brings it to the newest schema, with a backup
// beside it first. Each step is one transaction.
func (s *Store) migrate(ctx context.Context, have int64, now time.Time) error {
	want := newest()
	if have > want {
		return &Error{Kind: ErrNewer, Op: "open", Path: s.path, Err: fmt.Errorf("schema %d, this program knows %d", have, want)}
	}
	if have > 0 {
		if err := s.quickCheck(ctx); err != nil {
			return err
		}
	}
	if have == want {
		return nil
	}
	if have > 0 {
		to := s.path + fmt.Sprintf(".before-schema-%d.%s", want, now.UTC().Format("20060102T150405Z"))
		if _, err := os.Stat(to); errors.Is(err, fs.ErrNotExist) {
			if err := s.Backup(ctx, to); err != nil {
				return fmt.Errorf("back up before the upgrade: %w", err)
			}
		}
		s.log.Info("database backed up before the upgrade", "to", to, "from_schema", have, "to_schema", want)
	}
	dir, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, s.write, dir, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return s.explain("migrate", err)
	}
	if _, err := p.Up(ctx); err != nil {
		return s.explain("migrate", err)
	}
	return nil
}

// quickCheck reads every page and says what is wrong with the first few.
func (s *Store) quickCheck(ctx context.Context) error {
	return integrity(ctx, s.write, s.path, "quick_check")
}

func integrity(ctx context.Context, db *sql.DB, path, pragma string) error {
	rows, err := db.QueryContext(ctx, "PRAGMA "+pragma+"(3)")
	if err != nil {
		return explain(path, "check", err)
	}
	defer rows.Close()
	var bad []string
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			return explain(path, "check", err)
		}
		if line != "ok" {
			bad = append(bad, strings.TrimSpace(line))
		}
	}
	if err := rows.Err(); err != nil {
		return explain(path, "check", err)
	}
	if len(bad) > 0 {
		return &Error{Kind: ErrDamaged, Op: "check", Path: path, Err: errors.New(strings.Join(bad, "; "))}
	}
	return nil
}
