package disk

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"stubbled/store/panics"
)

// Tx is one write transaction.
type Tx struct {
	ctx context.Context
	db  *DB
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
	// A context that can end costs a goroutine in every statement, and so does a
	// transaction of database/sql in every query. This one is begun and ended by
	// statements of its own on the one connection; it is short, and whether the
	// context ended is looked at before its commit.
	if err := ctx.Err(); err != nil {
		return d.Explain(op, err)
	}
	t := d.near(ctx)
	if _, err := t.Exec("BEGIN IMMEDIATE"); err != nil {
		return d.Explain(op, err)
	}
	// A fault of the program in one decision is a failure like any other.
	if err = panics.Error(d.log, func() error { return f(t) }); err == nil {
		err = ctx.Err()
	}
	if err == nil {
		_, err = t.Exec("COMMIT")
	}
	if err == nil {
		return nil
	}
	if _, undone := t.Exec("ROLLBACK"); undone != nil && !strings.Contains(undone.Error(), "no transaction is active") {
		return errors.Join(d.Explain(op, err), d.Explain("roll back", undone))
	}
	return d.Explain(op, err)
}

// near asks and writes through the connection that writes.
func (d *DB) near(ctx context.Context) *Tx { return &Tx{context.WithoutCancel(ctx), d} }

// Near lets f ask through the connection that writes, where there is one: it has in
// memory what was just written, which the others read from the disk again. It waits
// for the write in hand.
func (d *DB) Near(ctx context.Context, op string, f func(Querier) error) error {
	if d.Write == nil {
		return f(d.Look(ctx, op))
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.Explain(op, f(d.near(ctx)))
}

// Exec runs a statement and gives how many rows it changed.
func (t *Tx) Exec(q string, args ...any) (int64, error) {
	r, err := t.run(q, args)
	if err != nil {
		return 0, err
	}
	return r.RowsAffected()
}

// Insert puts one row in a table and gives its id, for less than a RETURNING costs.
func (t *Tx) Insert(q string, args ...any) (id int64, err error) {
	r, err := t.run(q, args)
	if err != nil {
		return 0, err
	}
	return r.LastInsertId()
}

func (t *Tx) run(q string, args []any) (sql.Result, error) {
	p, err := t.prepared(q)
	if err != nil {
		return nil, err
	}
	return p.ExecContext(t.ctx, args...)
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

// prepared gives a statement that is compiled once for the life of the store. There
// are some dozens.
func (t *Tx) prepared(q string) (*sql.Stmt, error) {
	if p := t.db.Kept[q]; p != nil {
		return p, nil
	}
	p, err := t.db.Write.PrepareContext(t.ctx, q)
	if err == nil {
		t.db.Kept[q] = p
	}
	return p, err
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
	op  string
}

// Look asks through a connection that cannot write.
func (d *DB) Look(ctx context.Context, op string) Look { return Look{ctx, d, op} }

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
	if p, ok := l.db.looks.Load(q); ok {
		return p.(*sql.Stmt), nil
	}
	p, err := l.db.Read.PrepareContext(l.ctx, q)
	if err == nil {
		l.db.looks.Store(q, p) // one of another who was as quick ends with the pool
	}
	return p, err
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
