package disk

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"stubbled/store/panics"
)

// Tx is one write transaction.
type Tx struct {
	ctx context.Context
	tx  *sql.Tx
	db  *DB
	own map[string]*sql.Stmt
}

// Update runs f in one write transaction and commits it when f returns nil;
// otherwise nothing of it stays. Nothing slow may happen inside.
func (d *DB) Update(ctx context.Context, op string, f func(*Tx) error) (err error) {
	if d.Write == nil {
		return fmt.Errorf("%s: %w: opened only to look", op, ErrBeside)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	defer func() { d.wrote(err) }()
	if err := d.keep(ctx); err != nil {
		return d.Explain(op, err)
	}
	// A context that can end costs a goroutine in every statement; a transaction is
	// short, and whether it ended is looked at before its commit.
	if err := ctx.Err(); err != nil {
		return d.Explain(op, err)
	}
	whole := context.WithoutCancel(ctx)
	tx, err := d.Write.BeginTx(whole, nil)
	if err != nil {
		return d.Explain(op, err)
	}
	t := &Tx{ctx: whole, tx: tx, db: d}
	// A fault of the program in one decision is a failure like any other.
	if err = panics.Error(d.log, func() error { return f(t) }); err == nil {
		err = ctx.Err()
	}
	if err == nil {
		err = tx.Commit()
	}
	if err == nil {
		return nil
	}
	if undone := tx.Rollback(); undone != nil && !errors.Is(undone, sql.ErrTxDone) {
		return errors.Join(d.Explain(op, err), d.Explain("roll back", undone))
	}
	return d.Explain(op, err)
}

// Exec runs a statement and gives how many rows it changed.
func (t *Tx) Exec(q string, args ...any) (int64, error) {
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

// Row asks for one row.
func (t *Tx) Row(q string, args ...any) Scanner {
	p, err := t.prepared(q)
	if err != nil {
		return failed{err}
	}
	return p.QueryRowContext(t.ctx, args...)
}

// Query asks for rows.
func (t *Tx) Query(q string, args ...any) (*sql.Rows, error) {
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
	if p := t.db.Kept[q]; p != nil {
		t.own[q] = t.tx.StmtContext(t.ctx, p)
	} else if t.own[q], err = t.tx.PrepareContext(t.ctx, q); err == nil {
		t.db.Kept[q] = nil // to be kept
	}
	return t.own[q], err
}

// keep compiles what the last transactions used and the store has not kept
// yet. It must run between transactions: there is one connection.
func (d *DB) keep(ctx context.Context) error {
	for q, p := range d.Kept {
		if p != nil {
			continue
		}
		p, err := d.Write.PrepareContext(ctx, q)
		if err != nil {
			return err
		}
		d.Kept[q] = p
	}
	return nil
}

// failed is a row that could not be asked for.
type failed struct{ err error }

func (f failed) Scan(...any) error { return f.err }

// Scanner is a row to read.
type Scanner interface{ Scan(...any) error }

// Querier is who asks: a transaction, or one who only looks.
type Querier interface {
	Row(q string, args ...any) Scanner
	Query(q string, args ...any) (*sql.Rows, error)
	explain(error) error
}

func (t *Tx) explain(err error) error { return err } // Update does

// Look is who only looks, and what for.
type Look struct {
	ctx context.Context
	db  *DB
	by  *sql.DB
	op  string
}

// Look asks through a connection that cannot write.
func (d *DB) Look(ctx context.Context, op string) Look { return Look{ctx, d, d.Read, op} }

// Near asks through the one that writes, where there is one: it has in memory what
// was just written, which the others read from the disk again. It waits for the
// write in hand, and its rows must be read to their end before the next.
func (d *DB) Near(ctx context.Context, op string) Look {
	if d.Write == nil {
		return d.Look(ctx, op)
	}
	return Look{context.WithoutCancel(ctx), d, d.Write, op}
}

func (l Look) explain(err error) error { return l.db.Explain(l.op, err) }

// Row asks for one row.
func (l Look) Row(q string, args ...any) Scanner {
	p, err := l.prepared(q)
	if err != nil {
		return failed{l.explain(err)}
	}
	return explained{p.QueryRowContext(l.ctx, args...), l}
}

// Query asks for rows.
func (l Look) Query(q string, args ...any) (*sql.Rows, error) {
	p, err := l.prepared(q)
	if err != nil {
		return nil, l.explain(err)
	}
	rows, err := p.QueryContext(l.ctx, args...)
	return rows, l.explain(err)
}

// prepared gives a statement that is compiled once for the life of the store.
func (l Look) prepared(q string) (*sql.Stmt, error) {
	if p, ok := l.db.looks.Load(look{l.by, q}); ok {
		return p.(*sql.Stmt), nil
	}
	p, err := l.by.PrepareContext(l.ctx, q)
	if err == nil {
		l.db.looks.Store(look{l.by, q}, p) // one of another who was as quick ends with the pool
	}
	return p, err
}

// look is a statement and the connections that it was compiled for.
type look struct {
	by *sql.DB
	q  string
}

type explained struct {
	Scanner
	by Look
}

func (e explained) Scan(to ...any) error { return e.by.explain(e.Scanner.Scan(to...)) }

// Each hands the rows of a query to f one by one.
func Each(q Querier, f func(Scanner) error, query string, args ...any) error {
	rows, err := q.Query(query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return err
		}
	}
	return q.explain(rows.Err())
}

// All gives the rows of a query.
func All[T any](q Querier, scan func(Scanner) (T, error), query string, args ...any) (all []T, err error) {
	err = Each(q, func(r Scanner) error {
		v, err := scan(r)
		all = append(all, v)
		return q.explain(err)
	}, query, args...)
	if err != nil {
		return nil, err
	}
	return all, nil
}

// One scans rows of a single column.
func One[T any](r Scanner) (v T, err error) {
	err = r.Scan(&v)
	return v, err
}
