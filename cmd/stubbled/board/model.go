package board

import (
	"context"
	"slices"
	"sync"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/notify/page"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
)

// A model is the farm as a page shows it.
type model struct {
	farm    *config.Farm
	sight   season.Sight
	views   []season.View
	week    *ladder.FarmFacts
	plan    *season.FeedPlan
	sayings []page.Saying
}

// models keeps the last one: as long as nothing changed it is shown again.
type models struct {
	mu   sync.Mutex
	of   from
	last *model
}

// from is all that a model can change with, but how the machine is.
type from struct {
	farm  *config.Farm
	mark  store.Mark
	today civil.Date
}

// look is the farm as it is now, read beside the daemon.
func (b *Board) look(ctx context.Context) (*model, error) {
	farm, now := b.Farm(), b.Now()
	s, err := store.OpenRead(ctx, b.DB, store.Farm{Name: farm.Name, Was: farm.Was})
	if err != nil {
		return nil, err
	}
	defer s.Close()
	mark, err := s.Mark(ctx)
	if err != nil {
		return nil, err
	}
	of := from{farm, mark, civil.DateOf(now.In(farm.Zone))}
	b.model.mu.Lock()
	defer b.model.mu.Unlock()
	if b.model.last == nil || b.model.of != of {
		m, err := read(ctx, s, b.DB, of, now)
		if err != nil {
			return nil, err
		}
		b.model.of, b.model.last = of, m
	}
	m := *b.model.last
	week := *m.week
	week.Health, m.week = b.Health(), &week
	return &m, nil
}

const shown = 7 * 24 * time.Hour

func read(ctx context.Context, s *store.Store, db string, of from, now time.Time) (*model, error) {
	sight, err := report.Sight(ctx, of.farm, db, of.today)
	if err != nil {
		return nil, err
	}
	m := &model{farm: of.farm, sight: sight, views: season.Look(sight)}
	m.week, m.plan = scheduler.Week(sight, m.views)
	fates, err := s.FatesSince(ctx, now.Add(-shown))
	if err != nil {
		return nil, err
	}
	m.sayings = report.Sayings(of.farm, fates)
	slices.Reverse(m.sayings)
	return m, nil
}

// mostSayings is how many messages a page shows, the newest.
const mostSayings = 200

// page is the model as a page, for one person.
func (m *model) page(as *ladder.Contact, now time.Time) page.Board {
	p := page.Board{
		Farm: m.farm.Name, Clock: now.In(m.farm.Zone).Format("15:04"), As: as.Name, Week: m.week, Views: m.views,
		Sayings: m.sayings[:min(len(m.sayings), mostSayings)], Season: len(m.views) > 0, Feed: m.plan != nil,
	}
	for _, c := range m.farm.Contacts {
		p.People = append(p.People, c.Name)
	}
	return p
}

// Card is the wall card of the fall to come, or of the one that is not over, read
// beside the daemon.
func Card(ctx context.Context, farm *config.Farm, db string, now time.Time, language string) ([]byte, error) {
	sight, err := report.Sight(ctx, farm, db, civil.DateOf(now.In(farm.Zone)))
	if err != nil {
		return nil, err
	}
	return report.CardHTML(farm, sight, report.CardYear(season.Look(sight)), language)
}
