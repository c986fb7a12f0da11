package report

import (
	"context"

	"github.com/golang-sql/civil"

	"stubbled/config"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/store"
	"stubbled/store/disk"
)

// Sight is a farm with its diary as of a day. Without a database, or with one
// that was never used, the diary is empty.
func Sight(ctx context.Context, farm *config.Farm, db string, today civil.Date) (season.Sight, error) {
	book, kept := diary.NewBook(), ""
	if db != "" && !disk.NeverUsed(db) {
		s, err := store.OpenRead(ctx, db, store.Farm{Name: farm.Name, Was: farm.Was})
		if err != nil {
			return season.Sight{}, err
		}
		defer s.Close()
		renamed := scheduler.Renames(farm)
		if err := s.EachFact(ctx, 0, func(f diary.Fact) error { book.Add(renamed(f)); return nil }); err != nil {
			return season.Sight{}, err
		}
		if kept, err = s.KeptPlan(ctx); err != nil {
			return season.Sight{}, err
		}
	}
	air := farm.Plan.Record
	if air != nil {
		air = air.Before(today)
	}
	sight := season.Sight{Farm: &farm.Farm, Book: book.Until(today), Today: today, Cache: &season.Cache{}, Air: air}
	sight.Kept, sight.Changed = scheduler.Kept(kept)
	return sight, nil
}
