package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// A labModem is the folders of an SMS server as that works on them, fast, slowly, by
// halves and in rests. The real one stands in the tests of the spool.
type labModem struct {
	dir    string
	script *script
	clock  labClock
	mu     sync.Mutex
	took   []labText
	wrote  int
	seen   map[string]bool
	rests  time.Time
}

func newModem(t *testing.T, s *script, clock labClock) *labModem {
	m := &labModem{dir: t.TempDir(), script: s, clock: clock, seen: map[string]bool{}}
	for _, folder := range []string{"outgoing", "checked", "sent", "failed", "incoming"} {
		if err := os.Mkdir(filepath.Join(m.dir, folder), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			case <-time.After(5 * time.Millisecond):
				m.turn()
			}
		}
	}()
	t.Cleanup(func() { close(stop); <-stopped })
	return m
}

// turn moves what waits one folder on, unless it rests.
func (m *labModem) turn() {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, folder := range []string{"checked", "outgoing"} {
		names, _ := filepath.Glob(filepath.Join(m.dir, folder, "*"))
		for _, name := range names {
			m.dated(name)
			if strings.HasSuffix(name, ".LOCK") || time.Now().Before(m.rests) {
				continue
			}
			if m.script.next("server rests") != "honest" {
				m.rests = time.Now().Add(time.Duration(m.script.below(400)) * time.Millisecond)
				continue
			}
			if folder == "outgoing" {
				os.Rename(name, filepath.Join(m.dir, "checked", filepath.Base(name)))
			} else if data, err := os.ReadFile(name); err == nil && os.Rename(name, filepath.Join(m.dir, "sent", filepath.Base(name))) == nil {
				m.took = append(m.took, asText(string(data)))
			}
		}
	}
}

// dated gives a file the time that the farm's machine shows when it is first seen.
func (m *labModem) dated(name string) {
	if base := filepath.Base(name); !m.seen[base] {
		m.seen[base] = true
		at := m.clock.Now()
		os.Chtimes(name, at, at)
	}
}

func asText(file string) labText {
	head, body, _ := strings.Cut(file, "\n\n")
	text := labText{Text: body}
	for line := range strings.SplitSeq(head, "\n") {
		switch name, value, _ := strings.Cut(line, ": "); name {
		case "To":
			text.To = "+" + value
		case "Stubbled":
			text.Ref = value
		}
	}
	return text
}

// catchesUp sends all that waits: the server works on while the daemon is dead.
func (m *labModem) catchesUp() {
	for range 1000 {
		if left, _ := filepath.Glob(filepath.Join(m.dir, "[oc][uh]*", "*")); len(left) == 0 {
			return
		}
		m.mu.Lock()
		m.rests = time.Time{}
		m.mu.Unlock()
		m.turn()
	}
}

// writes is a text that came in: whole, in pieces, read from the SIM twice, or
// with a file beside it that is none.
func (m *labModem) writes(from, words string, at time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.wrote++
	text := fmt.Sprintf("From: %s\nFrom_TOA: 91 international, ISDN/telephone\nFrom_SMSC: 15555550199\nSent: %s\nReceived: %s\nSubject: GSM1\nAlphabet: UTF-8\nLength: %d\n\n%s",
		strings.TrimPrefix(from, "+"), at.Format("06-01-02 15:04:05"), at.Format("06-01-02 15:04:05"), len(words), words)
	put := func(n int, data string) {
		name := filepath.Join(m.dir, "incoming", fmt.Sprintf("GSM1.%06d-%d", m.wrote, n))
		os.WriteFile(name, []byte(data), 0o600)
		m.dated(name)
	}
	switch m.script.next("text in pieces", "text twice", "no text") {
	case "text in pieces":
		put(0, text[:m.script.below(len(text))])
		n := m.wrote
		time.AfterFunc(time.Duration(m.script.below(300))*time.Millisecond, func() {
			os.WriteFile(filepath.Join(m.dir, "incoming", fmt.Sprintf("GSM1.%06d-0", n)), []byte(text), 0o600)
		})
		return
	case "text twice":
		put(1, text)
	case "no text":
		put(2, "\x00\xff garbage")
	}
	put(0, text)
}

func (m *labModem) texts() []labText {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.took)
}
