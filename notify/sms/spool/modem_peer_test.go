package spool

import (
	"os"
	"os/exec"
	"testing"
)

// Need finds a program that a test runs against. Where it is missing the test
// is skipped with the package to install; in continuous integration that is a
// failure.
func Need(t testing.TB, program, debian string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err == nil {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed, and nothing may be skipped here: apt-get install %s", program, debian)
	}
	t.Skipf("skipped: %s is not installed; 'apt-get install %s' brings it", program, debian)
	return ""
}
