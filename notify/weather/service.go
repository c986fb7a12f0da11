package weather

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/notify/terms"
	"stubbled/scheduler/diary"
)

// A Service asks the public weather service. It is a notify.Source and
// Checker.
type Service struct {
	feed   terms.Feed
	base   *url.URL
	now    func() time.Time
	jitter func() float64
}

var _ notify.Checker = (*Service)(nil)

var stationName = regexp.MustCompile(`^[A-Z0-9]{3,8}$`)

// NewService returns a service, as the farm file was checked to describe it.
func NewService(f terms.Feed, now func() time.Time) (*Service, error) {
	base, err := url.Parse(strings.TrimSuffix(f.URL, "/"))
	return &Service{feed: f, base: base, now: now, jitter: rand.Float64}, err
}

func (s *Service) Name() string { return diary.FromService }

// Run asks until ctx ends, and returns its error then.
func (s *Service) Run(ctx context.Context, observe notify.Observe, report func(error)) error {
	r := s.round(observe, report)
	defer r.fetch.client.CloseIdleConnections()
	for ctx.Err() == nil {
		_ = notify.Wait(ctx, r.run(ctx))
	}
	return ctx.Err()
}

// Check asks once for everything and wants a fresh observation and a forecast.
func (s *Service) Check(ctx context.Context) error {
	r := s.round(func(context.Context, []diary.Observation) error { return nil }, func(error) {})
	defer r.fetch.client.CloseIdleConnections()
	for _, q := range r.questions() {
		if err := q.ask(ctx); err != nil {
			return mended(err)
		}
	}
	if age := s.now().Sub(r.measured.newest); age > s.feed.Silence {
		return fmt.Errorf("weather station %s has said nothing usable for %s; choose another station nearby", r.station, age.Round(time.Hour))
	}
	if r.forecasts.newest.IsZero() {
		return errors.New("the weather service has no forecast of night temperatures for this point")
	}
	return nil
}

// mended adds what a person can do.
func mended(err error) error {
	var p *problem
	switch {
	case errors.As(err, &p) && p.Status == http.StatusNotFound:
		return fmt.Errorf("%w; check the station's identifier and the point (it covers the United States only)", err)
	case errors.As(err, &p) && p.Status == http.StatusForbidden:
		return fmt.Errorf("%w; give a contact that is yours, the service refuses callers without one", err)
	case errors.As(err, &p):
		return fmt.Errorf("%w; it will be tried again", err)
	}
	return fmt.Errorf("%w; check that this machine is online and its clock is right", err)
}

// A question is asked of the service again and again.
type question struct {
	about   string // in the alarm that it was not answered for too long
	ask     func(context.Context) error
	every   time.Duration
	silence time.Duration

	due    time.Time
	failed int       // in a row
	err    error     // of the last try
	newest time.Time // what the service said last is of this time
}

// heard keeps the time of the newest of what was handed on.
func (q *question) heard(at time.Time) {
	if at.After(q.newest) {
		q.newest = at
	}
}

// A round is what is kept from one asking to the next.
type round struct {
	*Service
	fetch   *fetcher
	observe notify.Observe
	health  health

	station  string
	lat, lon float64
	grid     string // path; empty until looked up

	measured, forecasts question
	asked               time.Time // the last good answer on what was measured
	began               time.Time
	sent                map[time.Time]float64
}

func (s *Service) round(observe notify.Observe, report func(error)) *round {
	r := &round{
		Service: s, fetch: newFetcher(s.base, s.feed.Contact, s.now), observe: observe, health: health{report: report},
		station: s.feed.Station, began: s.now(), sent: map[time.Time]float64{},
	}
	if at := s.feed.Point; at != nil {
		r.lat, r.lon = at.Lat, at.Lon
	}
	r.measured = question{about: "observation", ask: r.observations, every: s.feed.Observe, silence: s.feed.Silence}
	r.forecasts = question{about: "forecast", ask: r.forecast, every: s.feed.Forecast, silence: 4 * s.feed.Silence}
	return r
}

func (r *round) questions() []*question { return []*question{&r.measured, &r.forecasts} }

// run asks for what is due and returns how long to wait.
func (r *round) run(ctx context.Context) time.Duration {
	now := r.now()
	for _, q := range r.questions() {
		if !now.Before(q.due) && ctx.Err() == nil {
			q.err = q.ask(ctx)
			r.next(q)
		}
	}
	if ctx.Err() == nil {
		r.judge()
	}
	due := r.measured.due
	if r.forecasts.due.Before(due) {
		due = r.forecasts.due
	}
	return max(due.Sub(r.now()), time.Second)
}

// next is when to ask again: as often as set, spread by a tenth; after a
// failure sooner and then ever later; never before the service wants it.
func (r *round) next(q *question) {
	wait := q.every + time.Duration(r.jitter()*float64(q.every)/10)
	if q.err == nil {
		q.failed = 0
	} else {
		q.failed++
		wait = min(wait, backOff(q.failed, r.jitter()))
	}
	q.due = r.now().Add(wait)
	if r.fetch.until.After(q.due) {
		q.due = r.fetch.until.Add(time.Duration(r.jitter() * float64(30*time.Second)))
	}
}

func backOff(failed int, jitter float64) time.Duration {
	return notify.ReconnectAfter(failed, 30*time.Second, 30*time.Minute, jitter)
}

// judge tells once when there has been nothing usable for too long, and once
// when it is over. A single failure is ordinary and told to nobody.
func (r *round) judge() {
	for _, q := range r.questions() {
		since := q.newest
		if since.IsZero() {
			since = r.began
		}
		if r.now().Sub(since) > q.silence {
			r.health.tell(q.about, r.silent(q, since))
			return
		}
	}
	if !r.measured.newest.IsZero() && !r.forecasts.newest.IsZero() {
		r.health.tell("well", nil)
	}
}

func (r *round) silent(q *question, since time.Time) error {
	what := q.about
	if q == &r.measured {
		what += " of " + r.station
	}
	err := fmt.Errorf("weather service: no usable %s since %s; no data does not mean no frost", what, since.Format("Jan 2 15:04 MST"))
	if q.err != nil {
		return fmt.Errorf("%w: %w", err, mended(q.err))
	}
	return err
}

// trimmed writes a coordinate with at most four decimals and no zeros at the
// end: the service sends any other form elsewhere first.
func trimmed(deg float64) string {
	return strconv.FormatFloat(math.Round(deg*1e4)/1e4, 'f', -1, 64)
}
