package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stubbled/cmd/stubbled/internal/farmtest"
)

// arrows is who may import whom among our own packages; tests may import more.
// A package that is not listed may not exist.
var arrows = map[string][]string{
	"scheduler/figure":      {},
	"scheduler/quiet":       {},
	"scheduler/frost":       {},
	"scheduler/spell":       {},
	"scheduler/station":     {"scheduler/spell"},
	"scheduler/grass":       {"scheduler/figure", "scheduler/spell"},
	"scheduler/herd":        {"scheduler/figure", "scheduler/spell"},
	"scheduler/diary":       {},
	"scheduler/season/shut": {"scheduler/diary", "scheduler/frost", "scheduler/grass"},
	"scheduler/dry":         {"scheduler/diary", "scheduler/figure", "scheduler/frost"},
	"scheduler/season":      {"scheduler/figure", "scheduler/dry", "scheduler/season/shut", "scheduler/frost", "scheduler/grass", "scheduler/herd", "scheduler/diary"},
	"scheduler/spring":      {"scheduler/figure", "scheduler/season"},
	"scheduler/ladder":      {"scheduler/dry", "scheduler/quiet", "scheduler/spring", "scheduler/season", "scheduler/season/shut", "scheduler/diary", "scheduler/frost", "scheduler/grass"},
	"scheduler/suppose":     {"scheduler/season", "scheduler/herd", "scheduler/diary", "scheduler/ladder"},
	"scheduler/record":      {"scheduler/season", "scheduler/herd", "scheduler/diary"},
	"notify/gsm":            {},
	"notify/terms":          {},
	"notify/language":       {},
	"notify/reply":          {"scheduler/diary", "notify/language"},
	"notify/wording":        {"notify/gsm", "notify/language", "scheduler/ladder", "scheduler/spring", "scheduler/season", "scheduler/season/shut", "scheduler/diary"},
	"notify/picture":        {"scheduler/spring", "scheduler/season", "scheduler/frost", "scheduler/ladder"},
	"notify/page":           {"notify/language", "notify/wording", "scheduler/record", "scheduler/season", "scheduler/season/shut", "scheduler/ladder", "scheduler/diary"},
	"config":                {"config/links", "config/settings", "config/values", "scheduler/figure", "scheduler/spell", "scheduler/season", "scheduler/ladder", "scheduler/frost", "scheduler/grass", "scheduler/herd", "scheduler/diary"},
	"config/links":          {"config/settings", "config/values", "notify/terms"},
	"config/settings":       {"config/values", "notify/terms", "scheduler/spell"},
	"config/values":         {"notify/gsm", "notify/terms", "notify/language", "scheduler/spell", "scheduler/season", "scheduler/ladder", "scheduler/frost", "scheduler/grass", "scheduler/herd"},
	"config/newfarm":        {"config", "config/settings", "config/values", "notify/language", "scheduler/grass", "scheduler/herd"},
	"store":                 {"scheduler/diary", "scheduler/ladder", "store/disk"},
	"store/disk":            {"store/schema", "store/panics"},
	"store/schema":          {},
	"store/disktest":        {},
	"store/panics":          {},
	"scheduler": {"config", "store", "store/disk", "scheduler/dry", "scheduler/frost", "scheduler/grass", "scheduler/herd", "scheduler/diary", "scheduler/season",
		"scheduler/season/shut", "scheduler/spring", "scheduler/suppose", "scheduler/ladder", "notify/reply"},
	"notify":                    {"store", "store/panics", "scheduler/spell", "scheduler/ladder", "scheduler/diary", "notify/wording", "notify/picture"},
	"notify/console":            {"notify", "scheduler/ladder", "scheduler/diary"},
	"notify/sms/...":            {"notify", "notify/terms", "notify/gsm", "notify/sms/...", "scheduler/ladder", "scheduler/diary", "scheduler/spell"},
	"notify/email":              {"notify", "scheduler/ladder", "scheduler/diary"},
	"notify/weather":            {"notify", "notify/terms", "scheduler/ladder", "scheduler/diary"},
	"cmd/stubbled":              {"..."},
	"cmd/stubbled/usage":        {},
	"cmd/stubbled/archive":      {"notify", "store/disk", "scheduler/frost", "scheduler/station"},
	"cmd/stubbled/carriers":     {"cmd/stubbled/archive", "config", "config/links", "config/settings", "notify", "notify/console", "notify/email", "notify/sms/...", "notify/weather", "scheduler/ladder"},
	"cmd/stubbled/report":       {"cmd/stubbled/usage", "config", "store", "store/disk", "notify", "notify/page", "notify/reply", "notify/wording", "notify/picture", "scheduler", "scheduler/..."},
	"cmd/stubbled/rehearsal":    {"cmd/stubbled/usage", "cmd/stubbled/carriers", "cmd/stubbled/report", "config", "store", "notify", "scheduler", "scheduler/..."},
	"cmd/stubbled/keyboard":     {"cmd/stubbled/usage", "cmd/stubbled/carriers", "cmd/stubbled/report", "config", "store", "store/disk", "notify", "scheduler", "scheduler/ladder"},
	"cmd/stubbled/board":        {"cmd/stubbled/report", "config", "store", "store/panics", "notify", "notify/page", "notify/picture", "notify/reply", "notify/wording", "scheduler", "scheduler/..."},
	"cmd/stubbled/daemon":       {"cmd/stubbled/board", "cmd/stubbled/carriers", "config", "store", "store/disk", "store/panics", "notify", "notify/email", "notify/sms", "scheduler", "scheduler/diary", "scheduler/ladder"},
	"cmd/stubbled/checkup":      {"cmd/stubbled/carriers", "cmd/stubbled/daemon", "cmd/stubbled/report", "config", "store", "store/disk", "notify", "notify/wording", "scheduler", "scheduler/diary", "scheduler/frost", "scheduler/ladder", "scheduler/season"},
	"cmd/stubbled/internal/...": {"..."},
	"config/demo":               {},
	"systemd/...":               {"cmd/stubbled", "..."},
}

func TestTheRoomsImportOneWay(t *testing.T) {
	cmd := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports ","}}`, "./...")
	cmd.Dir = farmtest.Top(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for line := range strings.Lines(string(out)) {
		name, imports, _ := strings.Cut(strings.TrimSpace(line), " ")
		name = strings.TrimPrefix(name, "stubbled/")
		allowed, ok := lookup(name)
		if !ok {
			t.Errorf("package %s has no place in the house", name)
			continue
		}
		for imp := range strings.SplitSeq(imports, ",") {
			imp, ours := strings.CutPrefix(imp, "stubbled/")
			if ours && !matches(allowed, imp) {
				t.Errorf("%s must not import %s", name, imp)
			}
		}
	}
}

func lookup(name string) ([]string, bool) {
	for room, allowed := range arrows {
		if matches([]string{room}, name) {
			return allowed, true
		}
	}
	return nil, false
}

func matches(patterns []string, name string) bool {
	return slices.ContainsFunc(patterns, func(p string) bool {
		prefix, open := strings.CutSuffix(p, "...")
		if !open {
			return p == name
		}
		return strings.HasPrefix(name+"/", prefix)
	})
}

// clockRead is how a package would read the clock by itself.
var clockRead = regexp.MustCompile(`\btime\.(Now|Since|Until)\(`)

func TestOnlyTheCommandReadsTheClock(t *testing.T) {
	top := farmtest.Top(t)
	err := filepath.WalkDir(top, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		rel, _ := filepath.Rel(top, path)
		if rel == filepath.Join("cmd", "stubbled", "clock.go") || strings.Contains(rel, "/internal/") {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if m := clockRead.Find(data); m != nil {
			t.Errorf("%s reads the clock: %s", rel, m)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestTheTopHoldsNoOtherRooms(t *testing.T) {
	entries, err := os.ReadDir(farmtest.Top(t))
	if err != nil {
		t.Fatal(err)
	}
	known := []string{"cmd", "scheduler", "notify", "store", "config", "systemd", "README.md", "DEVELOPERS.md", "LICENSE",
		"go.mod", "go.sum", ".ci", ".git", ".gitignore", "dist",
		"stubbled"} // what the README builds
	for _, e := range entries {
		if !slices.Contains(known, e.Name()) {
			t.Errorf("%s stands at the top", e.Name())
		}
	}
}

// code is every Go file of the project as one text.
func code(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	err := filepath.WalkDir(farmtest.Top(t), func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		data, err := os.ReadFile(path)
		all.Write(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

// namedThing is an identifier of the code in a document: `store.Tx.Record`,
// `TestX`.
var namedThing = regexp.MustCompile("`(?:[A-Za-z]+\\.)*([A-Z][A-Za-z0-9]+)(?:\\([^`]*\\))?`")

// declared is an identifier where it is declared.
var declared = regexp.MustCompile(`(?m)^(?:func (?:\([^)]*\) )?|type |var |\s+)([A-Z][A-Za-z0-9]+)\b`)

func TestTheDocumentsNameWhatExists(t *testing.T) {
	all := map[string]bool{}
	for _, m := range declared.FindAllStringSubmatch(code(t), -1) {
		all[m[1]] = true
	}
	for _, name := range []string{"DEVELOPERS.md", "README.md"} {
		data, err := os.ReadFile(filepath.Join(farmtest.Top(t), name))
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, m := range namedThing.FindAllStringSubmatch(string(data), -1) {
			if strings.ToUpper(m[1]) == m[1] {
				continue // a setting or a unit, not an identifier
			}
			seen++
			if !all[m[1]] {
				t.Errorf("%s names %s, which is nowhere", name, m[0])
			}
		}
		if name == "DEVELOPERS.md" && seen < 30 {
			t.Errorf("only %d names were found in it", seen)
		}
	}
}

// link is a file that a document points to, or names by its path.
var link = regexp.MustCompile("\\]\\(([^)#]+)\\)|`((?:cmd|config|notify|scheduler|store|systemd)/[a-z0-9_/.]+)`")

func TestTheDocumentsPointToWhatExists(t *testing.T) {
	for _, name := range []string{"DEVELOPERS.md", "README.md"} {
		data, err := os.ReadFile(filepath.Join(farmtest.Top(t), name))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(data), -1) {
			if to := m[1] + m[2]; !strings.Contains(to, "://") && !farmtest.Exists(filepath.Join(farmtest.Top(t), to)) {
				t.Errorf("%s points to %s, which is not there", name, to)
			}
		}
	}
}

// most is how many Go files a folder may hold, tests aside: what one looks
// through before one guesses.
const most = 25

// crowded are the folders that hold more, each with why.
var crowded = map[string]string{
	"notify/reply": "a rule of the reader a file",
}

func TestNoFolderHoldsMoreThanOneLooksThrough(t *testing.T) {
	files := map[string]int{}
	top := farmtest.Top(t)
	err := filepath.WalkDir(top, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			dir, _ := filepath.Rel(top, filepath.Dir(path))
			files[filepath.ToSlash(dir)]++
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for dir, n := range files {
		if n > most && crowded[dir] == "" {
			t.Errorf("%s holds %d Go files, want at most %d", dir, n, most)
		}
	}
	for dir := range crowded {
		if files[dir] <= most {
			t.Errorf("%s is not crowded any more: take it off the list", dir)
		}
	}
}
