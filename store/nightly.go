package store

import (
	"context"
	"errors"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/store/disk"
)

// keepPictures is for how many days the pictures and files of a mail stay in
// the database after it was sent; the words stay for good.
const keepPictures = 90

// Nightly is disk.DB.Nightly; it also reads every fact, for Damaged, and drops the files of old mails that will
// not be sent again.
func (s *Store) Nightly(ctx context.Context, dir string, day civil.Date) (path string, err error) {
	if path, err = s.db.Nightly(ctx, dir, day); err != nil {
		return path, err
	}
	if _, err := s.CheckFacts(ctx); err != nil && !errors.Is(err, disk.ErrFact) {
		return path, err
	}
	now := day.In(time.UTC)
	return path, s.writing(ctx, "drop old pictures", now, func(t *Tx) error {
		_, err := t.db.Exec(`UPDATE messages SET files = NULL, html = '' WHERE frozen_at < ? AND files IS NOT NULL
			AND NOT EXISTS (SELECT 1 FROM outbox o WHERE o.message = messages.id AND o.state IN ('queued', 'sending'))`,
			now.AddDate(0, 0, -keepPictures).Unix())
		return err
	})
}
