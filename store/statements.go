package store

import (
	"context"
	"database/sql"
)

func (t *Tx) exec(q string, args ...any) (int64, error) {
	p, err := t.prepared(q)
	if err != nil {
		return 0, err
	}
	r, err := p.ExecContext(t.ctx, args...)
	if err != nil {
		return 0, err
	}
	return r.RowsAffected()
}

func (t *Tx) row(q string, args ...any) scanner {
	p, err := t.prepared(q)
	if err != nil {
		return failed{err}
	}
	return p.QueryRowContext(t.ctx, args...)
}

func (t *Tx) query(q string, args ...any) (*sql.Rows, error) {
	p, err := t.prepared(q)
	if err != nil {
		return nil, err
	}
	return p.QueryContext(t.ctx, args...)
}

// prepared gives a compiled statement. The first time a statement is compiled
// for its transaction; from the next one on it is kept for the life of the
// store. There are some dozens.
func (t *Tx) prepared(q string) (*sql.Stmt, error) {
	if p := t.own[q]; p != nil {
		return p, nil
	}
	if t.own == nil {
		t.own = map[string]*sql.Stmt{}
	}
	var err error
	if p := t.s.kept[q]; p != nil {
		t.own[q] = t.tx.StmtContext(t.ctx, p)
	} else if t.own[q], err = t.tx.PrepareContext(t.ctx, q); err == nil {
		t.s.kept[q] = nil // to be kept
	}
	return t.own[q], err
}

// keep compiles what the last transactions used and the store has not kept
// yet. It must run between transactions: there is one connection.
func (s *Store) keep(ctx context.Context) error {
	for q, p := range s.kept {
		if p != nil {
			continue
		}
		p, err := s.write.PrepareContext(ctx, q)
		if err != nil {
			return err
		}
		s.kept[q] = p
	}
	return nil
}

// failed is a row that could not be asked for.
type failed struct{ err error }

func (f failed) Scan(...any) error { return f.err }
