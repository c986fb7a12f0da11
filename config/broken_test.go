package config_test

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stubbled/config"
	"stubbled/config/settings"
)

var update = flag.Bool("update", false, "write the expected messages anew")

// The folder holds one broken farm file a case, and beside it what must be
// said of it, every line.
func TestBrokenFarmFileIsRefusedForItsReason(t *testing.T) {
	files, err := filepath.Glob("testdata/broken/*.yaml")
	if err != nil || len(files) < 45 {
		t.Fatalf("found %d broken farm files (%v), want at least 45", len(files), err)
	}
	t.Chdir("testdata/broken")
	// Git keeps no more of a mode than the owner's execute bit.
	if err := os.Chmod("open-secret", 0o644); err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		name := filepath.Base(f)
		t.Run(strings.TrimSuffix(name, ".yaml"), func(t *testing.T) {
			got := whatIsWrong(t, name)
			wantFile := strings.TrimSuffix(name, ".yaml") + ".want"
			if *update {
				if err := os.WriteFile(wantFile, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(wantFile)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s\n got: %s\nwant: %s", name, got, want)
			}
		})
	}
}

// whatIsWrong loads a broken file and checks what holds for every problem: it
// has the file, a line and a mend, no secret, and its place in the order.
func whatIsWrong(t *testing.T, name string) string {
	t.Helper()
	farm, err := config.Load(name, config.WithoutEnvironment())
	if err == nil {
		t.Fatalf("%s was let through: %+v", name, farm.Warnings)
	}
	if farm != nil {
		t.Errorf("%s: a farm came out besides the error", name)
	}
	var problems settings.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("%s: error is %T, want Problems", name, err)
	}
	last := 0
	for _, p := range problems {
		if p.File == name && p.Line == 0 {
			t.Errorf("%s: no line: %s", name, p)
		}
		if p.File == name && p.Line < last {
			t.Errorf("%s: out of order: %s", name, p)
		}
		if p.File == name {
			last = p.Line
		}
		if strings.Contains(p.Error(), "hunter2") {
			t.Errorf("%s: a secret is said aloud: %s", name, p)
		}
		if strings.HasSuffix(p.Text, ".") || p.Text == "" {
			t.Errorf("%s: %q", name, p.Text)
		}
	}
	return err.Error() + "\n"
}
