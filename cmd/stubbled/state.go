package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"log/slog"
	"os"
	"slices"
	"sync"
	"time"

	systemd "github.com/coreos/go-systemd/v22/daemon"
	"github.com/golang-sql/civil"

	"stubbled/notify/email"
	"stubbled/notify/sms"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// state is how the machine is, for the person and for the service manager.
type state struct {
	mu       sync.Mutex
	started  time.Time
	lastPass time.Time
	failing  map[string]time.Time // since when
	backup   time.Time
	unsaid   int
}

func newState(now time.Time) *state { return &state{started: now, failing: map[string]time.Time{}} }

// fails notes a fault and gives since when it lasts.
func (s *state) fails(what string, err error, now time.Time) time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	since, ok := s.failing[what]
	if !ok {
		since = now
		s.failing[what] = now
	}
	return since
}

func (s *state) well(what string) (was bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, was = s.failing[what]
	delete(s.failing, what)
	return was
}

func (s *state) passed(now time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.lastPass = now
}

// ready tells the service manager that the first pass was made. Outside of a
// service nobody listens.
func (s *state) ready()    { _, _ = systemd.SdNotify(false, systemd.SdNotifyReady) }
func (s *state) stopping() { _, _ = systemd.SdNotify(false, systemd.SdNotifyStopping) }

// feed feeds the watchdog: only after a pass, and only while the store answers.
func (s *state) feed(ctx context.Context, st *store.Store) {
	if st.Check(ctx) == nil {
		_, _ = systemd.SdNotify(false, systemd.SdNotifyWatchdog)
	}
}

// note keeps what the health socket tells besides.
func (s *state) note(unsaid int, backup time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.unsaid, s.backup = unsaid, backup
}

func (s *state) troubles() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []string
	for what := range s.failing {
		all = append(all, what)
	}
	slices.Sort(all)
	return all
}

// look gathers the health of the machine for `status` and the Monday mail.
func (d *daemon) look(ctx context.Context, now time.Time) {
	h := ladder.Health{Failing: d.state.troubles(), OK: true}
	h.OK = len(h.Failing) == 0
	unsaid, err := d.store.NotSaid(ctx, now.AddDate(0, 0, -7))
	if err != nil {
		d.log.Warn("what could not be said is not known", "err", err)
	}
	for _, u := range unsaid {
		h.NotSaid = append(h.NotSaid, ladder.NotSaid{
			To: u.Notice.To, Paddock: u.Notice.Facts.Name, Why: u.Why, Kind: u.Notice.Kind,
			Day: civil.DateOf(u.Changed.In(d.farm.Zone)),
		})
	}
	h.Unsent = len(h.NotSaid)
	if !d.night.done.IsZero() {
		h.LastBackup = civil.DateOf(d.night.done.In(d.farm.Zone))
	}
	d.state.note(h.Unsent, d.night.done)
	d.sched.SetHealth(h)
}

// storeTrouble tells over a carrier what is wrong with the disk or database.
func (d *daemon) storeTrouble(err error, now time.Time) {
	what := ladder.AlarmDatabase
	if errors.Is(err, store.ErrFull) || errors.Is(err, store.ErrReadOnly) || errors.Is(err, store.ErrIO) {
		what = ladder.AlarmDisk
	}
	if err == nil {
		err = d.store.Trouble() // a write that failed beside the turn, or a disk on its reserve
	}
	if err == nil {
		d.trouble(ladder.AlarmDatabase, "", nil, now)
		d.trouble(ladder.AlarmDisk, "", nil, now)
		return
	}
	if errors.Is(err, store.ErrFull) {
		what = ladder.AlarmDisk
	}
	d.trouble(what, "", err, now)
}

func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:6])
}

// logger writes for the journal where there is one, else for a person. Phone
// numbers and addresses are shortened, whoever logs them.
func logger(e *env) *slog.Logger {
	o := &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		switch a.Key {
		case "phone":
			return slog.String(a.Key, sms.PhoneShort(a.Value.String()))
		case "email":
			return slog.String(a.Key, email.Short(a.Value.String()))
		case slog.TimeKey:
			if os.Getenv("JOURNAL_STREAM") != "" {
				return slog.Attr{}
			}
		}
		return a
	}}
	return slog.New(slog.NewTextHandler(e.err, o))
}
