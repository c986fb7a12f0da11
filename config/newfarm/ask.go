package newfarm

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"stubbled/config/settings"
)

// A Talk asks for a farm one thing at a time. Each answer is judged where it is
// given, by the rules of the farm file itself.
type Talk struct {
	In      io.Reader
	Out     io.Writer
	Draft   string // the file in which answers are kept as long as not all are given
	Records Records
	Service bool // the daemon will run under a service manager, where no console is seen

	answers *Answers
	lines   *bufio.Scanner
	kept    []string // answers from before that are not used up yet
	over    bool
}

// Records finds stations and their records.
type Records interface {
	// Near shows the best stations of a place and says how many they are.
	Near(place string) (int, error)
	// Take keeps the record of one of them, counted from 1.
	Take(n int) (Station, error)
}

// A Station is a record that was kept: its file beside the farm file, the address
// it is fetched from each night, and its place's name.
type Station struct{ File, From, Place string }

// ErrBrokenOff is what a talk ends with that came to no end.
var ErrBrokenOff = errors.New("broken off")

// A question is one thing to be asked.
type question struct {
	ask     string
	usual   string   // the answer where none is typed
	key     string   // of the farm file, whose rules judge the answer
	choices []string // what there is, for ?
	open    bool     // may be left empty
}

// one asks until there is a good answer; false where the talk is broken off.
func (t *Talk) one(to *string, q question) bool {
	usual := q.usual
	for !t.over {
		text, ok := t.answer(q)
		switch {
		case !ok:
			return false
		case text == "?":
			t.show(q.choices)
			continue
		case text == "" && !q.open:
			fmt.Fprintln(t.Out, "  this one is needed; ? shows what there is")
			continue
		}
		*to = text
		err := t.judge(q.key)
		if text == "" || err == nil {
			return t.keep(q.ask, text)
		}
		*to = ""
		q.usual = usual
		if m := meant.FindStringSubmatch(err.Error()); m != nil {
			q.usual = m[1] // what the rules suggest is the default of the next try
		}
		fmt.Fprintf(t.Out, "  %v\n", err)
	}
	return false
}

// answer is the next answer: one kept from before, or one typed.
func (t *Talk) answer(q question) (string, bool) {
	if len(t.kept) > 0 {
		if ask, text, _ := strings.Cut(t.kept[0], "\t"); ask == q.ask {
			t.kept = t.kept[1:]
			fmt.Fprintf(t.Out, "%s: %s\n", q.ask, text)
			return text, true
		}
		t.kept = nil // another farm was meant from here on
	}
	fmt.Fprint(t.Out, q.ask)
	if q.usual != "" {
		fmt.Fprintf(t.Out, " [%s]", q.usual)
	}
	fmt.Fprint(t.Out, ": ")
	if !t.lines.Scan() {
		t.over = true
		fmt.Fprintln(t.Out)
		return "", false
	}
	return cmp.Or(strings.TrimSpace(t.lines.Text()), q.usual), true
}

func (t *Talk) show(choices []string) {
	if len(choices) == 0 {
		fmt.Fprintln(t.Out, "  anything; it is checked")
		return
	}
	for _, c := range choices {
		fmt.Fprintln(t.Out, "  "+c)
	}
}

// judge is what the farm file's own rules say of one key, with the answers so
// far.
func (t *Talk) judge(key string) error {
	_, err := Write(*t.answers)
	var all settings.Problems
	if key == "" || !errors.As(err, &all) {
		return nil
	}
	for _, p := range all {
		if p.Key == key || strings.HasPrefix(p.Key, key+".") || strings.HasPrefix(p.Key, key+"[") || p.Key == "" && key == "frost.station" {
			return errors.New(p.Text)
		}
	}
	return nil
}

var meant = regexp.MustCompile(`did you mean "([^"]+)"\?`)

// keep writes an answer into the draft. It is true, so that whoever asks can go
// on.
func (t *Talk) keep(ask, text string) bool {
	f, err := os.OpenFile(t.Draft, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err == nil {
		_, err = fmt.Fprintf(f, "%s\t%s\n", ask, text)
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		fmt.Fprintf(t.Out, "  this answer could not be kept: %v\n", err)
	}
	return true
}

// takeUp reads the answers kept from before. They are written anew as they are
// given again.
func (t *Talk) takeUp() {
	text, err := os.ReadFile(t.Draft)
	if err != nil || len(text) == 0 {
		return
	}
	fmt.Fprintf(t.Out, "Going on from %s; delete it to begin anew, or its last lines to answer these again.\n", t.Draft)
	t.kept = strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	_ = os.Remove(t.Draft)
}
