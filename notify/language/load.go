package language

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"
)

// A Row is one line of a file: a name, and what stands behind its colon.
type Row struct {
	Name, Text string
	At         string // file and line
}

// Words are the words and phrases of a row, which commas part.
func (r Row) Words() []string {
	var words []string
	for w := range strings.SplitSeq(r.Text, ",") {
		if w = strings.Join(strings.Fields(w), " "); w != "" {
			words = append(words, w)
		}
	}
	return words
}

// Phrases are the words and phrases of a row with their strokes worked out: of words that a
// stroke parts one may stand there, and where one stands before nothing none need to, so that
// "no cows/stock left/ in it" is four.
func (r Row) Phrases() []string {
	var all []string
	for _, w := range r.Words() {
		begun := []string{""}
		for _, place := range strings.Fields(w) {
			next := []string{place}
			if place != "/" {
				next = strings.Split(place, "/")
			}
			var longer []string
			for _, b := range begun {
				for _, word := range next {
					longer = append(longer, strings.TrimSpace(b+" "+word))
				}
			}
			begun = longer
		}
		all = append(all, begun...)
	}
	return all
}

// InOrder are the words of a row that stand for one thing after the other, as
// one, two, three: the spellings of each, which strokes part; a dash leaves a
// place out.
func (r Row) InOrder() [][]string {
	var list [][]string
	for _, place := range strings.Fields(r.Text) {
		spellings := strings.Split(place, "/")
		if place == "-" {
			spellings = nil
		}
		list = append(list, spellings)
	}
	return list
}

// Load reads the folder of a language.
func Load(from fs.FS, dir string) (*Language, error) {
	l := &Language{Tag: path.Base(dir), OptOut: map[string][]string{}, Reserved: map[string][]string{},
		said: map[string]phrase{}, page: map[string]phrase{}, group: ",", point: "."}
	var err error
	for _, file := range []struct {
		name string
		take func(Row) error
	}{
		{"language.txt", l.describe},
		{"heard.txt", func(r Row) error { l.Heard = append(l.Heard, r); return nil }},
		{"optout.txt", listIn(l.OptOut)},
		{"reserved.txt", listIn(l.Reserved)},
		{"said.txt", phrases(l.said, l)},
		{"page.txt", phrases(l.page, l)},
	} {
		rows, err := read(from, path.Join(dir, file.name))
		if errors.Is(err, fs.ErrNotExist) && file.name == "page.txt" {
			continue // it has the pages of the default language
		}
		if err != nil {
			return nil, err
		}
		for _, r := range rows {
			if err := file.take(r); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", r.At, r.Name, err)
			}
		}
	}
	l.Common, err = common(from, path.Join(dir, "common.txt"))
	return l, err
}

// read gives the rows of a file.
func read(from fs.FS, name string) ([]Row, error) {
	data, err := fs.ReadFile(from, name)
	if err != nil {
		return nil, err
	}
	var rows []Row
	n := 0
	for line := range strings.Lines(string(data)) {
		n++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		at := fmt.Sprintf("%s:%d", name, n)
		key, text, ok := strings.Cut(line, ":")
		if !ok {
			return nil, fmt.Errorf("%s: want 'name: words', got %q", at, line)
		}
		rows = append(rows, Row{strings.TrimSpace(key), strings.TrimSpace(text), at})
	}
	return rows, nil
}

// listIn gathers rows of one name in one list.
func listIn(lists map[string][]string) func(Row) error {
	return func(r Row) error {
		lists[r.Name] = append(lists[r.Name], r.Words()...)
		return nil
	}
}

// describe reads a row of language.txt.
func (l *Language) describe(r Row) error {
	switch r.Name {
	case "names":
		l.Names = r.Words()
	case "typed decimals":
		l.DecimalComma = r.Text == "7,5"
	case "typed dates":
		l.DayFirst = r.Text == "day/month"
	case "number":
		return l.marks(r.Text)
	case "plural":
		l.plural = formsOf(r.Text)
	case "short ending":
		l.ShortEnding = strings.Fields(r.Text)
	case "one sound":
		for _, pair := range r.Words() {
			l.OneSound = append(l.OneSound, strings.Fields(pair)...)
		}
	case "other stock":
		l.cattle, l.stock, _ = strings.Cut(r.Text, " is ")
	default:
		return fmt.Errorf("not known here")
	}
	return nil
}

// common reads the words that are never slips: plain words, as many on a line
// as it holds.
func common(from fs.FS, name string) (func() map[string]bool, error) {
	data, err := fs.ReadFile(from, name)
	return sync.OnceValue(func() map[string]bool {
		set := make(map[string]bool, 1024)
		for line := range strings.Lines(string(data)) {
			if strings.HasPrefix(line, "#") {
				continue
			}
			for _, w := range strings.Fields(line) {
				set[w] = true
			}
		}
		return set
	}), err
}
