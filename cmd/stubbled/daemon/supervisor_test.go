package daemon

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// A manager of services hears what the daemon tells it.
type serviceManager struct {
	mu  sync.Mutex
	all []string
}

// startedByManager puts the test's daemon under a service manager.
func startedByManager(t *testing.T) *serviceManager {
	t.Helper()
	dir, err := os.MkdirTemp("", "sd") // a socket's path must be short
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	path := filepath.Join(dir, "s")
	c, err := net.ListenUnixgram("unixgram", &net.UnixAddr{Name: path, Net: "unixgram"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	t.Setenv("NOTIFY_SOCKET", path)
	t.Setenv(runtimeDir, t.TempDir())
	m := &serviceManager{}
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := c.Read(b)
			if err != nil {
				return
			}
			m.mu.Lock()
			m.all = append(m.all, string(b[:n]))
			m.mu.Unlock()
		}
	}()
	return m
}

// times counts what it was told.
func (m *serviceManager) times(what string) (n int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, one := range m.all {
		if strings.HasPrefix(one, what) {
			n++
		}
	}
	return n
}

// until waits until it was told something so often; a word may be under way.
func (m *serviceManager) until(t *testing.T, what string, n int) {
	t.Helper()
	for range 1000 {
		if m.times(what) >= n {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("the service manager hears %s %d times, want %d", what, m.times(what), n)
}

// soFar counts what it was told, once all that is under way is there.
func (m *serviceManager) soFar(t *testing.T, what string) int {
	t.Helper()
	const mark = "X_MARK"
	n := m.times(mark)
	tell(mark + "=1")
	m.until(t, mark, n+1)
	return m.times(what)
}

// A manager that reads nothing fills its socket; the turn must go on, and what
// matters is said once it reads again.
func TestAManagerThatReadsNothingHoldsNoReminderUp(t *testing.T) {
	dir, err := os.MkdirTemp("", "sd")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	c, err := net.ListenUnixgram("unixgram", &net.UnixAddr{Name: filepath.Join(dir, "s"), Net: "unixgram"})
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	t.Setenv("NOTIFY_SOCKET", filepath.Join(dir, "s"))
	done := make(chan bool)
	go func() {
		for range 5000 { // more than any queue of the kernel holds
			tell(alive)
		}
		tell(ready)
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(30 * time.Second):
		t.Fatal("it waits for a manager that reads nothing")
	}
	b := make([]byte, 4096)
	if n, err := c.Read(b); err != nil || string(b[:n]) != "WATCHDOG=1" {
		t.Fatalf("the first word: %q, %v", b[:n], err)
	}
	tell(stopping)
	heard := ""
	for heard != "READY=1\nSTOPPING=1" {
		c.SetReadDeadline(time.Now().Add(5 * time.Second))
		n, err := c.Read(b)
		if err != nil {
			t.Fatalf("that it is ready was never heard: %v", err)
		}
		heard = string(b[:n])
	}
}
