package systemd

import (
	"bytes"
	"debug/elf"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// folder has both packages, built once for all tests. $STUBBLED_PACKAGES names
// one where that was done already, of the same sources.
var folder struct {
	path string
	err  error
}

// packages gives the folder with both packages and the name of one of them.
func packages(t *testing.T, arch string) (dir, name string) {
	t.Helper()
	tool(t, "dpkg-deb", "dpkg")
	if folder.path == "" {
		folder.path, folder.err = packageFolder()
	}
	if folder.err != nil {
		t.Fatal(folder.err)
	}
	found, _ := filepath.Glob(filepath.Join(folder.path, "stubbled_*_"+arch+".deb"))
	if len(found) != 1 {
		t.Fatalf("packages for %s: %v", arch, found)
	}
	return folder.path, found[0]
}

func packageFolder() (string, error) {
	dir, err := os.MkdirTemp("", "stubbled-packages-")
	if err != nil {
		return "", err
	}
	ready := os.Getenv("STUBBLED_PACKAGES")
	if ready == "" {
		err = build("..", dir)
	} else if said, e := exec.Command("sh", "-c", `cp "$1"/* "$2"`, "cp", ready, dir).CombinedOutput(); e != nil {
		err = fmt.Errorf("packages in %s: %w: %s", ready, e, said)
	}
	return dir, errors.Join(err, os.Chmod(dir, 0o755))
}

func TestMain(m *testing.M) {
	status := m.Run()
	if folder.path != "" {
		os.RemoveAll(folder.path)
	}
	os.Exit(status)
}

// build runs the one command of the repository at top.
func build(top, out string, flags ...string) error {
	cmd := exec.Command("go", append([]string{"run", "-C", filepath.Join(top, "systemd/package"), ".", "--out", out}, flags...)...)
	if said, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%v: %w\n%s", cmd.Args, err, said)
	}
	return nil
}

// unpack gives the folder that a package's files were unpacked in.
func unpack(t *testing.T, name string) string {
	t.Helper()
	dir := t.TempDir()
	if said, err := exec.Command("dpkg-deb", "--extract", name, dir).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	return dir
}

func read(t *testing.T, path ...string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(path...))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestThePackageSaysWhatItNeeds(t *testing.T) {
	_, name := packages(t, "amd64")
	fields := func(field string) string {
		said, err := exec.Command("dpkg-deb", "--field", name, field).Output()
		if err != nil {
			t.Fatal(err)
		}
		return strings.TrimSpace(string(said))
	}
	for field, want := range map[string]string{
		"Package": "stubbled", "Architecture": "amd64", "Recommends": "smstools, ca-certificates",
		"Depends": "systemd | systemd-standalone-sysusers | systemd-sysusers",
	} {
		if got := fields(field); got != want {
			t.Errorf("%s: got %q, want %q", field, got, want)
		}
	}
}

// Debian's own lint finds nothing, and nothing is overridden but what is meant.
func TestThePackagesPassDebiansLint(t *testing.T) {
	lint := tool(t, "lintian", "lintian")
	for _, arch := range []string{"amd64", "arm64"} {
		_, name := packages(t, arch)
		said, err := exec.Command(lint, "--allow-root", "--fail-on", "error,warning", "--tag-display-limit", "0", name).CombinedOutput()
		if err != nil || len(bytes.TrimSpace(said)) > 0 {
			t.Errorf("%s: %v\n%s", arch, err, said)
		}
	}
}

// Both packages bring the same files, each with a static program of its kind.
func TestThePackagesDifferInTheProgramAlone(t *testing.T) {
	_, amd := packages(t, "amd64")
	_, arm := packages(t, "arm64")
	a, b := unpack(t, amd), unpack(t, arm)
	said, _ := exec.Command("diff", "-rq", a, b).CombinedOutput()
	if want := fmt.Sprintf("Files %s/usr/bin/stubbled and %s/usr/bin/stubbled differ\n", a, b); string(said) != want {
		t.Errorf("got %s", said)
	}
	for dir, machine := range map[string]elf.Machine{a: elf.EM_X86_64, b: elf.EM_AARCH64} {
		program, err := elf.Open(filepath.Join(dir, "usr/bin/stubbled"))
		if err != nil {
			t.Fatal(err)
		}
		if program.Machine != machine {
			t.Errorf("machine %s, want %s", program.Machine, machine)
		}
		if libraries, _ := program.ImportedLibraries(); len(libraries) > 0 {
			t.Errorf("not static: it wants %v", libraries)
		}
		program.Close()
	}
}

// The licences of what is linked in ask for their notices.
func TestThePackageBringsTheNoticesOfItsLibraries(t *testing.T) {
	_, name := packages(t, "amd64")
	notices := read(t, unpack(t, name), "usr/share/doc/stubbled/copyright")
	for _, library := range []string{"modernc.org/sqlite@", "github.com/spf13/cobra@", "github.com/robfig/cron/v3@", "The Go Authors",
		"notify/language/en/common.txt", "Copyright 2000-2011 by Kevin Atkinson", "this permission notice appear",
		"scheduler/station/places.tsv.gz", "GeoNames (geonames.org)", "https://creativecommons.org/licenses/by/4.0/"} {
		if !strings.Contains(notices, library) {
			t.Errorf("no notice of %s", library)
		}
	}
}

// Nothing in the program tells where it was compiled.
func TestTheProgramKnowsNoFolderOfItsBuilder(t *testing.T) {
	_, name := packages(t, "amd64")
	here, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	if program := read(t, unpack(t, name), "usr/bin/stubbled"); strings.Contains(program, here+"/") {
		t.Errorf("it has %s in it", here)
	}
}

// The same sources in another folder give the same bytes. Sources that are
// committed are cloned, since other tests may be writing beside them.
func TestTwoBuildsAreTheSameBytes(t *testing.T) {
	_, first := packages(t, "amd64")
	elsewhere := filepath.Join(t.TempDir(), "elsewhere")
	fetch := exec.Command("git", "clone", "-q", "..", elsewhere)
	if strings.Contains(first, "dirty") {
		fetch = exec.Command("cp", "-a", "..", elsewhere)
	}
	if said, err := fetch.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	// As the installation page has it, and found where its next step looks.
	page := exec.Command("sh", "-c", strings.Join(step(t, "**1. The package**"), " && "))
	page.Dir = elsewhere
	if said, err := page.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	second := filepath.Join(elsewhere, "dist", filepath.Base(first))
	if !slices.ContainsFunc(step(t, "**2. Install**"), func(c string) bool { return strings.Contains(c, "./dist/stubbled_*_amd64.deb") }) {
		t.Error("the page installs from another folder")
	}
	if a, b := read(t, first), read(t, second); a != b {
		t.Errorf("%d bytes and %d bytes, and not the same", len(a), len(b))
	}
}
