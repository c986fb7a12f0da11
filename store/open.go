package store

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"stubbled/store/disk"
)

// Options is what Open needs to know besides the path.
type Options struct {
	RunID  string       // names this run of the program in the attempts; required
	Now    time.Time    // the start, to date what the last run left open; required
	Logger *slog.Logger // nil: silent
	Farm   Farm         // whose database it must be
	// Volatile leaves out the sync of each commit: for a rehearsal, whose
	// database goes with it.
	Volatile bool
}

// Open takes the lock, brings the file to the newest schema and turns what the
// last run left under way into unknown outcomes. Its errors are those of
// disk.Open.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	if o.RunID == "" || o.Now.IsZero() {
		return nil, errors.New("open store: a run id and the time are needed")
	}
	s := &Store{run: o.RunID, log: o.Logger, opened: o.Now}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	db, err := disk.Open(ctx, path, disk.Options{Now: o.Now, Logger: s.log, Volatile: o.Volatile,
		Start: func(ctx context.Context, db *disk.DB) error { s.file, s.db = db, db; return s.recover(ctx, o) }})
	if err != nil {
		return nil, err
	}
	s.file, s.db = db, db
	return s, nil
}

// OpenBeside opens the database of a daemon that may be running, to put
// something in its inbox: Accept and all that only looks. The schema must be
// the current one, and the farm where one is named.
func OpenBeside(ctx context.Context, path string, of ...Farm) (*Store, error) {
	db, err := disk.OpenBeside(ctx, path)
	return looking(ctx, db, err, of)
}

// OpenRead opens the database to look at it. It never writes, takes no lock,
// and may be used beside a running daemon.
func OpenRead(ctx context.Context, path string, of ...Farm) (*Store, error) {
	db, err := disk.OpenRead(ctx, path)
	return looking(ctx, db, err, of)
}

func looking(ctx context.Context, db *disk.DB, err error, of []Farm) (*Store, error) {
	if err != nil {
		return nil, err
	}
	for _, f := range of {
		name, err := farmIn(db.Look(ctx, "look whose database it is"))
		if err = errors.Join(err, f.belongs(name, db.Path())); err != nil {
			return nil, errors.Join(err, db.Close())
		}
	}
	return &Store{file: db, db: db, run: "beside", log: slog.New(slog.DiscardHandler)}, nil
}

// recover judges what another run left under way: an unsafe carrier that had not
// let go of it tries again, of everything else the outcome is unknown.
func (s *Store) recover(ctx context.Context, o Options) error {
	n := 0
	err := s.writing(ctx, "take up the last run", o.Now, func(t *Tx) error {
		if err := t.take(o.Farm); err != nil {
			return err
		}
		open, err := disk.All(t.db, func(r disk.Scanner) (a left, err error) {
			err = r.Scan(&a.id, &a.held)
			return a, err
		}, `SELECT a.id, m.retry = ? AND a.going_at IS NULL FROM attempts a JOIN messages m ON m.id = a.message
			WHERE a.outcome IS NULL AND a.run <> ?`, Unsafe, s.run)
		if err != nil {
			return err
		}
		n = len(open)
		for _, a := range open {
			if err := t.settle(a.id, a.became()); err != nil {
				return err
			}
		}
		_, err = t.db.Exec(`UPDATE clock SET beat = beat + 1, run = ? WHERE id = 1`, s.run)
		return err
	})
	if n > 0 {
		s.log.Warn("the last run ended with messages under way", "messages", n)
	}
	return err
}

// left is an attempt that another run left under way.
type left struct {
	id   int64
	held bool // its carrier had not let go of the message
}

func (a left) became() Outcome {
	if a.held {
		return Outcome{State: TryAgain, Detail: "the program ended before it was handed over"}
	}
	return Outcome{State: NotKnown, Detail: "the program ended before the carrier answered"}
}
