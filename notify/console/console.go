// Package console is in charge of one terminal as everybody's phone: it prints
// what would be sent, and hears lines such as `Ana: creek 14 8 6 8`.
//
// It says each thing at most once: what was printed when the power went can
// not be known.
package console

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
)

// A Phone prints messages of one medium.
type Phone struct {
	Out    *Screen
	For    ladder.Medium
	Called string // as in the farm file: console
}

// A Screen is one terminal, shared by all who print on it.
type Screen struct {
	mu   sync.Mutex
	w    io.Writer
	zone *time.Location
}

// NewScreen prints to w with the farm's own time.
func NewScreen(w io.Writer, zone *time.Location) *Screen { return &Screen{w: w, zone: zone} }

func (p Phone) Name() string          { return p.Called }
func (p Phone) Medium() ladder.Medium { return p.For }
func (p Phone) Retry() notify.Retry   { return notify.Never }

func (p Phone) Deliver(_ context.Context, e notify.Envelope) notify.Outcome {
	text := e.Text
	if e.Subject != "" {
		text = e.Subject + "\n" + text
	}
	if err := p.Out.say(e.Date, e.ToName, string(p.For), text); err != nil {
		return notify.Outcome{State: notify.UnknownState, Detail: "the terminal does not take any more"}
	}
	return notify.Outcome{State: notify.Sent}
}

func (s *Screen) say(at time.Time, to, medium, text string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.zone != nil {
		at = at.In(s.zone)
	}
	mark := ""
	if medium == string(ladder.Mail) {
		mark = " (mail)"
	}
	indented := strings.ReplaceAll(strings.TrimRight(text, "\n"), "\n", "\n    ")
	_, err := fmt.Fprintf(s.w, "%s  to %s%s\n    %s\n", at.Format("Mon Jan 2 15:04"), to, mark, indented)
	return err
}

// Lines hears what is typed. A line names who texts: `Ana: creek 14 8 6 8`.
type Lines struct {
	In      io.Reader
	Out     *Screen
	Run     string // makes the lines of this run unlike those of any other
	Address func(name string) (address string, ok bool)
	Now     func() time.Time
}

func (l Lines) Name() string { return "console" }

// Receive hears until the input or ctx ends. A line from nobody in the farm file
// is answered with how to type one.
func (l Lines) Receive(ctx context.Context, _ string, accept notify.Accept, _ func(error)) error {
	lines, ended := make(chan string), make(chan error, 1)
	go l.scan(ctx, lines, ended) // a terminal's read cannot be called off
	for n := 1; ; n++ {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case err := <-ended:
			return err
		case line := <-lines:
			if err := l.hear(ctx, n, line, accept); err != nil {
				return err
			}
		}
	}
}

func (l Lines) scan(ctx context.Context, lines chan<- string, ended chan<- error) {
	scan := bufio.NewScanner(l.In)
	scan.Buffer(make([]byte, 0, 4096), 64<<10)
	for scan.Scan() {
		select {
		case lines <- scan.Text():
		case <-ctx.Done():
			return
		}
	}
	ended <- scan.Err()
}

func (l Lines) hear(ctx context.Context, n int, line string, accept notify.Accept) error {
	name, text, ok := strings.Cut(line, ":")
	address, known := l.Address(strings.TrimSpace(name))
	if !ok || !known {
		if strings.TrimSpace(line) != "" {
			l.Out.hint("type a name, a colon and the text, such as  Ana: creek 9 8 11")
		}
		return nil
	}
	got := notify.Received{ID: fmt.Sprintf("%s-%d", l.Run, n), From: address, Text: strings.TrimSpace(text), Sent: l.Now()}
	return accept(ctx, []notify.Received{got}, "")
}

func (s *Screen) hint(text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	fmt.Fprintf(s.w, "    (%s)\n", text)
}
