package diary

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// constants are the kinds as kinds.go names them: Hayed and so on.
func constants(t *testing.T) []string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "kinds.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			if typ, ok := v.Type.(*ast.Ident); ok && typ.Name == "Kind" {
				names = append(names, v.Names[0].Name)
			}
		}
		return true
	})
	return names
}

func TestEveryKindHasARow(t *testing.T) {
	names := constants(t)
	if len(names) != len(kinds) {
		t.Errorf("%d kinds and %d rows", len(names), len(kinds))
	}
	for k, row := range kinds {
		if row.Request && row != (Row{Request: true}) {
			t.Errorf("%s is not written down, so nothing else can be asked of it: %+v", k, row)
		}
		if row.Named && row.Farm {
			t.Errorf("%s must name its paddock, and is the whole farm's where none is named", k)
		}
	}
}

// A plain event is a kind that says one thing of the ground or the animals. What
// it means, how it is heard (its form and its sense: fWean, sWeaned) and how it is
// confirmed is all that names it; the words are each language's.
func TestAPlainEventIsNamedInFewFiles(t *testing.T) {
	const most = 6
	for _, name := range constants(t) {
		if !slices.Contains([]string{"Hayed", "Burned", "Wean"}, name) {
			continue
		}
		files := []string{"kinds.go"}
		for path, text := range sources(t) {
			if regexp.MustCompile(`\b(diary\.` + name + `|[fs]` + name + `(ed)?)\b`).MatchString(text) {
				files = append(files, path)
			}
		}
		if len(files) < 3 {
			t.Errorf("nothing hears %s, or nothing comes of it: %v", name, files)
		}
		if len(files) > most {
			t.Errorf("%s is named in %d files, want at most %d: %v", name, len(files), most, files)
		}
	}
}

// sources are the program's files by path, without its tests.
func sources(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		all[path] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
