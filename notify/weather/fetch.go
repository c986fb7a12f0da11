package weather

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"stubbled/notify"
)

// Bounds on talking to the service.
const (
	maxAnswer  = 8 << 20 // a day of five-minute observations is below 1 MiB
	maxProblem = 16 << 10
	maxWait    = 6 * time.Hour // of what the service may ask us to wait
	patience   = time.Minute   // for a whole answer
)

// A fetcher asks one host politely: it says who asks, asks again only what may
// have changed and when it may have, and waits as long as it is told to.
type fetcher struct {
	base     *url.URL
	agent    string
	client   *http.Client
	now      func() time.Time
	answers  map[string]*answer
	until    time.Time // the service asked not to be asked before
	patience time.Duration
}

// An answer is what the service said last to a question.
type answer struct {
	etag, modified string
	fresh          time.Time // not to be asked again before
}

// errNotModified: the last answer still holds.
var errNotModified = errors.New("not modified")

// A problem is an answer that says what is wrong (RFC 9457).
type problem struct {
	Status        int    `json:"status"`
	Title         string `json:"title"`
	Detail        string `json:"detail"`
	CorrelationID string `json:"correlationId"`

	after time.Duration
}

func (p *problem) Error() string {
	s := fmt.Sprintf("the weather service answers %d", p.Status)
	for _, w := range []string{p.Title, p.Detail} {
		if w != "" {
			s += ": " + notify.Brief(w)
		}
	}
	if p.CorrelationID != "" {
		s += " (correlation id " + notify.Brief(p.CorrelationID) + ")"
	}
	return s
}

func newFetcher(base *url.URL, contact string, now func() time.Time) *fetcher {
	f := &fetcher{base: base, agent: "stubbled (" + notify.OneLine(contact) + ")", now: now, answers: map[string]*answer{}, patience: patience}
	f.client = &http.Client{CheckRedirect: f.redirect, Transport: http.DefaultTransport.(*http.Transport).Clone()}
	return f
}

// redirect follows within the host, three times at most.
func (f *fetcher) redirect(r *http.Request, via []*http.Request) error {
	if r.URL.Host != f.base.Host || r.URL.Scheme != f.base.Scheme {
		return fmt.Errorf("the weather service sends us to another host, %q; not followed", r.URL.Host)
	}
	if len(via) > 3 {
		return errors.New("the weather service sends us round in circles")
	}
	return nil
}

// get asks for a path and decodes the answer into v. errNotModified says that
// the last one still holds, or may not be asked for yet.
func (f *fetcher) get(ctx context.Context, path string, v any) error {
	if f.now().Before(f.until) {
		return fmt.Errorf("the weather service asked for a pause until %s", f.until.Format("15:04 MST"))
	}
	old := f.answers[path]
	if old != nil && f.now().Before(old.fresh) {
		return errNotModified
	}
	ctx, cancel := context.WithTimeout(ctx, f.patience)
	defer cancel()
	r, err := f.request(ctx, path, old)
	if err != nil {
		return err
	}
	resp, err := f.client.Do(r)
	if err != nil {
		return plainly(err)
	}
	defer resp.Body.Close()
	switch {
	case resp.StatusCode == http.StatusNotModified && old != nil:
		old.fresh = f.freshUntil(resp.Header)
		return errNotModified
	case resp.StatusCode != http.StatusOK:
		return f.problem(resp)
	}
	body, err := io.ReadAll(io.LimitReader(resp.Body, maxAnswer+1))
	if err != nil {
		return fmt.Errorf("the weather service broke off in its answer: %w", plainly(err))
	}
	if len(body) > maxAnswer {
		return fmt.Errorf("the weather service answers with more than %d MiB; not read", maxAnswer>>20)
	}
	if err := json.Unmarshal(body, v); err != nil {
		return fmt.Errorf("the weather service's answer is not what it documents: %w", err)
	}
	f.answers[path] = &answer{etag: resp.Header.Get("ETag"), modified: resp.Header.Get("Last-Modified"), fresh: f.freshUntil(resp.Header)}
	return nil
}

// look asks for a path whatever was answered before.
func (f *fetcher) look(ctx context.Context, path string, v any) error {
	delete(f.answers, path)
	return f.get(ctx, path, v)
}

func (f *fetcher) request(ctx context.Context, path string, old *answer) (*http.Request, error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, f.base.String()+path, nil)
	if err != nil {
		return nil, err
	}
	r.Header.Set("User-Agent", f.agent)
	r.Header.Set("Accept", "application/geo+json, application/json;q=0.5")
	if old != nil && old.etag != "" {
		r.Header.Set("If-None-Match", old.etag)
	}
	if old != nil && old.modified != "" {
		r.Header.Set("If-Modified-Since", old.modified)
	}
	return r, nil
}

// freshUntil honours max-age less Age (RFC 9111 section 4.2), up to maxWait.
func (f *fetcher) freshUntil(h http.Header) time.Time {
	for d := range strings.SplitSeq(h.Get("Cache-Control"), ",") {
		name, value, _ := strings.Cut(strings.TrimSpace(d), "=")
		if n, err := strconv.Atoi(strings.Trim(value, `"`)); err == nil && strings.EqualFold(name, "max-age") {
			age, _ := strconv.Atoi(h.Get("Age"))
			return f.now().Add(min(maxWait, max(0, time.Duration(n-max(age, 0))*time.Second)))
		}
	}
	return f.now()
}

func (f *fetcher) problem(resp *http.Response) error {
	p := &problem{}
	if body, _ := io.ReadAll(io.LimitReader(resp.Body, maxProblem)); json.Unmarshal(body, p) != nil {
		*p = problem{}
	}
	p.Status = resp.StatusCode
	p.Title = cmp.Or(p.Title, http.StatusText(resp.StatusCode))
	if p.after = notify.RetryAfter(resp.Header.Get("Retry-After"), f.now(), maxWait); p.after > 0 {
		f.until = f.now().Add(p.after)
	}
	return p
}

// plainly says what went wrong on the way, without the address asked for.
func plainly(err error) error {
	var u *url.Error
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		return fmt.Errorf("the weather service does not answer in time: %w", context.DeadlineExceeded)
	case errors.As(err, &u):
		return fmt.Errorf("the weather service cannot be reached: %w", u.Err)
	}
	return err
}

// forget drops what the answers were, so that they are asked for whole.
func (f *fetcher) forget() { clear(f.answers) }
