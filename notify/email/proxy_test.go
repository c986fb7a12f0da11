package email

import (
	"io"
	"net"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// A proxy stands between us and a server. It can freeze: connections stay
// open and nothing comes through, as when a modem loses its signal.
type proxy struct {
	port   int
	frozen atomic.Bool
	thaw   chan struct{}
	// What the server says and what we say, changed; nil: as it is.
	onTell, onHear func(*proxy, []byte) []byte
	bytes          atomic.Int64 // that the server said

	mu     sync.Mutex
	conns  []net.Conn
	spoken strings.Builder // what we said
}

func startProxy(t testing.TB, to string, onTell, onHear func(*proxy, []byte) []byte) *proxy {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	p := &proxy{port: l.Addr().(*net.TCPAddr).Port, thaw: make(chan struct{}), onTell: onTell, onHear: onHear}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			s, err := net.Dial("tcp", to)
			if err != nil {
				_ = c.Close()
				continue
			}
			p.mu.Lock()
			p.conns = append(p.conns, c, s)
			p.mu.Unlock()
			go p.pipe(s, c, p.hear)
			go p.pipe(c, s, p.tell)
		}
	}()
	t.Cleanup(func() {
		_ = l.Close()
		close(p.thaw)
		p.cut()
	})
	return p
}

func (p *proxy) pipe(to, from net.Conn, change func([]byte) []byte) {
	defer to.Close()
	b := make([]byte, 64<<10)
	for {
		n, err := from.Read(b)
		out := change(b[:n])
		if p.frozen.Load() {
			<-p.thaw // for ever, as far as this connection is concerned
			return
		}
		if _, werr := to.Write(out); err != nil || werr != nil {
			if err != io.EOF {
				_ = from.Close()
			}
			return
		}
	}
}

// cut closes every connection that is open.
func (p *proxy) cut() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range p.conns {
		_ = c.Close()
	}
	p.conns = nil
}

func (p *proxy) hear(b []byte) []byte {
	p.mu.Lock()
	p.spoken.Write(b)
	p.mu.Unlock()
	if p.onHear != nil {
		return p.onHear(p, b)
	}
	return b
}

func (p *proxy) tell(b []byte) []byte {
	p.bytes.Add(int64(len(b)))
	if p.onTell != nil {
		return p.onTell(p, b)
	}
	return b
}

func (p *proxy) said() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.spoken.String()
}
