package systemd

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// Whatever a page of the package links to is there, and each page that its
// reader is sent to: nobody at the machine has the repository.
func TestEveryLinkOfAPageLeadsSomewhere(t *testing.T) {
	_, name := packages(t, "amd64")
	root := unpack(t, name)
	const docs = "usr/share/doc/stubbled"
	links := 0
	for _, page := range []string{"README.md", "installing.md", "texting.md", "mail.md", "weather.md", "what-to-text.md"} {
		for _, m := range regexp.MustCompile(`\]\(([^)#:]+)(?:#[^)]*)?\)`).FindAllStringSubmatch(read(t, root, docs, page), -1) {
			links++
			there := filepath.Join(root, docs, m[1])
			if filepath.IsAbs(m[1]) {
				there = filepath.Join(root, m[1])
			}
			if _, err := os.Stat(there); err != nil {
				t.Errorf("%s links to %s, which is not there", page, m[1])
			}
		}
	}
	if links < 10 {
		t.Errorf("only %d links: nothing was tried", links)
	}
}

// sign signs the folder as whoever hands it on does, and gives the key.
func sign(t *testing.T, dir string) {
	t.Helper()
	gpg := tool(t, "gpg", "gnupg")
	home, err := os.MkdirTemp("", "gpg") // its sockets want a short path
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = exec.Command("gpgconf", "--homedir", home, "--kill", "all").Run()
		os.RemoveAll(home)
	})
	for _, args := range [][]string{
		{"--passphrase", "", "--quick-generate-key", "stubbled@example.org", "ed25519", "sign"},
		{"--output", filepath.Join(dir, "stubbled.gpg"), "--export", "stubbled@example.org"},
		{"--output", filepath.Join(dir, "InRelease"), "--clearsign", filepath.Join(dir, "Release")},
	} {
		cmd := exec.Command(gpg, append([]string{"--homedir", home, "--batch", "--yes", "--pinentry-mode", "loopback"}, args...)...)
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, said)
		}
	}
}

// released is the program that the database which is kept as the first released
// one was made with, as a package.
func released(t *testing.T, dir string) (name string) {
	t.Helper()
	commit, err := exec.Command("git", "log", "--diff-filter=A", "--format=%H %ct", "--", "../store/testdata/released/v1.db").Output()
	fields := strings.Fields(string(commit))
	need(t, err == nil && len(fields) >= 2, "the history of the repository is not here")
	from := t.TempDir()
	unpack := exec.Command("sh", "-c", `git archive --format=tar "$1:./" | tar x -C "$2"`, "sh", fields[len(fields)-2], from)
	unpack.Dir = ".."
	if said, err := unpack.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	t.Setenv("SOURCE_DATE_EPOCH", fields[len(fields)-1])
	if err := build(from, dir, "--arch", runtime.GOARCH); err != nil {
		t.Fatal(err)
	}
	found, _ := filepath.Glob(filepath.Join(dir, "*.deb"))
	if len(found) != 1 {
		t.Fatalf("packages of the release: %v", found)
	}
	return filepath.Base(found[0])
}

// step gives the commands of a section of the installation page, as typed.
func step(t *testing.T, from string) (commands []string) {
	t.Helper()
	_, text, ok := strings.Cut(read(t, "README.md"), from)
	if !ok {
		t.Fatalf("the page has no %q", from)
	}
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "**") || strings.HasPrefix(line, "#") {
			break
		}
		if command, ok := strings.CutPrefix(line, "    "); ok {
			command, _, _ = strings.Cut(command, "  #")
			commands = append(commands, strings.TrimSpace(command))
		}
	}
	return commands
}

// typed runs the commands of a step of the page as root types them, but for
// those that want what is not here: the network, a person, a real modem.
func (m *machine) typed(t *testing.T, from string, but ...string) (said string) {
	t.Helper()
	ran := 0
	for _, command := range step(t, from) {
		if slices.ContainsFunc(but, func(b string) bool { return strings.Contains(command, b) }) {
			continue
		}
		ran++
		said += m.do(t, fmt.Sprintf("sudo() { \"$@\"; }; %s", strings.Replace(command, "amd64", runtime.GOARCH, 1)))
	}
	if ran == 0 {
		t.Errorf("nothing of %q was tried", from)
	}
	return said
}
