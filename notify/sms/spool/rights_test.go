package spool

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"stubbled/notify"
)

// The README gives the daemon's user the group smsd and the folders mode 2770
// smsd:smsd, while Debian starts smsd with the group dialout alone. Both users
// are tried as they are there.
func TestTheRightsOfTheReadmeAreEnough(t *testing.T) {
	t.Parallel()
	Need(t, "smsd", "smstools")
	if os.Geteuid() != 0 {
		t.Skip("skipped: only root can be two users")
	}
	uid, gid := ids(t, "smsd")
	dir := rightsFolder(t, uid, gid)
	r := &rig{t: t, dir: dir, in: newInbox()}
	var err error
	if r.modem, err = newModem(filepath.Join(dir, "modem"), time.Now); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(r.modem.Unplug)
	r.start("-usmsd", "-gdialout")

	child, out := asNobody(t, dir, uint32(gid))
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	r.wait(1)
	r.modem.Receive(ana, "off creek", time.Now())
	if err := child.Wait(); err != nil {
		log, _ := os.ReadFile(filepath.Join(dir, "smsd.log"))
		t.Errorf("as another user: %v\n%s\nsmsd's log:\n%s", err, out.String(), log)
	}
}

// rightsFolder is a spool as the README has it, where another user gets at it.
func rightsFolder(t *testing.T, uid, gid int) string {
	t.Helper()
	dir, err := os.MkdirTemp("/var/tmp", "rights")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	makeFolders(t, dir)
	for _, name := range []string{"outgoing", "checked", "sent", "failed", "incoming"} {
		chown(t, filepath.Join(dir, name), uid, gid, 0o2770)
	}
	chown(t, dir, uid, gid, 0o2775)
	return dir
}

// asNobody is this test binary under another user, with these groups.
func asNobody(t *testing.T, dir string, groups ...uint32) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	self, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	binary := filepath.Join(dir, "child.test")
	if err := os.WriteFile(binary, self, 0o755); err != nil {
		t.Fatal(err)
	}
	child, out := exec.Command(binary), new(bytes.Buffer)
	child.Dir = "/"
	child.Env = []string{"SPOOL_RIGHTS_DIR=" + dir, "PATH=" + os.Getenv("PATH")}
	child.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534, Groups: groups}}
	child.Stdout, child.Stderr = out, out
	return child, out
}

func TestRightsThatAreNotEnoughAreSaidWithTheMend(t *testing.T) {
	t.Parallel()
	Need(t, "smsd", "smstools") // brings the user
	if os.Geteuid() != 0 {
		t.Skip("skipped: only root can be two users")
	}
	uid, gid := ids(t, "smsd")
	for name, c := range map[string]struct {
		groups []uint32
		spoil  func(dir string)
		says   string
	}{
		"not in the group":        {nil, func(string) {}, "add the user that runs stubbled to the group smsd"},
		"the sticky bit is on":    {[]uint32{uint32(gid)}, func(dir string) { chown(t, dir+"/incoming", uid, gid, 0o3775) }, "chmod 2770"},
		"a folder of its own":     {[]uint32{uint32(gid)}, func(dir string) { chown(t, dir+"/outgoing", uid, gid, 0o2700) }, "group smsd"},
		"a file in place of done": {[]uint32{uint32(gid)}, func(dir string) { os.WriteFile(dir+"/done", nil, 0o600) }, "not a directory"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := rightsFolder(t, uid, gid)
			c.spoil(dir)
			child, out := asNobody(t, dir, c.groups...)
			child.Env = append(child.Env, "SPOOL_RIGHTS_ASK=1")
			if err := child.Run(); err != nil || !strings.Contains(out.String(), c.says) {
				t.Errorf("%v\ngot  %s\nwant %q", err, out, c.says)
			}
		})
	}
}

// askChild says what Check says.
func askChild(dir string) int {
	s := New(usual(dir), time.Now)
	fmt.Println(s.Check(context.Background()))
	return 0
}

// rightsChild is the daemon's part, under another user.
func rightsChild(dir string) int {
	o := usual(dir)
	o.Poll = 100 * time.Millisecond
	s := New(o, time.Now)
	if err := s.Check(context.Background()); err != nil {
		fmt.Println("check:", err)
		return 1
	}
	if out := s.Deliver(context.Background(), shut); out.State != notify.Sent {
		fmt.Printf("deliver: %+v\n", out)
		return 1
	}
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	defer cancel()
	in := newInbox()
	go s.Receive(ctx, "", in.accept, in.report)
	for {
		select {
		case <-in.change:
		case <-time.After(100 * time.Millisecond): // a file moves after it is accepted
		case <-ctx.Done():
			fmt.Printf("heard %+v, faults %v\n", in.got, in.faults)
			return 1
		}
		in.mu.Lock()
		done := textOf("off creek")(in) && reportFor(shut.ID, true)(in)
		in.mu.Unlock()
		left, _ := os.ReadDir(s.path("incoming"))
		if done && len(left) == 0 {
			return 0
		}
	}
}

func ids(t *testing.T, name string) (uid, gid int) {
	t.Helper()
	u, err := user.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	g, err := user.LookupGroup(name)
	if err != nil {
		t.Fatal(err)
	}
	uid, _ = strconv.Atoi(u.Uid)
	gid, _ = strconv.Atoi(g.Gid)
	return uid, gid
}

func chown(t *testing.T, name string, uid, gid int, mode uint32) {
	t.Helper()
	if err := os.Chown(name, uid, gid); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Chmod(name, mode); err != nil {
		t.Fatal(err)
	}
}
