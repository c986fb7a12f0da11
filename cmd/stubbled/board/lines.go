package board

import (
	"cmp"
	"net"
	"net/http"
	"sync"
)

// lines are the connections. Where there are too many the one that has been silent
// longest goes, so that whoever comes to look is not kept out by those who only
// hold on.
type lines struct {
	mu    sync.Mutex
	all   map[net.Conn]*line
	count int // rises with each change
}

type line struct {
	busy  bool
	since int
}

func (l *lines) note(c net.Conn, state http.ConnState) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if state == http.StateClosed || state == http.StateHijacked {
		delete(l.all, c)
		return
	}
	if l.all == nil {
		l.all = map[net.Conn]*line{}
	}
	l.count++
	l.all[c] = &line{busy: state == http.StateActive, since: l.count}
	if len(l.all) > most {
		l.drop()
	}
}

// drop closes the longest silent, or, where all are at work, the newest.
func (l *lines) drop() {
	var out, newest net.Conn
	for c, at := range l.all {
		if newest == nil || at.since > l.all[newest].since {
			newest = c
		}
		if !at.busy && (out == nil || at.since < l.all[out].since) {
			out = c
		}
	}
	out = cmp.Or(out, newest)
	delete(l.all, out)
	_ = out.Close() // it is nobody's any more
}
