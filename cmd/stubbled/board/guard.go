package board

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"net/http"

	"stubbled/notify/page"
	"stubbled/store/panics"
)

// policy lets a page load nothing but its own style and pictures, run nothing, be
// in no frame, and send its form nowhere else.
const policy = "default-src 'none'; img-src 'self' data:; style-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// paperPolicy is that of a page to print, which carries its style within.
var paperPolicy = func() string {
	sum := sha256.Sum256([]byte(page.Style))
	return "default-src 'none'; img-src data:; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; form-action 'none'; frame-ancestors 'none'; base-uri 'none'"
}()

// guard refuses whoever calls the board by another name, or from another page, and
// turns a panic into a 500.
func (b *Board) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		for k, v := range map[string]string{
			"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "same-origin",
			"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "Cache-Control": "no-store",
		} {
			h.Set(k, v)
		}
		if why := b.wrong(r); why != 0 {
			http.Error(w, http.StatusText(why), why)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		err := panics.Error(b.Log, func() error { next.ServeHTTP(w, r); return nil })
		if err != nil {
			http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
		}
	})
}

// wrong is the status that a request is refused with; 0 where it is not.
func (b *Board) wrong(r *http.Request) int {
	if r.Host != "127.0.0.1:"+b.port && r.Host != "localhost:"+b.port {
		return http.StatusMisdirectedRequest // a name that somebody else points at this machine
	}
	switch r.Method {
	case http.MethodGet, http.MethodHead:
		return 0
	case http.MethodPost:
	default:
		return http.StatusMethodNotAllowed
	}
	from, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	if from != "" && from != "http://"+r.Host || site != "" && site != "same-origin" {
		return http.StatusForbidden
	}
	return 0
}

// inTurn waits for one's turn; false where it does not come.
func (b *Board) inTurn(w http.ResponseWriter, r *http.Request) (leave func(), ok bool) {
	ctx, cancel := context.WithTimeout(r.Context(), turnWait)
	defer cancel()
	select {
	case b.turn <- struct{}{}:
		return func() { <-b.turn }, true
	case <-ctx.Done():
		http.Error(w, http.StatusText(http.StatusServiceUnavailable), http.StatusServiceUnavailable)
		return nil, false
	}
}
