package language

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// mayHoldWords are the files that hold words which a contact may text, and why.
var mayHoldWords = map[string]string{
	"notify/reply/meanings.go":   "the names of meanings, as heard.txt has them",
	"notify/reply/hints.go":      "the names of hints, as heard.txt has them",
	"notify/reply/vocabulary.go": "the names of rows in heard.txt",
	"notify/reply/weights.go":    "the names of what is weighed, as weights.tsv has them",
	"notify/reply/optout.go":     "the names of rows in optout.txt",

	"notify/reply/names.go":     "what stands for & in a name",
	"notify/reply/normalise.go": "what phones and mail programs write on their own",

	"scheduler/grass/table.go": "the names of grasses, as the farm file has them",

	"notify/email/hear.go":      "what mail programs write on their own, in many languages",
	"notify/email/quote.go":     "what mail programs write on their own, in many languages",
	"notify/weather/logline.go": "headings of a thermometer's log",
}

// A word of a language in Go would be one that no folder of text can change.
func TestNoWordOfALanguageStandsElsewhere(t *testing.T) {
	foreign, heard, said := foreignWords(), heardIn(All()[0]), plainPieces()
	found := map[string]bool{}
	for _, room := range []string{"notify", "scheduler"} {
		literals(t, room, func(file, s string) {
			bad := ""
			for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) }) {
				if foreign[w] {
					bad = w
				}
			}
			if strings.HasPrefix(file, "notify/reply/") && heard[strings.ToLower(s)] {
				bad = s
			}
			for _, piece := range said {
				if strings.Contains(s, piece) {
					bad = piece
				}
			}
			if bad == "" {
				return
			}
			found[file] = true
			if mayHoldWords[file] == "" {
				t.Errorf("%s holds %q, in %q", file, bad, s)
			}
		})
	}
	for file := range mayHoldWords {
		if !found[file] {
			t.Errorf("%s holds no words any more: take it off the list", file)
		}
	}
}

// foreignWords are those heard of the other languages that are no words of the
// default one, in which the program itself is written.
func foreignWords() map[string]bool {
	first := All()[0]
	own := heardIn(first)
	set := map[string]bool{}
	for _, l := range All()[1:] {
		for w := range heardIn(l) {
			if len(w) > 3 && !strings.Contains(w, " ") && !own[w] && !first.Common()[w] {
				set[w] = true
			}
		}
	}
	return set
}

// heardIn are all words and phrases that a language hears.
func heardIn(l *Language) map[string]bool {
	set := map[string]bool{}
	for _, r := range l.Heard {
		for _, w := range r.Phrases() {
			set[w] = len(w) > 1
		}
	}
	for _, words := range l.OptOut {
		for _, w := range words {
			set[w] = len(w) > 1
		}
	}
	return set
}

// plainPieces are the runs of words in what is said, long enough to be known.
func plainPieces() []string {
	var list []string
	for _, l := range All() {
		for _, p := range l.said {
			for _, one := range p {
				if s := strings.TrimSpace(one.text); strings.Count(s, " ") > 2 {
					list = append(list, s)
				}
			}
		}
	}
	return list
}

// literals calls visit with every string in the program's own source under a
// room, but for import paths and tags.
func literals(t *testing.T, room string, visit func(file, s string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.Contains(path, "/internal/") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
		if err != nil {
			return err
		}
		file, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.Field:
				return x.Tag == nil
			case *ast.BasicLit:
				if s, err := strconv.Unquote(x.Value); err == nil && x.Kind == token.STRING {
					visit(filepath.ToSlash(file), s)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
