package daemon

import (
	"context"
	"fmt"
	"net"
	"time"

	"stubbled/cmd/stubbled/board"
	"stubbled/cmd/stubbled/carriers"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
	"stubbled/store/panics"
)

// boardLooks is how often it is looked whether the farm file wants another board, or
// a port that was taken is free.
const boardLooks = 5 * time.Second

// keepBoard serves the board where the farm file in force has one. Whatever becomes
// of it ends nothing else.
func (d *Daemon) keepBoard(ctx context.Context) {
	warned := ""
	for ctx.Err() == nil {
		if at := d.boardAt(); at != "" {
			switch err := panics.Error(d.Log, func() error { return d.serveBoard(ctx, at) }); {
			case err == nil:
				warned = ""
			case err.Error() != warned:
				warned = err.Error()
				d.Log.Warn("the board is not shown; it is tried again", "listen", at, "err", err)
			}
		}
		_ = notify.Wait(ctx, boardLooks)
	}
}

// boardAt is where the farm file in force has its board; empty where it has none.
func (d *Daemon) boardAt() string {
	if b := d.farm.Load().Board; b != nil {
		return b.Listen
	}
	return ""
}

// serveBoard serves the board at one place, until the farm file has it elsewhere.
func (d *Daemon) serveBoard(ctx context.Context, at string) error {
	l, err := net.Listen("tcp", at)
	if err != nil {
		return fmt.Errorf("%w: another program has the port; end it, or write another under board.listen", err)
	}
	d.Log.Info("the board is shown", "at", "http://"+at+"/")
	inner, stop := context.WithCancel(ctx)
	defer stop()
	go func() {
		for inner.Err() == nil && d.boardAt() == at {
			_ = notify.Wait(inner, boardLooks)
		}
		stop()
	}()
	return board.Serve(inner, l, board.Options{Farm: d.farm.Load, DB: d.DB, Now: d.Clock.Now, Health: d.state.health, Accept: d.typed, Log: d.Log})
}

// rules are what the courier needs of the farm file in force, and how it comes by
// the wall card.
func (d *Daemon) rules() notify.Rules {
	r := carriers.Rules(d.farm.Load())
	r.Card = func(language string) ([]byte, error) {
		page, err := board.Card(context.Background(), d.farm.Load(), d.DB, d.Clock.Now(), language)
		if err != nil {
			d.Log.Warn("the mail goes without the wall card", "err", err)
		}
		return page, err
	}
	return r
}

// typed takes what was typed on the board.
func (d *Daemon) typed(ctx context.Context, in store.In) error {
	if !d.clockSure() {
		in.Sent = time.Time{}
	}
	return d.accept(ctx, d.store, scheduler.Board, []store.In{in}, "", d.Clock.Now())
}

// health is how the machine was at the last turn.
func (s *state) health() *ladder.Health {
	s.mu.Lock()
	defer s.mu.Unlock()
	h := s.looked
	return &h
}
