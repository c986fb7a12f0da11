package weather

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/notify/terms"
	"stubbled/scheduler/diary"
)

// A Log is a thermometer's, and the zone of times that name none: the farm's. A
// Place that is empty is the file's name.
type Log struct {
	terms.Thermometer
	Zone *time.Location
}

// lookBack is how old a reading may be that is still handed over when a log is
// read anew. What was handed over before is known by its time.
const lookBack = 8 * 24 * time.Hour

// A Thermometer watches a log. It is a notify.Source and Checker.
type Thermometer struct {
	log Log
	now func() time.Time
}

var _ notify.Checker = (*Thermometer)(nil)

func NewThermometer(l Log, now func() time.Time) *Thermometer {
	l.Place = cmp.Or(l.Place, filepath.Base(l.File))
	return &Thermometer{log: l, now: now}
}

func (t *Thermometer) Name() string { return diary.FromThermometer }

// Run watches until ctx ends, and returns its error then.
func (t *Thermometer) Run(ctx context.Context, observe notify.Observe, report func(error)) error {
	w := t.watch(report)
	defer w.tail.close()
	tick := time.NewTicker(t.log.Every)
	defer tick.Stop()
	for {
		w.look(ctx, observe)
		select {
		case <-tick.C:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// Check reads the log once and wants a reading in it that is not too old.
func (t *Thermometer) Check(ctx context.Context) error {
	var err error
	w := t.watch(func(e error) { err = e })
	defer w.tail.close()
	w.look(ctx, func(context.Context, []diary.Observation) error { return nil })
	if err == nil && w.latest.IsZero() {
		err = fmt.Errorf("thermometer log %q: no reading in it yet; check the logger", t.log.File)
	}
	return err
}

func (t *Thermometer) watch(report func(error)) *watch {
	return &watch{
		Thermometer: t,
		tail:        tail{path: t.log.File},
		health:      health{report: report},
		clock:       clock{zone: t.log.Zone, dayFirst: t.log.DayFirst},
		began:       t.now(),
	}
}

// A watch is what is kept from one look at the log to the next.
type watch struct {
	*Thermometer
	tail   tail
	health health
	clock  clock
	began  time.Time

	layout  *layout // nil until the first lines told
	unclear error   // why they have not
	junk    int     // lines in a row that are no reading
	why     error   // of the last of them
	latest  time.Time
	low     float64   // the lowest of the ten minutes that begin at from
	from    time.Time //
	got     []diary.Observation
}

// look reads what is new and tells how the log is.
func (w *watch) look(ctx context.Context, observe notify.Observe) {
	err := w.tail.read(w.again, w.line)
	if errors.Is(err, os.ErrNotExist) {
		w.health.tell("absent", fmt.Errorf("thermometer log %q is not there; check the path and the logger", w.log.File))
		return
	}
	if err != nil {
		w.health.tell("unread", fmt.Errorf("thermometer log: %w; the service must be allowed to read it", err))
		return
	}
	if w.got, err = handOver(ctx, observe, w.got); err != nil {
		w.health.tell("store", fmt.Errorf("thermometer readings cannot be stored: %w", err))
		return // what is left is kept for the next look
	}
	w.judge()
}

// judge tells whether the log is fit to be relied on.
func (w *watch) judge() {
	since := w.latest
	if since.IsZero() {
		since = w.began
	}
	switch silent := w.now().Sub(since) > w.log.Silence; {
	case w.layout == nil && w.unclear != nil:
		w.health.tell("layout", fmt.Errorf("thermometer log %q: %w", w.log.File, w.unclear))
	case w.junk >= 10:
		w.health.tell("junk", fmt.Errorf("thermometer log %q:%d: the last %d lines are no readings: %w", w.log.File, w.tail.number, w.junk, w.why))
	case silent && !w.latest.IsZero():
		w.health.tell("silent", fmt.Errorf("thermometer log %q: no reading since %s; check the sensor, its battery and the logger (no reading does not mean no frost)",
			w.log.File, w.latest.In(w.log.Zone).Format("Jan 2 15:04")))
	case silent:
		w.health.tell("silent", fmt.Errorf("thermometer log %q: no reading yet; check the sensor and the logger (no reading does not mean no frost)", w.log.File))
	case !w.latest.IsZero():
		w.health.tell("well", nil)
	}
}

// again: what follows begins with a first line.
func (w *watch) again() {
	w.layout, w.unclear, w.junk = nil, nil, 0
	w.clock.last, w.from = time.Time{}, time.Time{}
}

// preamble is how many lines a logger may write before its header.
const preamble = 10

func (w *watch) line(number int, text string) {
	if w.layout == nil {
		w.first(number, text)
		if w.layout == nil || w.layout.header {
			return
		}
	}
	at, c, err := w.layout.parse(text, w.clock)
	if err == nil && at.After(w.now().Add(time.Hour)) {
		err = fmt.Errorf("time %s lies ahead; check the logger's clock", at.In(w.log.Zone).Format("2006-01-02 15:04"))
	}
	if err != nil {
		w.junk, w.why = w.junk+1, err
		return
	}
	w.junk, w.clock.last = 0, at
	if at.After(w.latest) {
		w.latest = at
	}
	w.take(at, c)
}

// first looks for the layout in the first lines.
func (w *watch) first(number int, text string) {
	if number == 1 {
		if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
			w.unclear = errors.New("it is written in UTF-16; have the logger write UTF-8")
			return
		}
		text = strings.TrimPrefix(text, "\ufeff")
	}
	if text == "" || number > preamble || w.unclear != nil && !errors.Is(w.unclear, errPreamble) {
		return
	}
	l, err := sniff(text, w.log.Unit, w.log.Column)
	w.unclear = err
	if err == nil {
		w.layout = &l
	}
}

// take hands over the first reading of each ten minutes and each that is
// lower: what a minimum needs, however often a logger writes.
func (w *watch) take(at time.Time, c float64) {
	if w.now().Sub(at) > lookBack {
		return
	}
	from := at.Truncate(10 * time.Minute)
	if from.Equal(w.from) && c >= w.low {
		return
	}
	w.from, w.low = from, c
	w.got = append(w.got, diary.Observation{Source: diary.FromThermometer, Place: w.log.Place, At: at, MinC: c})
}
