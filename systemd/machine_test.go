package systemd

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A machine is a started Debian with a real service manager, made of this one
// and gone afterwards; see testdata/boot.sh.
type machine struct {
	disk     int    // process that holds the disk's mount namespace
	work     string // where the disk is mounted there
	packages string // folder seen inside as /packages
	pid      int    // of its process 1, seen from here
	cut      func() // ends all of its processes at once
}

// need ends a test that cannot be made here; in continuous integration that is
// a failure.
func need(t testing.TB, ok bool, what string) {
	t.Helper()
	switch {
	case ok:
	case os.Getenv("CI") == "true":
		t.Fatalf("%s, and nothing may be skipped here", what)
	default:
		t.Skipf("skipped: %s", what)
	}
}

// tool finds a program of a Debian package.
func tool(t testing.TB, name, debian string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	need(t, err == nil, name+" is not installed; apt-get install "+debian)
	return path
}

// newMachine makes a machine that sees the folder packages, and boots it.
func newMachine(t *testing.T, packages string) *machine {
	t.Helper()
	need(t, os.Geteuid() == 0, "only root can start a service manager")
	for _, p := range [][2]string{{"apt-get", "apt"}, {"unshare", "util-linux"}, {"ip", "iproute2"}, {"/lib/systemd/systemd", "systemd"}} {
		tool(t, p[0], p[1])
	}
	m := &machine{work: t.TempDir(), packages: packages}
	// The disk lives in the mounts of a process that does nothing else.
	holder := exec.Command("/bin/sh", "-c", `mount --make-rprivate / && mount -t tmpfs -o mode=755 disk "$1" && echo there && exec sleep infinity`, "disk", m.work)
	holder.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNS, Pdeathsig: syscall.SIGKILL}
	out, err := holder.StdoutPipe()
	if err == nil {
		err = holder.Start()
	}
	need(t, !errors.Is(err, syscall.EPERM), "namespaces may not be made here")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = holder.Process.Kill(); _ = holder.Wait() })
	if there := make([]byte, 6); readFull(out, there) != nil {
		t.Fatal("the disk could not be mounted")
	}
	m.disk = holder.Process.Pid
	t.Cleanup(func() {
		if m.cut != nil {
			m.cut()
		}
	})
	m.boot(t)
	return m
}

func readFull(r io.Reader, b []byte) error {
	_, err := io.ReadFull(r, b)
	return err
}

// boot starts the machine, or starts it again after a cut, and waits until
// everything that is enabled had its turn.
func (m *machine) boot(t *testing.T) {
	t.Helper()
	group := cgroup(t)
	script, err := filepath.Abs("testdata/boot.sh")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("nsenter", "-m", "-r", "-t", strconv.Itoa(m.disk), "/bin/bash", "-c",
		`echo $$ >"$1/cgroup.procs"; exec unshare -C -m /bin/bash "$2" "$3" "$4"`, "boot", group, script, m.work, m.packages)
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags: syscall.CLONE_NEWPID | syscall.CLONE_NEWNET | syscall.CLONE_NEWIPC | syscall.CLONE_NEWUTS,
		Pdeathsig:  syscall.SIGKILL, Setsid: true,
	}
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { _ = cmd.Wait(); close(ended) }()
	m.pid = cmd.Process.Pid
	m.cut = func() {
		_ = cmd.Process.Kill() // with process 1 all others end
		<-ended
		sweep(t, group)
	}
	for deadline := time.Now().Add(time.Minute); ; {
		state, _ := m.try("systemctl is-system-running --wait")
		if state == "running" || state == "degraded" {
			return
		}
		select {
		case <-ended:
			t.Fatalf("the machine did not start:\n%s", said.String())
		case <-time.After(100 * time.Millisecond):
		}
		if time.Now().After(deadline) {
			t.Fatalf("the machine is %q after a minute", state)
		}
	}
}

// cgroup makes a control group for the machine, away from this one's services;
// cutting it off takes it away.
func cgroup(t *testing.T) string {
	t.Helper()
	top := "/sys/fs/cgroup"
	if _, err := os.Stat(top + "/unified"); err == nil {
		top += "/unified"
	}
	dir, err := os.MkdirTemp(top, "stubbled-test-")
	need(t, err == nil, "control groups may not be made here")
	if _, err := os.Stat(dir + "/cgroup.procs"); err != nil {
		os.Remove(dir)
		need(t, false, top+" is no file system of control groups")
	}
	return dir
}

// sweep removes a control group with those below it, once their processes are
// gone, which is soon after they were killed.
func sweep(t *testing.T, dir string) {
	for deadline := time.Now().Add(10 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		var below []string
		_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() {
				below = append(below, path)
			}
			return nil
		})
		for i := len(below) - 1; i >= 0; i-- {
			_ = os.Remove(below[i])
		}
		if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
			return
		}
		if time.Now().After(deadline) {
			t.Errorf("control group %s is still in use", dir)
			return
		}
	}
}

// try runs a shell command on the machine as root and gives all that it said.
func (m *machine) try(command string) (string, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "nsenter", "-t", strconv.Itoa(m.pid), "-m", "-p", "-n", "-i", "-u", "-C", "-r", "-w",
		"env", "-i", "PATH=/usr/sbin:/usr/bin:/sbin:/bin", "HOME=/root", "LANG=C.UTF-8", "DEBIAN_FRONTEND=noninteractive",
		"/bin/bash", "-c", "cd /root; "+command)
	said, err := cmd.CombinedOutput()
	return strings.TrimSpace(string(said)), err
}

// do runs a command that must work.
func (m *machine) do(t *testing.T, command string) string {
	t.Helper()
	said, err := m.try(command)
	if err != nil {
		t.Fatalf("%s: %v\n%s", command, err, said)
	}
	return said
}

// wants runs a command and looks for words in what it says.
func (m *machine) wants(t *testing.T, command string, words ...string) {
	t.Helper()
	said := m.do(t, command)
	for _, w := range words {
		if !strings.Contains(said, w) {
			t.Errorf("%s: it does not say %q:\n%s", command, w, said)
		}
	}
}

// property asks the service manager about the daemon.
func (m *machine) property(t *testing.T, name string) string {
	t.Helper()
	return m.do(t, "systemctl show --value -p "+name+" stubbled")
}

// until runs a command until it works or its time is over.
func (m *machine) until(t *testing.T, within time.Duration, command string) string {
	t.Helper()
	for deadline := time.Now().Add(within); ; {
		said, err := m.try(command)
		if err == nil {
			return said
		}
		if time.Now().After(deadline) {
			journal, _ := m.try("journalctl --no-pager -n 40")
			t.Fatalf("not within %s: %s\n%s\njournal:\n%s", within, command, said, journal)
		}
		time.Sleep(200 * time.Millisecond)
	}
}
