package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"github.com/pressly/goose/v3"

	"stubbled/store/schema"
)

// migrate brings the file to the newest schema, checked and with a backup beside
// it first. Each step is one transaction.
func (d *DB) migrate(ctx context.Context, have int64, now time.Time) error {
	want := schema.Newest()
	if have > want {
		return d.otherSchema(ErrNewer, have)
	}
	if have == want {
		return nil
	}
	if have > 0 {
		if err := d.integrity(ctx, "quick_check"); err != nil {
			return err
		}
		to := d.path + fmt.Sprintf(".before-schema-%d.%s", want, now.UTC().Format("20060102T150405Z"))
		if _, err := os.Stat(to); errors.Is(err, fs.ErrNotExist) {
			if err := d.Backup(ctx, to); err != nil {
				return fmt.Errorf("back up before the upgrade: %w", err)
			}
		}
		d.log.Info("database backed up before the upgrade", "to", to, "from_schema", have, "to_schema", want)
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, d.writer, schema.Steps, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return d.Explain("migrate", err)
	}
	if _, err := p.Up(ctx); err != nil {
		return d.Explain("migrate", err)
	}
	return nil
}
