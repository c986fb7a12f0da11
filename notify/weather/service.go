package weather

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/diary"
)

// DefaultBase is the public weather service of the United States.
const DefaultBase = "https://api.weather.gov"

// Feed is what is to be known of the public weather service.
type Feed struct {
	Base    string // empty: DefaultBase
	Contact string // the farm's mail address or web page, told to the service
	// Station is a station's identifier, such as KMHK; empty: the one nearest
	// to the point.
	Station string
	// Lat and Lon are the point to forecast for, in degrees; both NaN or both
	// zero: where the station is.
	Lat, Lon float64
	// Silence is how long without an observation is a fault (0: 6 h); a
	// forecast may be four times as old (assumptions).
	Silence time.Duration
	// Observe and Forecast are how often each is asked for at most (0: 20 min
	// and 1 h).
	Observe, Forecast time.Duration
}

// A Service asks the public weather service. It is a notify.Source and
// Checker.
type Service struct {
	feed   Feed
	now    func() time.Time
	jitter func() float64
}

var (
	_ notify.Source  = (*Service)(nil)
	_ notify.Checker = (*Service)(nil)
)

var stationName = regexp.MustCompile(`^[A-Z0-9]{3,8}$`)

// NewService returns a service, or what is wrong with its settings.
func NewService(f Feed, now func() time.Time) (*Service, error) {
	if f.Base == "" {
		f.Base = DefaultBase
	}
	f.Station = strings.ToUpper(f.Station)
	if math.IsNaN(f.Lat) && math.IsNaN(f.Lon) {
		f.Lat, f.Lon = 0, 0
	}
	if f.Station != "" && !stationName.MatchString(f.Station) {
		return nil, fmt.Errorf("weather station %q: want an identifier such as KMHK", f.Station)
	}
	if !(math.Abs(f.Lat) <= 90 && math.Abs(f.Lon) <= 180) {
		return nil, fmt.Errorf("weather point %v,%v: want latitude,longitude in degrees, such as 39.10,-96.61", f.Lat, f.Lon)
	}
	if f.Station == "" && f.Lat == 0 && f.Lon == 0 {
		return nil, errors.New("weather service: want a station or a point")
	}
	for _, d := range []struct {
		p  *time.Duration
		is time.Duration
	}{{&f.Silence, 6 * time.Hour}, {&f.Observe, 20 * time.Minute}, {&f.Forecast, time.Hour}} {
		if *d.p <= 0 {
			*d.p = d.is
		}
	}
	s := &Service{feed: f, now: now, jitter: rand.Float64}
	_, err := newFetcher(f.Base, f.Contact, now)
	return s, err
}

// Name is "service".
func (s *Service) Name() string { return diary.FromService }

// Run asks until ctx ends, and returns its error then.
func (s *Service) Run(ctx context.Context, observe notify.Observe, report func(error)) error {
	r, err := s.round(observe, report)
	if err != nil {
		return err
	}
	defer r.fetch.client.CloseIdleConnections()
	for ctx.Err() == nil {
		_ = notify.Wait(ctx, r.run(ctx))
	}
	return ctx.Err()
}

// Check asks once for everything and wants a fresh observation and a forecast.
func (s *Service) Check(ctx context.Context) error {
	r, err := s.round(func(context.Context, []diary.Observation) error { return nil }, func(error) {})
	if err != nil {
		return err
	}
	defer r.fetch.client.CloseIdleConnections()
	if err := r.observations(ctx); err != nil {
		return mended(err)
	}
	if err := r.forecast(ctx); err != nil {
		return mended(err)
	}
	if age := s.now().Sub(r.newest); age > s.feed.Silence {
		return fmt.Errorf("weather station %s has said nothing usable for %s; choose another station nearby", r.station, age.Round(time.Hour))
	}
	if r.issued.IsZero() {
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

// A round is what is kept from one asking to the next.
type round struct {
	*Service
	fetch   *fetcher
	observe notify.Observe
	health  health

	station  string
	lat, lon float64
	grid     string // path; empty until looked up

	obsDue, castDue     time.Time
	obsFailed, castFail int
	obsErr, castErr     error // of the last try
	newest, issued      time.Time
	asked               time.Time // the last good answer on observations
	began               time.Time
	sent                map[time.Time]float64
}

func (s *Service) round(observe notify.Observe, report func(error)) (*round, error) {
	f, err := newFetcher(s.feed.Base, s.feed.Contact, s.now)
	if err != nil {
		return nil, err
	}
	return &round{
		Service: s, fetch: f, observe: observe, health: health{report: report},
		station: s.feed.Station, lat: s.feed.Lat, lon: s.feed.Lon,
		began: s.now(), sent: map[time.Time]float64{},
	}, nil
}

// run asks for what is due and returns how long to wait.
func (r *round) run(ctx context.Context) time.Duration {
	now := r.now()
	if !now.Before(r.obsDue) {
		r.obsErr = r.observations(ctx)
		r.obsDue, r.obsFailed = r.next(r.obsErr, r.obsFailed, r.feed.Observe)
	}
	if !now.Before(r.castDue) && ctx.Err() == nil {
		r.castErr = r.forecast(ctx)
		r.castDue, r.castFail = r.next(r.castErr, r.castFail, r.feed.Forecast)
	}
	if ctx.Err() == nil {
		r.judge()
	}
	due := r.obsDue
	if r.castDue.Before(due) {
		due = r.castDue
	}
	return max(due.Sub(r.now()), time.Second)
}

// next is when to ask again: as often as set, spread by a tenth; after a
// failure sooner and then ever later; never before the service wants it.
func (r *round) next(err error, failed int, every time.Duration) (time.Time, int) {
	wait := every + time.Duration(r.jitter()*float64(every)/10)
	if err != nil {
		failed++
		wait = min(wait, backOff(failed, r.jitter()))
	} else {
		failed = 0
	}
	due := r.now().Add(wait)
	if r.fetch.until.After(due) {
		due = r.fetch.until.Add(time.Duration(r.jitter() * float64(30*time.Second)))
	}
	return due, failed
}

// judge tells once when there has been nothing usable for too long, and once
// when it is over. A single failure is ordinary and told to nobody.
func (r *round) judge() {
	newest, issued := r.newest, r.issued
	if newest.IsZero() {
		newest = r.began
	}
	if issued.IsZero() {
		issued = r.began
	}
	now := r.now()
	const caution = "no data does not mean no frost"
	switch {
	case now.Sub(newest) > r.feed.Silence:
		r.health.tell("observations", told("weather service: no usable observation of %s since %s; %s", r.station, newest, caution, r.obsErr))
	case now.Sub(issued) > 4*r.feed.Silence:
		r.health.tell("forecast", told("weather service: no usable forecast%s since %s; %s", "", issued, caution, r.castErr))
	case !r.newest.IsZero() && !r.issued.IsZero():
		r.health.tell("well", nil)
	}
}

func told(format, what string, since time.Time, caution string, cause error) error {
	err := fmt.Errorf(format, what, since.Format("Jan 2 15:04 MST"), caution)
	if cause != nil {
		return fmt.Errorf("%w: %w", err, mended(cause))
	}
	return err
}

// trimmed writes a coordinate with at most four decimals and no zeros at the
// end: the service sends any other form elsewhere first.
func trimmed(deg float64) string {
	return strconv.FormatFloat(math.Round(deg*1e4)/1e4, 'f', -1, 64)
}
