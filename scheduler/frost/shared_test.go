package frost_test

import (
	"os"
	"path/filepath"
	"testing"
)

// sharedData is the folder with the real station records. They are NOAA's and
// are kept beside the repository, not in it. STUBBLED_DATA names another
// folder. Where there is none the test is skipped, and fails where CI is set.
func sharedData(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("STUBBLED_DATA")
	if dir == "" {
		dir = filepath.Join(repoRoot(t), "..", "shared", "data")
	}
	if _, err := os.Stat(dir); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("the station records are not at %s; set STUBBLED_DATA", dir)
		}
		t.Skipf("SKIPPED, NOT CHECKED: the station records are not at %s", dir)
	}
	return dir
}

// repoRoot is the folder of go.mod.
func repoRoot(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test")
		}
		dir = up
	}
}
