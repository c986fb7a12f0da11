package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/config"
)

// rehearsed plays texts on a farm and gives the messages.
func rehearsed(t *testing.T, farm, from, to, replies string, more ...string) []said {
	t.Helper()
	file := farmtest.File(t, farm)
	script := filepath.Join(filepath.Dir(file), "replies.txt")
	if err := os.WriteFile(script, []byte(replies), 0o600); err != nil {
		t.Fatal(err)
	}
	args := append([]string{"rehearse", "--farm", file, "--from", from, "--to", to, "--replies", script, "--json"}, more...)
	var out, errs bytes.Buffer
	if code := run(context.Background(), args, strings.NewReader(""), &out, &errs); code != exitFine {
		t.Fatalf("rehearse ended with %d: %s", code, errs.String())
	}
	return parsed(t, out.String())
}

func parsed(t *testing.T, text string) []said {
	t.Helper()
	var all []said
	for line := range strings.Lines(text) {
		var s said
		if err := json.Unmarshal([]byte(line), &s); err != nil {
			t.Fatalf("line %q: %v", line, err)
		}
		all = append(all, s)
	}
	return all
}

// to keeps what one contact got of some kinds; none means all.
func to(all []said, name string, kinds ...string) []said {
	var out []said
	for _, s := range all {
		wanted := len(kinds) == 0
		for _, k := range kinds {
			wanted = wanted || string(s.Kind) == k
		}
		if s.To == name && wanted {
			out = append(out, s)
		}
	}
	return out
}

func TestJumpingAndSteppingByTheMinuteSayTheSame(t *testing.T) {
	for _, tc := range []struct{ name, from, to, replies string }{
		{"over the cutoff, with answers", "2026-08-30", "2026-09-02",
			"2026-08-30T09:15 Ana: creek 14 8 6 8\n2026-08-31T12:00 Luis: fuera creek\n2026-09-01T08:00 Ana: on creek cows\n2026-09-01T08:01 Ana: undo\n"},
		{"over a rung put off", "2026-08-22", "2026-08-23", "2026-08-22T08:00 Ana: later creek 4h\n"},
		{"over the night of 25 hours", "2026-10-31", "2026-11-01", "2026-11-01T01:30 Ana: frost\n"},
		{"over the night of 23 hours", "2027-03-13", "2027-03-14", "2027-03-14T03:10 Ana: status\n"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			jumped := played(t, tc.from, tc.to, tc.replies, false)
			stepped := played(t, tc.from, tc.to, tc.replies, true)
			if jumped != stepped {
				t.Errorf("jumping says\n%s\nstepping says\n%s", jumped, stepped)
			}
			if strings.TrimSpace(jumped) == "" {
				t.Error("nothing was said at all")
			}
		})
	}
}

// played is a rehearsal of the test's farm, jumping or stepping.
func played(t *testing.T, from, to, replies string, minutely bool) string {
	t.Helper()
	file := farmtest.File(t, farmtest.Text)
	script := filepath.Join(filepath.Dir(file), "replies.txt")
	if err := os.WriteFile(script, []byte(replies), 0o600); err != nil {
		t.Fatal(err)
	}
	farm, err := config.Load(file)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	p, err := newPlay(t.Context(), &env{out: &out, clock: machineClock{}}, farm, false, rehearseFlags{from: from, to: to, replies: script, json: true})
	if err != nil {
		t.Fatal(err)
	}
	defer p.close()
	p.minutely = minutely
	if err := p.run(t.Context()); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestARehearsalSaysTheSameEveryTime(t *testing.T) {
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if code := run(t.Context(), []string{"rehearse", "--mails"}, strings.NewReader(""), out, out); code != exitFine {
			t.Fatal(out.String())
		}
	}
	if first.String() != second.String() {
		t.Error("two rehearsals of one season differ")
	}
}
