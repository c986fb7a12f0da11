package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/store/disk"
)

// found runs a command of the program in a folder, with the service's folders
// below another.
func found(t *testing.T, here, root string, args ...string) (out, errs string, err error) {
	t.Helper()
	return answered(t, here, root, "", args...)
}

// answered is found with what is typed into it.
func answered(t *testing.T, here, root, typed string, args ...string) (out, errs string, err error) {
	t.Helper()
	t.Chdir(here)
	var o, e bytes.Buffer
	clock := &farmtest.Clock{Time: time.Date(2026, 8, 22, 17, 0, 0, 0, time.UTC)}
	c := newRoot(&env{in: strings.NewReader(typed), out: &o, err: &e, clock: clock, root: root})
	c.SetArgs(args)
	err = c.ExecuteContext(t.Context())
	return o.String(), e.String(), err
}

// lay puts the test's farm, under a name of its own, into a folder.
func lay(t *testing.T, dir, name string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(farmtest.Text, "Quail Fork", name, 1)
	if err := os.WriteFile(filepath.Join(dir, "farm.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestEveryCommandFindsTheFarmInTheSamePlaces(t *testing.T) {
	for _, args := range [][]string{{"season"}, {"feed"}, {"lessons"}, {"rehearse", "--from", "2026-08-30", "--to", "2026-09-01"}} {
		t.Run(args[0], func(t *testing.T) {
			here, root, state := t.TempDir(), t.TempDir(), t.TempDir()
			first := func() string {
				out, _, err := found(t, here, root, args...)
				if err != nil {
					t.Fatal(err)
				}
				return out
			}
			if line, _, _ := strings.Cut(first(), "\n"); !strings.Contains(line, "the demo farm") || !strings.Contains(line, "invented") {
				t.Errorf("without any farm its first line is %q", line)
			}
			for _, place := range []struct{ dir, name string }{
				{here, "Plum Run"}, {filepath.Join(root, "etc", "stubbled"), "Owl Hill"}, {state, "Elk Bend"},
			} {
				lay(t, place.dir, place.name)
				if place.dir == state {
					t.Setenv("STATE_DIRECTORY", state)
				}
				if said := first(); strings.Contains(said, "demo farm") || args[0] != "lessons" && args[0] != "feed" && !strings.Contains(said, place.name) {
					t.Errorf("with a farm file in %s it says\n%.300s", place.dir, said)
				}
			}
		})
	}
}

func TestAnotherProgramReadsNothingButJSONOfTheDemoFarm(t *testing.T) {
	for _, args := range [][]string{{"season", "--json"}, {"feed", "--json"}, {"understand", "off creek"}} {
		out, errs, err := found(t, t.TempDir(), t.TempDir(), args...)
		if err != nil || !strings.HasPrefix(out, "{") || !strings.Contains(errs, "the demo farm") {
			t.Errorf("%v: %v\n%.200s\n%s", args, err, out, errs)
		}
	}
}

func TestAReadingTypedBesideAPackagedServiceGoesIntoItsDiary(t *testing.T) {
	root := t.TempDir()
	told, kept := filepath.Join(root, "etc", "stubbled"), filepath.Join(root, "var", "lib", "stubbled")
	lay(t, told, "Owl Hill")
	if err := os.MkdirAll(kept, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"height", "creek", "9", "9"}, {"--farm", filepath.Join(told, "farm.yaml"), "say", "off creek"}} {
		if out, _, err := found(t, t.TempDir(), root, args...); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
	}
	if !disk.NeverUsed(filepath.Join(told, "stubbled.db")) || disk.NeverUsed(filepath.Join(kept, "stubbled.db")) {
		t.Error("the service's diary does not have it, or a second one does")
	}
	if out, _, err := found(t, t.TempDir(), root, "diary"); err != nil || !strings.Contains(out, "creek") {
		t.Errorf("the diary, looked for in the same places: %v\n%s", err, out)
	}
}

func TestRootWritesNothingIntoTheServicesFolder(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can give a folder to another account")
	}
	root := t.TempDir()
	kept := filepath.Join(root, "var", "lib", "stubbled")
	lay(t, filepath.Join(root, "etc", "stubbled"), "Owl Hill")
	if err := os.MkdirAll(kept, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Chown(kept, 65534, 65534); err != nil {
		t.Fatal(err)
	}
	if _, _, err := found(t, t.TempDir(), root, "height", "creek", "9"); err == nil || !strings.Contains(err.Error(), "sudo stubbled-farm") {
		t.Errorf("said %v", err)
	}
	if left, _ := os.ReadDir(kept); len(left) > 0 {
		t.Errorf("left %v", left)
	}
}
