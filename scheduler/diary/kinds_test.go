package diary

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
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
// it means, how it is read and how it is confirmed is all that names it.
func TestAPlainEventIsNamedInFewFiles(t *testing.T) {
	const most = 6
	named := map[string][]string{}
	events := []Kind{Hayed, Burned, Dry, Wean}
	word := regexp.MustCompile(`\bdiary\.(\w+)\b`)
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		seen := map[string]bool{}
		for _, m := range word.FindAllSubmatch(text, -1) {
			if name := string(m[1]); !seen[name] {
				seen[name] = true
				named[name] = append(named[name], path)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range constants(t) {
		for _, k := range events {
			files := named[name]
			if !strings.EqualFold(name, string(k)) {
				continue
			}
			if len(files) == 0 {
				t.Errorf("nothing reads %s", name)
			}
			if len(files)+1 > most { // and the table
				t.Errorf("%s is named in %d files and the table, want at most %d: %v", name, len(files), most, files)
			}
		}
	}
}
