package main

import (
	"debug/buildinfo"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// A work is one run: where the sources are, where things are put together, and
// the time that everything made bears.
type work struct {
	top, stage string
	date       time.Time
	localGo    bool              // compile with the Go that is here
	stamped    bool              // the program bears the version of the commit
	programs   map[string]string // by operating system and architecture
	version    string            // of the Debian package
}

func newWork(top, stage string, localGo bool) *work {
	w := &work{top: top, stage: stage, localGo: localGo, programs: map[string]string{}}
	seconds := os.Getenv("SOURCE_DATE_EPOCH")
	if commit, err := w.git("log", "-1", "--format=%ct"); err == nil {
		w.stamped = true
		if seconds == "" {
			seconds = commit
		}
	}
	if seconds == "" {
		must(fmt.Errorf("%s is no git checkout, so the date of the sources is not known: set SOURCE_DATE_EPOCH to it, in seconds", top))
	}
	n, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		must(fmt.Errorf("SOURCE_DATE_EPOCH: want seconds since 1970, got %q", seconds))
	}
	w.date = time.Unix(n, 0).UTC()
	return w
}

func (w *work) git(args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir = w.top
	text, err := cmd.Output()
	return strings.TrimSpace(string(text)), err
}

// goTool is a call of the toolchain that go.mod names, whatever this machine
// has: the version that the check for known holes looks at is the one packed.
func (w *work) goTool(args ...string) *exec.Cmd {
	cmd := exec.Command("go", args...)
	cmd.Dir = w.top
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if !w.localGo {
		cmd.Env = append(cmd.Env, "GOTOOLCHAIN=auto")
	}
	return cmd
}

// program compiles stubbled once for each system that it is asked for: static,
// without paths of this machine in it.
func (w *work) program(system, arch string) string {
	key := system + "_" + arch
	if path, ok := w.programs[key]; ok {
		return path
	}
	path := filepath.Join(w.stage, key, "stubbled")
	cmd := w.goTool("build", "-buildvcs="+strconv.FormatBool(w.stamped), "-trimpath", "-ldflags=-s -w", "-o", path, "./cmd/stubbled")
	cmd.Env = append(cmd.Env, "GOOS="+system, "GOARCH="+arch)
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	must(cmd.Run(), "compile stubbled for "+arch)
	info := got(buildinfo.ReadFile(path))("read the version of what was compiled")
	w.version = debianVersion(info.Main.Version, w.date)
	w.programs[key] = path
	return path
}

// host is the program for this machine.
func (w *work) host() string { return w.program(runtime.GOOS, runtime.GOARCH) }

// debianVersion turns the version that Go stamped into one that dpkg orders the
// same way (deb-version(7)): v1.2.0 is 1.2.0, and a commit before v1.2.1, to Go
// v1.2.1-0.20261125134300-67b8c24e4f0a, is 1.2.1~0.20261125134300.67b8c24e4f0a.
// Where nothing was stamped the sources' date stands for it.
func debianVersion(stamp string, date time.Time) string {
	version, ok := strings.CutPrefix(stamp, "v")
	if !ok {
		return "0.0.0~" + date.Format("20060102150405")
	}
	number, rest, pre := strings.Cut(version, "-")
	if !pre {
		return number
	}
	return number + "~" + strings.ReplaceAll(rest, "-", ".")
}
