package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// Suppress says that the owner of an address opted out: nothing is claimed for
// it until Allow, but the one confirmation. It stays when the contact leaves
// the farm file. fresh is false where it was suppressed already; the first
// date stays.
func (t *Tx) Suppress(address, who, why string) (fresh bool, err error) {
	if address == "" {
		return false, errors.New("suppress: no address")
	}
	n, err := t.exec(`INSERT INTO suppressed (address, contact, why, at) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING`,
		sameAddress(address), who, clean(why), t.now.Unix())
	return n == 1, err
}

// Allow takes an opt-out back; was is false where there was none.
func (t *Tx) Allow(address string) (was bool, err error) {
	n, err := t.exec(`DELETE FROM suppressed WHERE address = ?`, sameAddress(address))
	return n == 1, err
}

// Suppressed reports whether the owner of an address opted out, and when.
func (t *Tx) Suppressed(address string) (at time.Time, yes bool, err error) {
	var n int64
	err = t.row(`SELECT at FROM suppressed WHERE address = ?`, sameAddress(address)).Scan(&n)
	if errors.Is(err, sql.ErrNoRows) {
		return time.Time{}, false, nil
	}
	return time.Unix(n, 0).UTC(), err == nil, err
}

// OptOut is an address whose owner opted out.
type OptOut struct {
	Address, Contact, Why string
	At                    time.Time
}

const optOuts = `SELECT address, contact, why, at FROM suppressed ORDER BY at, address`

// OptOuts gives every suppressed address, oldest first.
func (t *Tx) OptOuts() ([]OptOut, error) {
	rows, err := t.query(optOuts)
	if err != nil {
		return nil, err
	}
	return collect(rows, scanOptOut)
}

// OptOuts is Tx.OptOuts for those who only look.
func (s *Store) OptOuts(ctx context.Context) ([]OptOut, error) {
	rows, err := s.read.QueryContext(ctx, optOuts)
	if err != nil {
		return nil, s.explain("read opt-outs", err)
	}
	got, err := collect(rows, scanOptOut)
	return got, s.explain("read opt-outs", err)
}

// OptOutsIn reads the opt-outs of a database that cannot be written, or of a
// backup, of this program or of an earlier or later one.
func OptOutsIn(ctx context.Context, path string) ([]OptOut, error) {
	s, err := newStore(path, Options{})
	if err != nil {
		return nil, err
	}
	defer s.Close()
	if err := s.openRead(ctx); err != nil && !errors.Is(err, ErrOlder) && !errors.Is(err, ErrNewer) {
		return nil, err
	}
	return s.OptOuts(ctx)
}

func scanOptOut(r scanner) (OptOut, error) {
	var o OptOut
	var at int64
	err := r.Scan(&o.Address, &o.Contact, &o.Why, &at)
	o.At = time.Unix(at, 0).UTC()
	return o, err
}

// sameAddress makes one of the ways to write an address: mail addresses are
// compared without regard to case.
func sameAddress(a string) string { return strings.ToLower(strings.TrimSpace(a)) }
