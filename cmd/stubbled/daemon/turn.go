package daemon

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"reflect"
	"time"

	"stubbled/scheduler/ladder"
	"stubbled/store/disk"
	"stubbled/store/panics"
)

// Turn is one pass and one drain. A fault of the program is one of the turn:
// ended by it, the daemon would be started and end again, and nobody would hear
// of it.
func (d *Daemon) Turn(ctx context.Context) error { return d.turn(ctx, nil) }

// turn is one that takes what a receiver brought, where it is given some.
func (d *Daemon) turn(ctx context.Context, b *brought) error {
	now := d.Clock.Now()
	err := panics.Error(d.Log, func() error { return d.work(ctx, now, b) })
	if ctx.Err() != nil {
		return err // told to stop, which is no trouble
	}
	sure, troubles := d.sched.ClockSure(), d.sched.Troubles()
	d.state.learn(func() { d.state.sure, d.state.told = sure, troubles })
	d.clockDoubted(ctx, now)
	d.noteOutage(now)
	if err == nil || d.waits(ctx, err) {
		d.turned.Store(int64(d.Clock.SinceBoot()))
		tell(alive)
	}
	trouble := err
	if err == nil {
		trouble = d.store.Trouble() // a write that failed beside the turn, or a disk on its reserve
	}
	d.storeFails(ctx, trouble, now)
	tellStatus(d.state.line(trouble))
	return err
}

func (d *Daemon) work(ctx context.Context, now time.Time, b *brought) error {
	defer b.onlyKept()
	d.reload(ctx)
	d.look(ctx, now)
	d.passOn(now)
	proved, err := d.proved()
	if err != nil {
		return err
	}
	if heard, err := d.takes(ctx, b, now); err != nil {
		return fmt.Errorf("accept: %w", err)
	} else if !heard {
		if _, err := d.sched.Pass(ctx, now); err != nil {
			return fmt.Errorf("pass: %w", err)
		}
	}
	d.state.learn(func() { d.state.lastPass = now })
	if !proved {
		return nil // nothing goes out yet; the proof ends with a turn
	}
	if err := d.courier.Drain(ctx, now); err != nil {
		return fmt.Errorf("drain: %w", err)
	}
	d.lossTold(ctx)
	if err := d.store.Damaged(); err != nil && !d.state.has(diaryFault) {
		d.foundAtStart(diaryFault, "", err) // at once: waiting mends none of the facts that are left out
	}
	d.night.maybe(ctx, d, now)
	return d.store.Check(ctx)
}

// waits reports whether a turn that failed is best tried again. Where the disk is
// full or another program holds the database a new start mends nothing, as long
// as there is something to read; whatever else fails, the watchdog may try one.
func (d *Daemon) waits(ctx context.Context, err error) bool {
	if !errors.Is(err, disk.ErrFull) && !errors.Is(err, disk.ErrReadOnly) && !errors.Is(err, disk.ErrBusy) {
		return false
	}
	_, err = d.store.OptOuts(ctx)
	return err == nil
}

// farmFileFault is a farm file that is refused: the manager is told once, by name.
var farmFileFault = fault{ladder.AlarmFarmFile, "farm file"}

// reload takes a farm file that was changed on disk. One that is refused leaves
// the old one in force, and the manager is told once.
func (d *Daemon) reload(ctx context.Context) {
	if d.watcher == nil {
		return
	}
	farm, err := d.watcher.Check()
	if farm != nil {
		if other := d.store.Take(ctx, ownerOf(farm)); errors.Is(other, disk.ErrOtherFarm) {
			err = other
		}
	}
	switch {
	case err != nil:
		d.Log.Warn("the farm file on disk is refused; the old one stays in force", "err", err)
		d.state.fails(farmFileFault, failure{since: d.Clock.SinceBoot(), detail: err.Error(), elsewhere: true})
		sum := sha256.Sum256([]byte(err.Error()))
		d.sched.Use(nil, &ladder.BadFile{Digest: hex.EncodeToString(sum[:6]), Detail: err.Error()})
	case farm != nil:
		d.Log.Info("the farm file was read again")
		d.state.mended(farmFileFault)
		old := d.farm.Load()
		d.relinked = d.relinked || !reflect.DeepEqual(farm.Carriers, old.Carriers) || !reflect.DeepEqual(farm.Weather, old.Weather) ||
			farm.From != old.From || farm.Station != old.Station
		if d.relinked && !UnderService() {
			d.Log.Warn("carriers or weather were changed: that takes a restart of the daemon")
		}
		d.farm.Store(farm)
		KeepFarm(farm, d.DB, d.Log)
		d.sched.Use(farm, nil)
		d.courier.Use(d.rules())
	}
}
