package daemon

import "context"

// A proof is the reading of every page of the database. It is made beside the
// first turn, so that a long history keeps no start waiting; but nothing goes
// out before it is done: a page of zeros reads well, and may be the one that
// says who opted out.
type proof struct {
	done chan struct{}
	err  error // once done
}

func (d *Daemon) prove(ctx context.Context) {
	p, s := &proof{done: make(chan struct{})}, d.store
	d.proof = p
	go func() {
		p.err = s.QuickCheck(ctx)
		close(p.done)
		d.nudge()
	}()
}

// proved reports whether the proof is done, and what it found.
func (d *Daemon) proved() (done bool, err error) {
	select {
	case <-d.proof.done:
		return true, d.proof.err
	default:
		return false, nil
	}
}
