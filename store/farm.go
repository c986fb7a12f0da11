package store

import (
	"context"
	"fmt"
	"strings"

	"stubbled/store/disk"
)

// Farm is whose database it is. One without a name is anybody's, as for a
// rehearsal.
type Farm struct {
	Name string
	Was  string // the name before, where the farm file says so
}

func (f Farm) is(name string) bool {
	return strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(f.Name))
}
func (f Farm) was(name string) bool { return f.Was != "" && Farm{Name: f.Was}.is(name) }

func farmIn(q disk.Querier) (name string, err error) {
	err = q.Row(`SELECT farm FROM clock WHERE id = 1`).Scan(&name)
	return name, err
}

// belongs refuses the database of another farm.
func (f Farm) belongs(name, path string) error {
	if f.Name == "" || name == "" || f.is(name) || f.was(name) {
		return nil
	}
	return &disk.Error{Kind: disk.ErrOtherFarm, Op: "open", Path: path, Err: fmt.Errorf("it is the database of %q, the farm file is that of %q", name, f.Name)}
}

// take makes the database that of a farm, where it is nobody's or the farm was
// renamed.
func (t *Tx) take(f Farm) error {
	name, err := farmIn(t.db)
	if err != nil || f.Name == "" || f.is(name) {
		return err
	}
	if err := f.belongs(name, t.s.Path()); err != nil {
		return err
	}
	_, err = t.db.Exec(`UPDATE clock SET farm = ? WHERE id = 1`, f.Name)
	return err
}

// Take is for a farm file that was edited while the store is open: ErrOtherFarm
// where it names another farm.
func (s *Store) Take(ctx context.Context, f Farm) error {
	name, err := farmIn(s.db.Look(ctx, "look whose database it is"))
	if err != nil || f.is(name) {
		return err
	}
	return s.Update(ctx, s.opened, func(t *Tx) error { return t.take(f) })
}

// KeptPlan is the plan of where the herds eat that is kept, as its maker wrote it;
// empty for none.
func (s *Store) KeptPlan(ctx context.Context) (plan string, err error) {
	err = s.db.Look(ctx, "read the kept plan").Row(`SELECT plan FROM clock WHERE id = 1`).Scan(&plan)
	return plan, err
}

// KeptPlan is the same within a transaction.
func (t *Tx) KeptPlan() (string, error) {
	far, err := t.farCome()
	return far.plan, err
}

// KeepPlan keeps another plan.
func (t *Tx) KeepPlan(plan string) error {
	t.far = nil
	_, err := t.db.Exec(`UPDATE clock SET plan = ? WHERE id = 1`, plan)
	return err
}
