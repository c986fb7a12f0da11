package store

import (
	"context"

	"stubbled/store/disk"
)

// KeptPlan is the plan of where the herds eat that is kept, as its maker wrote it;
// empty for none.
func (s *Store) KeptPlan(ctx context.Context) (string, error) {
	return keptPlan(s.db.Look(ctx, "read the kept plan"))
}

// KeptPlan is the same within a transaction.
func (t *Tx) KeptPlan() (string, error) { return keptPlan(t.db) }

func keptPlan(q disk.Querier) (plan string, err error) {
	err = q.Row(`SELECT plan FROM clock WHERE id = 1`).Scan(&plan)
	return plan, err
}

// KeepPlan keeps another plan.
func (t *Tx) KeepPlan(plan string) error {
	_, err := t.db.Exec(`UPDATE clock SET plan = ? WHERE id = 1`, plan)
	return err
}
