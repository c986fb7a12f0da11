package main

import (
	"context"
	"os"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"stubbled/cmd/stubbled/daemon"
	"stubbled/store"
)

// A work is what a daemon may be at when its power goes.
type work int

// Work, in the order in which it names a kill that met several.
const (
	settling work = iota
	claiming
	accepting
	hearing
	planning
	sending
	backingUp // seen by the file that it makes, not on the board
	starting
	waiting
	works
)

var workNames = [works]string{"settling", "claiming", "accepting", "hearing", "planning", "sending", "backing up", "starting", "waiting"}

// A board says to others what a daemon is at, and how often it was: memory that both
// share, and that outlives it.
type board struct{ now, begun [works]int32 }

func openBoard(path string) (*board, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	size := int(unsafe.Sizeof(board{}))
	if err := f.Truncate(int64(size)); err != nil {
		return nil, err
	}
	shared, err := syscall.Mmap(int(f.Fd()), 0, size, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_SHARED)
	if err != nil {
		return nil, err
	}
	return (*board)(unsafe.Pointer(&shared[0])), nil
}

func (b *board) begins(w work) {
	atomic.AddInt32(&b.now[w], 1)
	atomic.AddInt32(&b.begun[w], 1)
}

func (b *board) ends(w work)      { atomic.AddInt32(&b.now[w], -1) }
func (b *board) at(w work) bool   { return atomic.LoadInt32(&b.now[w]) > 0 }
func (b *board) times(w work) int { return int(atomic.LoadInt32(&b.begun[w])) }
func (b *board) startsAnew()      { *b = board{now: [works]int32{starting: 1}} }
func (b *board) startedLongAgo()  { atomic.StoreInt32(&b.now[starting], 0) }

// met is what a kill met.
func (b *board) met() work {
	for w := range waiting {
		if b.at(w) {
			return w
		}
	}
	return waiting
}

// boarded is the store of a daemon that says on a board what it is at.
type boarded struct {
	daemon.Store
	*board
	heard atomic.Bool // texts wait for the next update
}

// overBoard puts a board between a daemon and its store, where there is one.
func overBoard(s daemon.Store) daemon.Store {
	path := os.Getenv("STUBBLED_TEST_BOARD")
	if path == "" {
		return s
	}
	b, err := openBoard(path)
	if err != nil {
		panic(err)
	}
	return &boarded{Store: s, board: b}
}

func (b *boarded) Pending(ctx context.Context) ([]store.InRow, error) {
	b.startedLongAgo()
	rows, err := b.Store.Pending(ctx)
	b.heard.Store(len(rows) > 0)
	return rows, err
}

func (b *boarded) Update(ctx context.Context, now time.Time, decide func(*store.Tx) error) error {
	w := planning
	if b.heard.Load() {
		w = hearing
	}
	b.begins(w)
	defer b.ends(w)
	return b.Store.Update(ctx, now, decide)
}

func (b *boarded) Accept(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time) error {
	b.begins(accepting)
	defer b.ends(accepting)
	return b.Store.Accept(ctx, carrier, got, cursor, now)
}

func (b *boarded) AcceptAnd(ctx context.Context, carrier string, got []store.In, cursor string, now time.Time, then func(*store.Tx) error) error {
	b.begins(accepting)
	defer b.ends(accepting)
	return b.Store.AcceptAnd(ctx, carrier, got, cursor, now, func(tx *store.Tx) error {
		b.begins(hearing)
		defer b.ends(hearing)
		return then(tx)
	})
}

func (b *boarded) Claim(ctx context.Context, now time.Time, f store.ClaimFor, word func(*store.Envelope) error) ([]*store.Message, error) {
	w := claiming
	if f.Ended != nil {
		w = settling // and claiming the next
	}
	b.begins(w)
	defer b.ends(w)
	all, err := b.Store.Claim(ctx, now, f, word)
	for range f.Ended {
		if err == nil {
			b.ends(sending)
		}
	}
	for range all {
		b.begins(sending)
	}
	return all, err
}

func (b *boarded) Settle(ctx context.Context, attempt int64, o store.Outcome, now time.Time) error {
	b.ends(sending)
	b.begins(settling)
	defer b.ends(settling)
	return b.Store.Settle(ctx, attempt, o, now)
}

// TestABoardOutlivesWhoWroteOnIt: what it says is read by another who opened it.
func TestABoardOutlivesWhoWroteOnIt(t *testing.T) {
	path := t.TempDir() + "/board"
	one, err := openBoard(path)
	if err != nil {
		t.Fatal(err)
	}
	other, err := openBoard(path)
	if err != nil {
		t.Fatal(err)
	}
	one.startsAnew()
	if other.met() != starting {
		t.Errorf("a daemon that starts is %s", workNames[other.met()])
	}
	one.startedLongAgo()
	one.begins(sending)
	one.begins(claiming)
	if other.met() != claiming {
		t.Errorf("one that claims while it sends is %s", workNames[other.met()])
	}
	one.ends(claiming)
	one.ends(sending)
	if other.met() != waiting {
		t.Errorf("one that has ended its work is %s", workNames[other.met()])
	}
}
