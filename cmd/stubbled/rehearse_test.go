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
	"stubbled/cmd/stubbled/report"
)

// rehearsed plays texts on a farm and gives the messages.
func rehearsed(t *testing.T, farm, from, to, replies string, more ...string) []report.Message {
	t.Helper()
	return rehearsedBeside(t, farm, from, to, replies, nil, more...)
}

// rehearsedBeside does so with files beside the farm file.
func rehearsedBeside(t *testing.T, farm, from, to, replies string, beside map[string]string, more ...string) []report.Message {
	t.Helper()
	file := farmtest.File(t, farm)
	for name, text := range beside {
		if err := os.WriteFile(filepath.Join(filepath.Dir(file), name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
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

func parsed(t *testing.T, text string) []report.Message {
	t.Helper()
	var all []report.Message
	for line := range strings.Lines(text) {
		var s report.Message
		if err := json.Unmarshal([]byte(line), &s); err != nil {
			t.Fatalf("line %q: %v", line, err)
		}
		all = append(all, s)
	}
	return all
}

// to keeps what one contact got of some kinds; none means all.
func to(all []report.Message, name string, kinds ...string) []report.Message {
	var out []report.Message
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
