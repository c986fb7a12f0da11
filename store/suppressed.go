package store

import (
	"context"
	"errors"
	"strings"
	"time"

	"stubbled/store/disk"
)

// Suppress says that the owner of an address opted out: nothing is claimed for
// it until Allow, but the one confirmation. It stays when the contact leaves
// the farm file. fresh is false where it was suppressed already; the first
// date stays.
func (t *Tx) Suppress(address, who, why string) (fresh bool, err error) {
	if address == "" {
		return false, errors.New("suppress: no address")
	}
	t.outs = nil
	n, err := t.db.Exec(`INSERT INTO suppressed (address, contact, why, at) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING`,
		sameAddress(address), who, clean(why), t.now.Unix())
	return n == 1, errors.Join(err, t.noteNews())
}

// Allow takes an opt-out back; was is false where there was none.
func (t *Tx) Allow(address string) (was bool, err error) {
	t.outs = nil
	n, err := t.db.Exec(`DELETE FROM suppressed WHERE address = ?`, sameAddress(address))
	return n == 1, errors.Join(err, t.noteNews())
}

// Suppressed reports whether the owner of an address opted out, and when.
func (t *Tx) Suppressed(address string) (at time.Time, yes bool, err error) {
	if t.outs == nil { // all at once: they are few, and a burst asks for each
		t.outs = map[string]time.Time{}
		err = disk.Each(t.db, func(r disk.Scanner) error {
			var of string
			var at time.Time
			err := r.Scan(&of, (*instant)(&at))
			t.outs[of] = at
			return err
		}, `SELECT address, at FROM suppressed`)
	}
	at, yes = t.outs[sameAddress(address)]
	return at, yes, err
}

// OptOut is an address whose owner opted out.
type OptOut struct {
	Address, Contact, Why string
	At                    time.Time
}

func optOuts(q disk.Querier) ([]OptOut, error) {
	return disk.All(q, func(r disk.Scanner) (o OptOut, err error) {
		err = r.Scan(&o.Address, &o.Contact, &o.Why, (*instant)(&o.At))
		return o, err
	}, `SELECT address, contact, why, at FROM suppressed ORDER BY at, address`)
}

// OptOuts gives every suppressed address, oldest first.
func (t *Tx) OptOuts() ([]OptOut, error) { return optOuts(t.db) }

// OptOuts is Tx.OptOuts for those who only look.
func (s *Store) OptOuts(ctx context.Context) ([]OptOut, error) {
	return optOuts(s.db.Look(ctx, "read opt-outs"))
}

// OptOutsIn reads the opt-outs of a database that cannot be written, or of a
// backup, of this program or of an earlier or later one.
func OptOutsIn(ctx context.Context, path string) ([]OptOut, error) {
	db, err := disk.OpenRead(ctx, path, disk.ErrOlder, disk.ErrNewer)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	return optOuts(db.Look(ctx, "read opt-outs"))
}

// sameAddress makes one of the ways to write an address: mail addresses are
// compared without regard to case.
func sameAddress(a string) string { return strings.ToLower(strings.TrimSpace(a)) }
