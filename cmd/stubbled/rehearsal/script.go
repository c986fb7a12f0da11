package rehearsal

import (
	"bufio"
	"cmp"
	"context"
	_ "embed" // the demo conversation is in the binary
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A line is one text of a replies file.
type line struct {
	at, sent time.Time
	name     string
	text     string
}

var lineForm = regexp.MustCompile(`^(\d{4}-\d\d-\d\dT\d\d:\d\d)\s+(?:\[sent (\d{4}-\d\d-\d\dT\d\d:\d\d)\]\s+)?([^:]+):\s?(.*)$`)

//go:embed demo/replies.txt
var demoReplies string

// script is the texts to play: those of a file, or on the demo farm's own
// season the demo conversation.
func script(o Options) ([]line, error) {
	switch {
	case o.Replies != "":
		file, err := os.Open(o.Replies)
		if err != nil {
			return nil, fmt.Errorf("replies: %w", err)
		}
		defer file.Close()
		return readScript(o.Replies, file, o.Farm.Zone)
	case o.Demo && o.From == "" && o.To == "":
		return readScript("the demo conversation", strings.NewReader(demoReplies), o.Farm.Zone)
	}
	return nil, nil
}

// readScript reads a replies file; texts of one minute keep the file's order.
func readScript(name string, from io.Reader, zone *time.Location) ([]line, error) {
	var all []line
	scan := bufio.NewScanner(from)
	scan.Buffer(make([]byte, 0, 64<<10), 1<<20)
	for n := 1; scan.Scan(); n++ {
		text := strings.TrimPrefix(strings.TrimRight(scan.Text(), "\r"), "\ufeff")
		if strings.TrimSpace(text) == "" || strings.HasPrefix(text, "#") {
			continue
		}
		l, err := parseLine(text, zone)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, n, err)
		}
		all = append(all, l)
	}
	if err := scan.Err(); err != nil {
		return nil, fmt.Errorf("replies %s: %w", name, err)
	}
	slices.SortStableFunc(all, func(a, b line) int { return a.at.Compare(b.at) })
	return all, nil
}

func parseLine(text string, zone *time.Location) (line, error) {
	m := lineForm.FindStringSubmatch(text)
	if m == nil {
		return line{}, fmt.Errorf("want a line such as 2026-08-22T09:15 Ana: creek 9 8 11, got %q", text)
	}
	at, err := localTime(m[1], zone)
	if err != nil {
		return line{}, err
	}
	l := line{at: at, sent: at, name: strings.TrimSpace(m[3]), text: m[4]}
	if m[2] != "" {
		if l.sent, err = localTime(m[2], zone); err != nil {
			return line{}, err
		}
	}
	return l, nil
}

// localTime reads a time on the farm's clock; one that the clock shows twice is
// the first.
func localTime(text string, zone *time.Location) (time.Time, error) {
	day, err := civil.ParseDate(text[:10])
	if err != nil {
		return time.Time{}, fmt.Errorf("no such day: %q", text)
	}
	tod, err := ladder.ParseTimeOfDay(text[11:])
	if err != nil {
		return time.Time{}, err
	}
	return ladder.Instant(day, tod, zone), nil
}

// textWaits reports whether a text of the script has come by now. Texts from before
// the first day are passed over.
func (p *play) textWaits() bool {
	for len(p.script) > 0 && p.script[0].at.Before(p.from) {
		p.script = p.script[1:]
	}
	return len(p.script) > 0 && !p.script[0].at.After(p.now)
}

// hear takes the next text of the script as a carrier would bring it.
func (p *play) hear(ctx context.Context) error {
	l := p.script[0]
	p.script = p.script[1:]
	p.n++
	in := store.In{ID: fmt.Sprintf("script-%d", p.n), From: "stranger:" + l.name, Text: l.text, Sent: l.sent}
	if c, ok := p.farm.Contact(l.name); ok {
		in.Contact, in.From = c.Name, cmp.Or(c.Phone, c.Email)
	}
	p.account.Heard(l.at, l.sent, l.name, l.text)
	return p.store.Accept(ctx, "rehearsal", []store.In{in}, "", p.now)
}
