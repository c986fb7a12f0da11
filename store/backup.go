package store

import (
	"context"
)

// Backup writes a copy of the database to a file that is not there yet, while
// the daemon runs.
func (s *Store) Backup(ctx context.Context, to string) error {
	_, err := s.read.ExecContext(ctx, `VACUUM INTO ?`, to)
	return s.explain("back up", err)
}
