package provider

import (
	"cmp"
	"errors"
	"io"
	"mime"
	"net/http"
	"net/url"

	"stubbled/notify"
	"stubbled/notify/sms"
	"stubbled/notify/sms/signature"
)

// Bounds of a webhook.
const (
	maxBody = 64 << 10
	maxBusy = 8 // requests that are being recorded at once
)

// hook answers the service's calls. It says 2xx only once what came is accepted,
// and 503 where it could not be, or a clock that is wrong cannot judge how old the
// call is, so that the service calls again.
type hook struct {
	p      *Provider
	w      *Webhook
	accept notify.Accept
	report func(error)
	busy   chan struct{}
}

// Handler answers the calls of a service that has a webhook.
func (p *Provider) Handler(accept notify.Accept, report func(error)) http.Handler {
	return &hook{p: p, w: p.o.Webhook, accept: accept, report: report, busy: make(chan struct{}, maxBusy)}
}

// ServeHTTP verifies a call on its raw bytes before anything in it is read.
func (h *hook) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	if r.URL.Path != h.w.Path {
		http.Error(w, "not here", http.StatusNotFound)
		return
	}
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		http.Error(w, "POST only", http.StatusMethodNotAllowed)
		return
	}
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
	if err != nil {
		http.Error(w, "too large or cut off", http.StatusRequestEntityTooLarge)
		return
	}
	address := cmp.Or(h.w.PublicURL, "http://"+h.w.Listen+h.w.Path)
	err = h.w.Scheme.Verify(signature.Request{
		Method: r.Method, URL: address, Query: r.URL.RawQuery, Header: r.Header, Body: data,
	}, h.p.now())
	if errors.Is(err, signature.ErrStale) && h.w.Sure != nil && !h.w.Sure() {
		retryLater(w)
		return
	}
	if err != nil {
		h.p.o.Log.Warn("webhook call refused", "err", err)
		http.Error(w, "not signed as agreed", http.StatusUnauthorized)
		return
	}
	select {
	case h.busy <- struct{}{}:
		defer func() { <-h.busy }()
	default:
		retryLater(w)
		return
	}
	h.take(w, r, data)
}

// take records a call that is genuine. One that is repeated is known by what it
// brings: the same id is kept once.
func (h *hook) take(w http.ResponseWriter, r *http.Request, data []byte) {
	tree, err := parseBody(r.Header.Get("Content-Type"), data)
	if err != nil {
		http.Error(w, "neither JSON nor a form", http.StatusBadRequest)
		return
	}
	entries, err := list(tree, h.w.List)
	if err != nil {
		h.p.o.Log.Warn("webhook call without a message", "err", err)
		w.WriteHeader(http.StatusNoContent) // to call again would not help
		return
	}
	var got []notify.Received
	for _, e := range entries[:min(len(entries), maxItems)] {
		if it := h.p.read(e, h.w.Paths); !it.skip {
			got = append(got, it.got)
			h.p.o.Log.Info("webhook call", "from", sms.PhoneShort(it.got.From), "news", it.got.Report != nil)
		}
	}
	if len(got) > 0 {
		if err := h.accept(r.Context(), got, ""); err != nil {
			h.report(err)
			retryLater(w)
			return
		}
		h.report(nil)
	}
	w.WriteHeader(http.StatusNoContent)
}

func retryLater(w http.ResponseWriter) {
	w.Header().Set("Retry-After", "30")
	http.Error(w, "later", http.StatusServiceUnavailable)
}

// parseBody makes one tree of a form or of JSON.
func parseBody(contentType string, data []byte) (any, error) {
	if kind, _, _ := mime.ParseMediaType(contentType); kind != "application/x-www-form-urlencoded" {
		return decode(data)
	}
	form, err := url.ParseQuery(string(data))
	if err != nil {
		return nil, err
	}
	tree := map[string]any{}
	for name, values := range form {
		tree[name] = values[0]
	}
	return tree, nil
}
