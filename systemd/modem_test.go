package systemd

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// modemProgram compiles the simulated modem as a program of its own.
func modemProgram(t *testing.T, path string) {
	t.Helper()
	if said, err := exec.Command("go", "test", "-c", "-o", path, "../notify/sms/spool").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
}

// plug starts a simulated modem on the machine and gives its device.
func (m *machine) plug(t *testing.T, name string) (device string) {
	t.Helper()
	m.do(t, "mkdir -p /dev/"+name+"/in; systemd-run --quiet --unit="+name+" --setenv=MODEMTEST=/dev/"+name+" /packages/modem")
	m.until(t, daemonDown, "test -c /dev/"+name+"/modem")
	return "/dev/" + name + "/modem"
}

// atModem is how long a text may take through smsd, the daemon and back: smsd
// looks every few seconds, and waits after it found its modem.
const atModem = 2 * time.Minute

// texted lets a text come in at a modem and waits for its answer there.
func (m *machine) texted(t *testing.T, modem, text, answer string) {
	t.Helper()
	before := m.do(t, "wc -l </dev/"+modem+"/sent")
	m.do(t, "echo '+15555550142 "+text+"' >/dev/"+modem+"/text; mv /dev/"+modem+"/text /dev/"+modem+"/in/")
	m.until(t, atModem, fmt.Sprintf("tail -n +$((%s+1)) /dev/%s/sent | grep '^+15555550142 .*%s' || { tail -n 5 /var/log/smstools/smsd*.log; ls -R /var/spool/stubbled-sms*; false; }", before, modem, answer))
}

// modem gives the daemon a modem by the page, texts through it, and ends its
// server the hard way.
func (m *machine) modem(t *testing.T) {
	tool(t, "smsd", "smstools")
	if said, err := m.try("stubbled-modem /dev/no-modem"); err == nil || !strings.Contains(said, "'stubbled-modem' alone lists") {
		t.Errorf("a device that is not there: %v %s", err, said)
	}
	m.do(t, "cp /etc/smsd.conf /root/smsd.conf")
	device := m.plug(t, "tty-gsm")
	m.wants(t, "echo 1234 | stubbled-modem --pin "+device, "via: spool", "stubbled-farm check --send")
	m.wants(t, "stat -c '%U:%G %a' /etc/smsd.conf /var/spool/stubbled-sms/outgoing", "root:smsd 640", "smsd:smsd 2770")
	m.wants(t, "cat /etc/smsd.conf", "\ndevice = "+device+"\n", "\npin = 1234\n")
	m.do(t, "cmp /root/smsd.conf /etc/smsd.conf.before-stubbled; systemctl is-active smstools; pgrep -u smsd smsd")
	m.do(t, `sed -i 's|^    via: console.*|    via: spool\n    spool: {dir: /var/spool/stubbled-sms}|; s/, email: [a-z]*@example.org//' /etc/stubbled/farm.yaml`)
	m.typed(t, "**6. Start**")
	m.do(t, "systemctl restart stubbled; systemctl is-active stubbled")
	server := m.oneServer(t, "0")
	m.texted(t, "tty-gsm", "creek 14 8 6 8", "Creek Bottom")
	m.until(t, daemonDown, "! ls /var/spool/stubbled-sms/incoming | grep .")
	m.wants(t, "stubbled-farm diary", "14 8 6 8")
	m.until(t, twoBeats, "systemctl status stubbled | grep 'all is well'")
	if after := m.oneServer(t, "0"); after != server { // some minute later
		t.Errorf("while it texted the modem's server was %s and is %s", server, after)
	}

	m.do(t, "kill -9 $(cat /run/smstools/smsd.pid)")
	began := time.Now()
	m.until(t, daemonDown, `test "$(systemctl show --value -p ActiveState -p NRestarts smstools | sort | xargs)" = "1 active"`)
	server = m.oneServer(t, "1")
	m.texted(t, "tty-gsm", "creek 9 8 11", "Creek Bottom")
	m.wants(t, "stubbled-farm diary", "9 8 11")
	m.until(t, atModem, strings.ReplaceAll(step(t, "**7. The first text**")[0], "sudo ", ""))
	m.until(t, atModem, "test $(grep -c '^+15555550142 ' /dev/tty-gsm/sent) -ge 3")
	time.Sleep(time.Until(began.Add(time.Minute)))
	if after := m.oneServer(t, "1"); after != server {
		t.Errorf("in the minute after it was killed the modem's server was %s and is %s", server, after)
	}
}

// oneServer gives the one process that has the modem, and holds the service
// manager to the number of times that it started it again.
func (m *machine) oneServer(t *testing.T, restarts string) string {
	t.Helper()
	got := m.do(t, `systemctl show --value -p NRestarts smstools; pid=$(cat /run/smstools/smsd.pid); test "$(systemctl show --value -p MainPID smstools)" = $pid; echo $pid`)
	count, pid, _ := strings.Cut(got, "\n")
	if count != restarts {
		t.Fatalf("the modem's server was started again %s times, want %s", count, restarts)
	}
	return pid
}

// secondFarm puts another farm beside the first by the page, with a modem.
func (m *machine) secondFarm(t *testing.T) {
	const page = "## Several farms on one machine"
	m.typed(t, page, "init", "check", "modem", "systemctl")
	device := m.plug(t, "tty-hill")
	said := m.do(t, `sed 's/^  name: .*/  name: Hill Farm/; s/, email: [a-z]*@example.org//' /etc/stubbled/farm.yaml.example >/etc/stubbled@hill/farm.yaml
		stubbled-modem @hill `+device)
	_, spool, _ := strings.Cut(said, "via: spool\n")
	spool, _, _ = strings.Cut(spool, "\n")
	m.do(t, `sed -i 's|^    via: console.*|    via: spool\n    `+strings.TrimSpace(spool)+`|' /etc/stubbled@hill/farm.yaml`)
	m.typed(t, page, "install", "init", "modem", "check")
	m.until(t, atModem, "stubbled-farm @hill check") // once smsd has asked its modem
	m.wants(t, "stubbled-farm @hill check", "Hill Farm", "fine   database   /var/lib/stubbled@hill/stubbled.db")
	m.texted(t, "tty-hill", "creek 7 7 7", "Creek Bottom")
	m.wants(t, "stubbled-farm @hill diary", "7 7 7")
	if said := m.do(t, "stubbled-farm diary; cat /dev/tty-gsm/sent"); strings.Contains(said, "7 7 7") || strings.Contains(said, "Hill Farm") {
		t.Errorf("the first farm heard the second:\n%s", said)
	}
	m.wants(t, "stat -c '%n %U:%G %a' /var/lib/stubbled@hill /etc/stubbled@hill /var/spool/stubbled-sms@hill",
		"/var/lib/stubbled@hill stubbled:stubbled 700", "/etc/stubbled@hill root:stubbled 750", "smsd:smsd 2770")
	m.do(t, "systemctl stop stubbled; curl --fail --silent --unix-socket /run/stubbled@hill/health.sock http://localhost/; systemctl start stubbled")
	if said, err := m.try("stubbled-farm @../x check"); err == nil || !strings.Contains(said, "lower-case letters") {
		t.Errorf("a name that is a path: %v %s", err, said)
	}
}

// upgrade goes back to the release, lets it write a diary, and takes the new
// package out of the signed folder as any machine does.
func (m *machine) upgrade(t *testing.T, old string) {
	m.do(t, `systemctl stop stubbled stubbled@hill; mv /var/lib/stubbled /root/before
		dpkg -i --force-downgrade --force-confnew /packages/released/`+old+`
		cp /etc/stubbled/farm.yaml /root/new.yaml; sed 's/^  name: .*/  name: Test Farm/' /etc/stubbled/farm.yaml.example >/etc/stubbled/farm.yaml
		systemctl start stubbled; stubbled-farm height creek 14 8 6 8`)
	before := m.property(t, "MainPID")
	m.do(t, "mkdir -p /etc/apt/keyrings /media; ln -s /packages /media/stick")
	for _, command := range step(t, "On each machine, where") {
		m.do(t, `sudo() { "$@"; }; apt() { apt-get -o Dir::Etc::sourcelist=/etc/apt/sources.list.d/stubbled.list -o Dir::Etc::sourceparts=- "$@"; }; `+command)
	}
	m.do(t, "systemctl is-active stubbled; systemctl is-enabled stubbled")
	if after := m.property(t, "MainPID"); after == before || after == "0" {
		t.Errorf("process %s before, %s after", before, after)
	}
	if now := m.do(t, "dpkg-query -W -f '${Version}' stubbled"); strings.Contains(old, now) {
		t.Errorf("it is still %s", now)
	}
	m.wants(t, "stubbled-farm diary", "14 8 6 8")
	m.wants(t, "stubbled-farm check || true", "fine   database")
	if said := m.do(t, "find /var/lib/stubbled ! -user stubbled"); said != "" {
		t.Errorf("not the daemon's own: %s", said)
	}
}
