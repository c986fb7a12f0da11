package systemd

import (
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// daemonDown is how long the daemon may be gone: RestartSec and a slow machine.
const daemonDown = 40 * time.Second

// The life of the package on one machine, from bare to bare. Each step stands
// on the one before.
func TestThePackageOnAMachine(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: -short; it compiles two packages and starts a machine")
	}
	dir, name := packages(t, runtime.GOARCH)
	copyFile(t, filepath.Join("testdata", "inside.sh"), filepath.Join(dir, "inside.sh"))
	sign(t, dir)
	old := released(t, filepath.Join(dir, "released"))
	modemProgram(t, filepath.Join(dir, "modem"))
	m := newMachine(t, dir)
	// apt answers yes, and finds what the page finds in dist.
	m.do(t, `printf 'APT::Get::Assume-Yes "true";\nAPT::Sandbox::User "root";\n' >/etc/apt/apt.conf.d/99test; ln -s /packages dist`)
	install := "apt-get install -y /packages/" + filepath.Base(name)
	for _, step := range []struct {
		name string
		do   func(t *testing.T)
	}{
		{"a fresh install starts nothing and says the next three steps", m.fresh},
		{"program, pages and completion are there", m.documents},
		{"a rehearsal plays the demo season", m.rehearsal},
		{"the example becomes a farm file that check finds fine", m.farmFile},
		{"the service is ready and its folders are its own", m.service},
		{"its rights are what the unit says", m.rights},
		{"killed it is back", m.killed},
		{"not fed it is killed and back", m.starved},
		{"on a full disk it says so, lives, and goes on when there is room", m.fullDisk},
		{"without its farm file it goes on with the last and says so", m.noFarm},
		{"a text to the modem is answered, and after its server died the next one too", m.modem},
		{"a second farm has folders and a modem of its own", m.secondFarm},
		{"after a power cut it starts by itself and knows what it knew", m.powerCut},
		{"the newest good copy is back by one command", m.restore},
		{"an upgrade of the release, out of a signed folder, keeps its diary and starts it anew", func(t *testing.T) { m.upgrade(t, old) }},
		{"removal leaves diary and farm file", m.removal},
		{"installed again it goes on", func(t *testing.T) { m.again(t, install) }},
		{"purge leaves the diary and says where", m.purge},
	} {
		if !t.Run(step.name, step.do) {
			journal, _ := m.try("journalctl --no-pager -u stubbled -n 30; systemctl status stubbled --no-pager")
			t.Fatalf("the machine is of no more use; its journal:\n%s", journal)
		}
	}
}

func (m *machine) fresh(t *testing.T) {
	said := m.typed(t, "**2. Install**", "apt update") // without a network
	for _, next := range []string{"stubbled init --out /etc/stubbled/farm.yaml", "stubbled-farm check", "systemctl enable --now stubbled"} {
		if !strings.Contains(said, next) {
			t.Errorf("it does not say %q:\n%s", next, said)
		}
	}
	for _, asks := range []string{"is-enabled", "is-active"} {
		if said, err := m.try("systemctl " + asks + " stubbled"); err == nil {
			t.Errorf("%s: %s", asks, said)
		}
	}
	m.wants(t, "stat -c '%U:%G %a' /var/lib/stubbled /etc/stubbled", "stubbled:stubbled 700", "root:stubbled 750")
	m.wants(t, "getent passwd stubbled", "/usr/sbin/nologin")
	m.wants(t, "dpkg-query -W -f '${Conffiles}' stubbled", "/etc/stubbled/farm.yaml.example")
	if said := m.do(t, "dpkg --verify stubbled"); said != "" {
		t.Errorf("not as packed:\n%s", said)
	}
}

func (m *machine) documents(t *testing.T) {
	version := m.do(t, "stubbled --version")
	if packed := m.do(t, "dpkg-query -W -f '${Version}' stubbled"); strings.Contains(version, "built from source") {
		t.Errorf("the program is %q in package %s", version, packed)
	}
	tool(t, "man", "man-db")
	for page, words := range map[string]string{
		"stubbled": "GO or", "stubbled-rehearse": "virtual clock", "stubbled-check": "--send",
		"8 stubbled-farm": "service's own account", "8 stubbled-modem": "/dev/serial/by-id",
		"8 stubbled-restore": "moved aside",
	} {
		m.wants(t, "MANWIDTH=200 man --warnings -P cat "+page, words)
	}
	if _, err := m.try("test -e /usr/share/bash-completion/bash_completion"); err != nil {
		need(t, false, "bash-completion is not installed; apt-get install bash-completion")
	}
	m.wants(t, `. /usr/share/bash-completion/bash_completion; _completion_loader stubbled
		COMP_WORDS=(stubbled reh) COMP_CWORD=1 COMP_LINE='stubbled reh' COMP_POINT=12 COMP_TYPE=9
		__start_stubbled; echo "${COMPREPLY[@]}"`, "rehearse")
	if page := m.do(t, "MANWIDTH=200 man --warnings -P cat 5 stubbled-farm"); !strings.Contains(page, "paddocks[].area") {
		t.Errorf("the page of the farm file is\n%.500s", page)
	}
	m.wants(t, "zcat /usr/share/doc/stubbled/changelog.gz; cd /usr/share/doc/stubbled; cat README.md installing.md texting.md", "Built from commit", "Ten minutes", "smsd")
}

func (m *machine) rehearsal(t *testing.T) {
	said := m.do(t, "stubbled rehearse")
	if n := strings.Count(said, "\n"); n < 20 {
		t.Errorf("only %d lines:\n%s", n, said)
	}
	if !strings.Contains(said, "Quail Fork") {
		t.Errorf("it does not name the demo farm:\n%.500s", said)
	}
}

func (m *machine) farmFile(t *testing.T) {
	m.do(t, `cp /etc/stubbled/farm.yaml.example /etc/stubbled/farm.yaml
		sed -i 's/^  name: Quail Fork$/  name: Test Farm/; s/days: 45 days$/days: 50 days/' /etc/stubbled/farm.yaml`)
	// Its texts are only printed, which is fine on a terminal and wrong for a service.
	m.wants(t, "stubbled-farm check || true", "fine   farm file  /etc/stubbled/farm.yaml: Test Farm", "WRONG", "only printed into the journal")
	m.do(t, "sed -i.good 's/days: 50 days$/days: 50/' /etc/stubbled/farm.yaml")
	said, err := m.try("stubbled-farm check")
	if err == nil || !strings.Contains(said, "farm.yaml:") || !strings.Contains(said, "rest.days") {
		t.Errorf("a quantity without its unit: %v\n%s", err, said)
	}
	m.do(t, "mv /etc/stubbled/farm.yaml.good /etc/stubbled/farm.yaml")
	m.wants(t, "stubbled-farm rehearse --from 2026-08-01 --to 2026-08-20", "Test Farm")
	if said, err := m.try("setpriv --reuid=nobody --clear-groups cat /etc/stubbled/farm.yaml"); err == nil {
		t.Errorf("anybody can read the phone numbers: %.60s", said)
	}
}

func (m *machine) service(t *testing.T) {
	m.do(t, "systemctl enable --now stubbled")
	if got := m.property(t, "ActiveState") + " " + m.property(t, "NRestarts"); got != "active 0" {
		t.Fatalf("it is %s", got)
	}
	if fed := m.property(t, "WatchdogTimestampMonotonic"); fed == "0" {
		t.Error("the watchdog was never fed")
	}
	m.wants(t, "stat -c '%n %U %a' /var/lib/stubbled /var/lib/stubbled/stubbled.db /run/stubbled",
		"/var/lib/stubbled stubbled 700", "stubbled.db stubbled 600", "/run/stubbled stubbled 700")
	// What the page of the program says lies where is there; the copies come at night.
	m.do(t, `mkdir -p /var/lib/stubbled/backups; chown stubbled: /var/lib/stubbled/backups
		found=$(MANWIDTH=200 man -P cat stubbled | sed -n '/^FILES/,/^[A-S]/s|^ *\(/[^ ]*\)$|\1|p'); test "$(echo "$found" | wc -l)" -ge 7; stat $found`)
	m.wants(t, "journalctl --no-pager -o cat -p warning -u stubbled", "level=WARN")
	if said := m.do(t, "journalctl --no-pager -o cat -p warning -u stubbled"); strings.Contains(said, "level=INFO") || strings.Contains(said, "<4>") {
		t.Errorf("a journal's priorities are\n%s", said)
	}
	// The example's texts are only printed, which nobody reads here.
	m.wants(t, "systemctl status stubbled", "sms-down", "only printed into the journal: write carriers.")
	m.wants(t, "stubbled-farm check || true", "fine   database   /var/lib/stubbled/stubbled.db")
	m.do(t, "stubbled-farm diary")
	if said := m.do(t, "find /var/lib/stubbled ! -user stubbled"); said != "" {
		t.Errorf("not the daemon's own: %s", said)
	}
}
