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
	"syscall"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/notify/sms/internal/modem"
)

// The README gives the daemon's user the group smsd and the folders mode 2770
// smsd:smsd, while Debian starts smsd with the group dialout alone. Both users
// are tried as they are there.
func TestTheRightsOfTheReadmeAreEnough(t *testing.T) {
	t.Parallel()
	modem.Need(t, "smsd", "smstools")
	if os.Geteuid() != 0 {
		t.Skip("skipped: only root can be two users")
	}
	uid, gid := ids(t, "smsd")
	dir, err := os.MkdirTemp("/var/tmp", "rights")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	makeFolders(t, dir)
	for _, name := range []string{".", "outgoing", "checked", "sent", "failed", "incoming"} {
		chown(t, filepath.Join(dir, name), uid, gid, 0o2770)
	}
	chown(t, dir, uid, gid, 0o2775)

	r := &rig{t: t, dir: dir, in: newInbox()}
	if r.modem, err = modem.New(filepath.Join(dir, "modem"), time.Now); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(r.modem.Unplug)
	r.start("-usmsd", "-gdialout")

	self, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	binary := filepath.Join(dir, "child.test")
	if err := os.WriteFile(binary, self, 0o755); err != nil {
		t.Fatal(err)
	}
	child := exec.Command(binary)
	child.Dir = "/"
	child.Env = []string{"SPOOL_RIGHTS_DIR=" + dir, "PATH=" + os.Getenv("PATH")}
	child.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534, Groups: []uint32{uint32(gid)}}}
	var out bytes.Buffer
	child.Stdout, child.Stderr = &out, &out
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

// rightsChild is the daemon's part, under another user.
func rightsChild(dir string) int {
	s, err := New(Options{Dir: dir, Poll: 100 * time.Millisecond}, time.Now)
	if err != nil {
		fmt.Println(err)
		return 1
	}
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
