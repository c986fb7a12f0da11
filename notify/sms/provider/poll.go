package provider

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"time"

	"stubbled/notify"
	"stubbled/notify/terms"
)

// Bounds of a poll.
const (
	maxPage  = 16 << 20 // of a service that lists everything it ever had
	maxItems = 2000
	batch    = 50
)

// tooBusy is an answer that asks for patience.
type tooBusy struct {
	code  int
	after time.Duration
}

func (e *tooBusy) Error() string { return refusalOf(e.code).words + fmt.Sprintf(" (%d)", e.code) }

// poll asks once for what came in since the cursor, has it accepted, and gives
// the new cursor.
func (p *Provider) poll(ctx context.Context, cursor string, accept notify.Accept) (string, error) {
	items, whole, err := p.pages(ctx, cursor)
	if len(items) == 0 {
		return cursor, err
	}
	next := cursor
	if p.o.Poll.Cursor != "" || len(p.query) > 0 {
		next = newest(items, cursor, whole)
	}
	if acceptErr := p.hand(ctx, items, cursor, next, accept); acceptErr != nil {
		return cursor, acceptErr
	}
	return next, err
}

// hand has the items accepted in the order in which they were sent. The cursor
// moves with the last of them.
func (p *Provider) hand(ctx context.Context, items []item, old, next string, accept notify.Accept) error {
	var got []notify.Received
	for _, it := range items {
		if !it.skip {
			got = append(got, it.got)
		}
	}
	if len(got) == 0 && next == old {
		return nil
	}
	var err error
	for ; len(got) > batch && err == nil; got = got[batch:] {
		err = accept(ctx, got[:batch], old)
	}
	if err == nil {
		err = accept(ctx, got, next)
	}
	if err != nil {
		return fmt.Errorf("what came in could not be recorded, and stays with the service: %w", err)
	}
	return nil
}

// pages reads page after page, oldest item first in what it returns. whole is
// false where something older than the last item may not have been read.
func (p *Provider) pages(ctx context.Context, cursor string) (items []item, whole bool, err error) {
	address, err := p.pollURL(cursor)
	if err != nil {
		return nil, false, err
	}
	defer func() { items = inOrder(items) }()
	seen := map[string]bool{}
	for range p.o.Poll.MaxPages {
		if seen[address] {
			return items, false, errors.New("the service's pages go round in a circle")
		}
		seen[address] = true
		tree, err := p.page(ctx, address)
		if err != nil {
			return items, false, err
		}
		if tree == nil {
			return items, true, nil
		}
		entries, err := list(tree, p.o.Poll.List)
		if err != nil {
			return items, false, err
		}
		for _, e := range entries {
			items = append(items, p.read(e, p.o.Poll.Paths))
		}
		next := word(tree, p.o.Poll.Next)
		if next == "" || len(entries) == 0 {
			return items, true, nil
		}
		if len(items) >= maxItems {
			break
		}
		if address, err = p.follow(address, next); err != nil {
			return items, false, err
		}
	}
	return items, ascending(items), nil
}

// pollURL is the address of the first page.
func (p *Provider) pollURL(cursor string) (string, error) {
	u, err := url.Parse(p.o.Poll.URL)
	if err != nil {
		return "", err
	}
	q := u.Query()
	fields, err := fill(p.query, terms.Since{Cursor: cursor, Since: p.now().Add(-p.o.Poll.LookBack).UTC()})
	if err != nil {
		return "", err
	}
	for _, f := range fields {
		if f.Value != "" {
			q.Set(f.Name, f.Value)
		}
	}
	if p.o.Poll.Cursor != "" && cursor != "" {
		q.Set(p.o.Poll.Cursor, cursor)
	}
	if p.o.Auth.Kind == "field" {
		secret, err := p.secret()
		if err != nil {
			return "", err
		}
		q.Set(p.o.Auth.Name, secret)
	}
	u.RawQuery = q.Encode()
	return u.String(), nil
}

// follow gives the address of the next page, which never leaves the service:
// the password goes with it.
func (p *Provider) follow(from, next string) (string, error) {
	base, err := url.Parse(from)
	if err != nil {
		return "", err
	}
	if p.o.Poll.NextParam != "" {
		q := base.Query()
		q.Set(p.o.Poll.NextParam, next)
		base.RawQuery = q.Encode()
		return base.String(), nil
	}
	to, err := base.Parse(next)
	if err != nil || to.Scheme != base.Scheme || to.Host != base.Host || to.User != nil {
		return "", errors.New("the service's next page is at another host: it is not followed")
	}
	return to.String(), nil
}

// page gets one page; nil where the answer is empty.
func (p *Provider) page(ctx context.Context, address string) (any, error) {
	data, err := p.get(ctx, address)
	if err != nil {
		return nil, err
	}
	if len(data) == 0 { // 204
		return nil, nil
	}
	tree, err := decode(data)
	if err != nil {
		return nil, fmt.Errorf("the service's list cannot be read: %w", err)
	}
	return tree, nil
}

// get gets an address with the password; an error says what to do about it.
func (p *Provider) get(ctx context.Context, address string) ([]byte, error) {
	r, err := p.request(ctx, http.MethodGet, address, "", nil)
	if err != nil {
		return nil, err
	}
	resp, err := p.client.Do(r)
	if err != nil {
		return nil, errors.New(inWords(err))
	}
	defer resp.Body.Close()
	if resp.StatusCode < 200 || resp.StatusCode > 299 {
		return nil, &tooBusy{code: resp.StatusCode, after: notify.RetryAfter(resp.Header.Get("Retry-After"), p.now(), longestRest)}
	}
	data, err := io.ReadAll(io.LimitReader(resp.Body, maxPage+1))
	switch {
	case err != nil:
		return nil, errors.New(inWords(err))
	case len(data) > maxPage:
		return nil, fmt.Errorf("the service's answer is larger than %d KiB", maxPage>>10)
	}
	return data, nil
}

// inOrder puts items in the order in which they were sent, where they all say
// when; services list the newest first or last.
func inOrder(items []item) []item {
	if slices.ContainsFunc(items, func(it item) bool { return it.at.IsZero() && !it.skip }) {
		return items
	}
	slices.SortStableFunc(items, func(a, b item) int { return a.at.Compare(b.at) })
	return items
}

// newest is the cursor behind the items: the id of the one sent last. Where
// more is to come than could be read, or the order is unknown, the old one
// stays, and what is read again is known by its id.
func newest(items []item, old string, whole bool) string {
	if !whole {
		return old
	}
	for _, it := range slices.Backward(items) {
		if it.id != "" {
			return it.id
		}
	}
	return old
}

// ascending reports whether a service lists the oldest first, so that what was
// not read yet is newer than what was.
func ascending(items []item) bool {
	if len(items) < 2 || slices.ContainsFunc(items, func(it item) bool { return it.at.IsZero() }) {
		return false
	}
	return items[0].at.Before(items[len(items)-1].at) &&
		slices.IsSortedFunc(items, func(a, b item) int { return a.at.Compare(b.at) })
}
