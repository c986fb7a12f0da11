// Package disktest gives tests a small disk that they can fill.
package disktest

import (
	"fmt"
	"os"
	"os/exec"
	"testing"
)

// Small mounts a file system of its own, of a size such as 6m, until the test
// ends; only root may.
func Small(t testing.TB, size string) string {
	t.Helper()
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size="+size, "tmpfs", dir).CombinedOutput(); err != nil {
		Skip(t, fmt.Sprintf("a disk of its own cannot be mounted here: %v %s", err, out))
	}
	t.Cleanup(func() { exec.Command("umount", "-l", dir).Run() })
	return dir
}

// Fill takes all the room that is left.
func Fill(t testing.TB, name string) {
	t.Helper()
	f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for size := 1 << 16; size > 0; {
		if _, err := f.Write(make([]byte, size)); err != nil {
			size /= 2
		}
	}
}

// Skip says why a test cannot run here; where everything must run that is a
// failure.
func Skip(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(why)
	}
	t.Skip(why)
}
