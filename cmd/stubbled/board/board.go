// Package board serves the page on the farm's own machine: what is to be done
// today, every paddock, the week's messages, how the machine is; and takes a text
// typed in by the path of any text.
//
// It only looks: at a view of the database of its own, which no writer waits for.
// What is typed it hands to the inbox. Whatever reaches its port can neither slow
// nor end the daemon: few connections, short waits, one page made at a time and
// kept until something changes, and a panic is a 500.
package board

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"stubbled/config"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// Options is what a board is made with.
type Options struct {
	Farm   func() *config.Farm // in force
	DB     string
	Now    func() time.Time
	Health func() *ladder.Health
	// Accept takes a text into the inbox and wakes who hears it.
	Accept func(ctx context.Context, in store.In) error
	Log    *slog.Logger
}

// A Board is the page and what keeps it safe.
type Board struct {
	Options
	port   string
	tokens *tokens
	model  *models
	turn   chan struct{} // one page is made at a time
	typed  *pace
}

// New makes the board of a port.
func New(o Options, port string) *Board {
	return &Board{Options: o, port: port, tokens: newTokens(), model: &models{}, turn: make(chan struct{}, 1), typed: &pace{}}
}

// What the board does at most.
const (
	most       = 64 // connections; a newer one takes the place of the longest idle
	headerWait = 2 * time.Second
	readWait   = 5 * time.Second
	writeWait  = 30 * time.Second
	turnWait   = 10 * time.Second // for one's turn to be shown a page
	mostHeader = 8 << 10
	mostBody   = 8 << 10
)

// Serve answers on a listener until it is told to stop.
func Serve(ctx context.Context, l net.Listener, o Options) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return err
	}
	lines := &lines{}
	s := &http.Server{
		Handler: New(o, port).Handler(), ConnState: lines.note, MaxHeaderBytes: mostHeader,
		ReadHeaderTimeout: headerWait, ReadTimeout: readWait, WriteTimeout: writeWait, IdleTimeout: readWait,
		ErrorLog: slog.NewLogLogger(o.Log.Handler(), slog.LevelDebug),
	}
	stop := context.AfterFunc(ctx, func() { _ = s.Close() })
	defer stop()
	if err := s.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// Handler is the whole board, guarded.
func (b *Board) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", b.show)
	mux.HandleFunc("POST /{$}", b.say)
	mux.HandleFunc("GET /page.css", b.style)
	mux.HandleFunc("GET /season.svg", b.season)
	mux.HandleFunc("GET /feed.svg", b.feed)
	mux.HandleFunc("GET /record", b.paper(recordPage))
	mux.HandleFunc("GET /card", b.paper(cardPage))
	return b.guard(mux)
}
