package systemd

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// dropin lays a drop-in of the test beside the unit's; without text it takes it
// away.
func (m *machine) dropin(t *testing.T, text string) {
	t.Helper()
	const dir = "/run/systemd/system/stubbled.service.d"
	if text == "" {
		m.do(t, "rm -r "+dir+"; systemctl daemon-reload")
		return
	}
	m.do(t, "mkdir -p "+dir+"; cat >"+dir+"/test.conf <<'END'\n"+text+"\nEND\nsystemctl daemon-reload")
}

// rights runs a script in the place of the daemon and compares what it could do.
func (m *machine) rights(t *testing.T) {
	m.do(t, `echo opensesame | install -m 0600 /dev/stdin /etc/credstore/stubbled.mail-password
		mkdir -p /home/somebody; touch /tmp/outside`)
	m.dropin(t, "[Service]\nExecStartPre=/bin/sh -c 'exec /bin/sh /packages/inside.sh >\"$$STATE_DIRECTORY/inside.txt\"'")
	m.do(t, "systemctl restart stubbled")
	m.dropin(t, "")
	got := map[string]string{}
	for line := range strings.Lines(m.do(t, "cat /var/lib/stubbled/inside.txt")) {
		line = strings.TrimSpace(line)
		i := strings.LastIndex(line, " ")
		got[line[:i]] = line[i+1:]
	}
	for what, want := range map[string]string{
		"write state": "yes", "read farm file": "yes", "read own secret": "yes", "open network socket": "yes",
		"ask how sure the clock is": "yes",

		"write farm file": "no", "write program": "no", "see others' temporary files": "no", "see homes": "no",
		"write temporary file": "yes", "read where secrets lie": "no", "see other processes": "no", "become root": "no",
		"open raw socket": "no", "open netlink socket": "no", "make namespace": "no", "mount": "no", "set clock": "no",
		"see a disk": "no", "write and run memory": "no",
	} {
		if got[what] != want {
			t.Errorf("%s: got %q, want %q", what, got[what], want)
		}
	}
	m.wants(t, "stubbled-farm check || true", "fine   database")
	m.do(t, "setpriv --reuid=stubbled --regid=stubbled --clear-groups grep -q opensesame /run/credentials/stubbled.service/mail-password")
	if said, err := m.try("setpriv --reuid=nobody --clear-groups cat /run/credentials/stubbled.service/mail-password"); err == nil {
		t.Errorf("anybody can read the secret: %s", said)
	}
}

func (m *machine) killed(t *testing.T) {
	before := m.property(t, "MainPID")
	m.do(t, "systemctl restart stubbled; systemctl kill --signal=KILL stubbled")
	m.until(t, daemonDown, `test "$(systemctl show --value -p ActiveState -p NRestarts stubbled | sort | xargs)" = "1 active"`)
	if after := m.property(t, "MainPID"); after == before || after == "0" {
		t.Errorf("process %s, then %s", before, after)
	}
}

func (m *machine) starved(t *testing.T) {
	m.dropin(t, "[Service]\nWatchdogSec=2\nRestartSec=1")
	m.do(t, "systemctl restart stubbled")
	m.until(t, daemonDown, `test "$(systemctl show --value -p NRestarts stubbled)" -ge 1`)
	m.wants(t, "journalctl --no-pager -u stubbled", "Watchdog timeout")
	m.dropin(t, "")
	m.do(t, "systemctl restart stubbled; systemctl is-active stubbled")
}

// twoBeats is how long the daemon may take to see twice that it cannot write.
const twoBeats = 3 * time.Minute

// noon is a time zone in which it is the middle of the day, when nobody's quiet
// hours keep an alarm back.
func noon(now time.Time) string { return fmt.Sprintf("Etc/GMT%+d", now.UTC().Hour()-12) }

// fullDisk puts the state directory on a disk of its own and lets something else
// fill it, all the time.
func (m *machine) fullDisk(t *testing.T) {
	m.do(t, `systemctl stop stubbled
		cp /etc/stubbled/farm.yaml /root/farm.yaml
		sed -i 's/, quiet: "[^"]*"//; /^ *quiet:/d; s|timezone: [^ ,}]*|timezone: `+noon(time.Now())+`|' /etc/stubbled/farm.yaml
		cp -a /var/lib/stubbled /root/state
		mount -t tmpfs -o size=8m,mode=700 disk /var/lib/stubbled; chown stubbled: /var/lib/stubbled; cp -a /root/state/. /var/lib/stubbled
		systemctl start stubbled; systemctl is-active stubbled
		systemd-run --quiet --unit=filler /bin/sh -c 'while :; do cat /dev/zero >>/var/lib/stubbled/ballast; sleep 1; done'`)
	before := m.property(t, "MainPID")
	const alarms = "journalctl --no-pager -o cat -u stubbled | grep -c 'Free some disk space'"
	m.until(t, twoBeats, "test $("+alarms+") -ge 1")
	told := m.do(t, alarms)
	if after := m.property(t, "MainPID"); after != before || m.property(t, "NRestarts") != "0" {
		t.Errorf("it was process %s and is %s", before, after)
	}
	// The line of the status alone: below it systemctl shows the journal, where the
	// fault may stand long after it is over.
	const status = "systemctl show --property=StatusText --value stubbled"
	m.wants(t, status, "the disk is full", "free some space on that disk")

	m.do(t, "systemctl restart stubbled; systemctl is-active stubbled")
	m.until(t, twoBeats, status+" | grep 'the disk is full'")
	m.do(t, "curl --fail --silent --unix-socket /run/stubbled/health.sock http://localhost/ && exit 1 || exit 0")
	m.do(t, "systemctl stop filler; rm /var/lib/stubbled/ballast")
	m.until(t, twoBeats, "! "+status+" | grep 'the disk is full'")
	if again := m.do(t, alarms); again != told {
		t.Errorf("told %s times, and after a new start %s times:\n%s", told, again, m.do(t, "journalctl --no-pager -u stubbled | grep -B3 -A1 'Free some disk space\\|handed over\\|ERROR\\|reserve'"))
	}
	m.do(t, `systemctl stop stubbled; umount /var/lib/stubbled; mv /root/farm.yaml /etc/stubbled/farm.yaml
		systemctl start stubbled; systemctl is-active stubbled`)
}

func (m *machine) noFarm(t *testing.T) {
	m.do(t, "mv /etc/stubbled/farm.yaml /etc/stubbled/away; systemctl restart stubbled; systemctl is-active stubbled")
	m.wants(t, "journalctl --no-pager -u stubbled", "no farm file: name one with --farm FILE, or write one with 'stubbled init'",
		"the one that was in force last goes on")
	m.wants(t, "stat -c '%U %a' /var/lib/stubbled/farm.in-force.yaml", "stubbled 600")
	m.do(t, "rm /var/lib/stubbled/farm.in-force.yaml")
	if said, err := m.try("systemctl restart stubbled"); err == nil {
		t.Errorf("it runs for no farm: %s", said)
	}
	m.do(t, "mv /etc/stubbled/away /etc/stubbled/farm.yaml")
	m.until(t, daemonDown, "systemctl is-active stubbled")
}

// powerCut ends every process of the machine at once and boots it again.
func (m *machine) powerCut(t *testing.T) {
	m.do(t, "cd /var/spool/stubbled-sms; setpriv --reuid=smsd --regid=dialout --clear-groups touch checked/old.LOCK")
	m.cut()
	m.boot(t)
	if got := m.property(t, "ActiveState") + " " + m.property(t, "NRestarts"); got != "active 0" {
		t.Errorf("it is %s", got)
	}
	m.do(t, "systemctl is-active smstools stubbled@hill stubbled-smsd@hill; test ! -e /var/spool/stubbled-sms/checked/old.LOCK")
	m.wants(t, "stubbled-farm diary", "14 8 6 8")
	m.wants(t, "stubbled-farm check || true", "fine   database")
}

// restore damages the database, and the newest copy with it.
func (m *machine) restore(t *testing.T) {
	m.do(t, `cd /var/lib/stubbled; install -d -o stubbled -g stubbled -m 0700 backups
		stubbled-farm backup --to backups/stubbled-2099-08-30.db
		head -c 20000 /dev/urandom >backups/stubbled-2099-08-31.db; chown stubbled: backups/*
		systemctl stop stubbled; dd if=/dev/urandom of=stubbled.db bs=4096 seek=1 count=8 conv=notrunc status=none`)
	if said, err := m.try("stubbled-farm diary"); err == nil && strings.Contains(said, "14 8 6 8") {
		t.Fatalf("the database is not damaged:\n%s", said)
	}
	m.wants(t, "stubbled-restore", "passed over: ", "stubbled-2099-08-31.db",
		"/var/lib/stubbled/backups/stubbled-2099-08-30.db is now the database", "is kept as /var/lib/stubbled/stubbled.db.aside.")
	m.do(t, "systemctl is-active stubbled")
	m.wants(t, "stubbled-farm diary", "14 8 6 8")
	m.wants(t, "stat -c '%U %a' /var/lib/stubbled/stubbled.db", "stubbled 600")
	if said, err := m.try("stubbled-restore /var/lib/stubbled/backups/stubbled-2099-08-31.db"); err == nil || !strings.Contains(said, "2099-08-31.db") {
		t.Errorf("a damaged copy: %v %s", err, said)
	}
	m.do(t, "systemctl is-active stubbled; test ! -e /var/lib/stubbled/restore.part")
}

func (m *machine) removal(t *testing.T) {
	m.do(t, "apt-get remove -y stubbled")
	if said, err := m.try("systemctl is-active stubbled || pgrep -u stubbled -a"); err == nil {
		t.Errorf("it still runs: %s", said)
	}
	m.do(t, "test ! -e /usr/bin/stubbled; test -s /var/lib/stubbled/stubbled.db; test -s /etc/stubbled/farm.yaml")
	m.wants(t, "stat -c '%U %a' /var/lib/stubbled/stubbled.db", "stubbled 600")
}

func (m *machine) again(t *testing.T, install string) {
	said := m.do(t, install)
	if strings.Contains(said, "waits for a farm") {
		t.Errorf("it does not see its farm:\n%s", said)
	}
	m.do(t, "systemctl is-enabled stubbled; systemctl start stubbled; systemctl is-active stubbled")
	m.wants(t, "stubbled-farm diary", "14 8 6 8")
}

func (m *machine) purge(t *testing.T) {
	m.wants(t, "apt-get purge -y stubbled", "/var/lib/stubbled      the diary", "sudo rm -rf /var/lib/stubbled*")
	m.do(t, "test -s /var/lib/stubbled/stubbled.db; test -s /etc/stubbled/farm.yaml; test ! -e /etc/stubbled/farm.yaml.example; getent passwd stubbled")
	m.do(t, "cmp /root/smsd.conf /etc/smsd.conf")
	if said := m.do(t, "find /etc/systemd /etc/udev /etc/smsd* -name '*stubbled*' -o -name 'smsd@*' 2>/dev/null; dpkg -l stubbled 2>/dev/null | grep ^rc || true"); said != "" {
		t.Errorf("left behind: %s", said)
	}
}
