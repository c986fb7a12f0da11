package systemd

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// exposureLimit is how open the unit may be, in tenths: 1.5 of 10, where
// systemd-analyze calls up to 2 "OK" and an unsettled service is at 9.6.
const exposureLimit = 15

// unitIn lays the unit with drop-ins in a folder as the service manager has it.
func unitIn(t *testing.T, dropins ...string) string {
	t.Helper()
	dir := t.TempDir()
	unit := filepath.Join(dir, "stubbled.service")
	copyFile(t, "stubbled.service", unit)
	for _, d := range dropins {
		copyFile(t, d, filepath.Join(unit+".d", d))
	}
	return unit
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	text, err := os.ReadFile(from)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(to), 0o755)
	}
	if err == nil {
		err = os.WriteFile(to, text, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestTheUnitIsClosed(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	for name, dropins := range map[string][]string{
		"alone":                           nil,
		"with the rights for the modem's": {"modem.conf"},
	} {
		t.Run(name, func(t *testing.T) {
			unit := unitIn(t, dropins...)
			gate := exec.Command(analyze, "security", "--offline=true", "--no-pager", fmt.Sprintf("--threshold=%d", exposureLimit), unit)
			said, err := gate.CombinedOutput()
			if err != nil {
				t.Errorf("%v\n%s", err, said)
			}
			lines := strings.Split(strings.TrimSpace(string(said)), "\n")
			t.Log(lines[len(lines)-1])
		})
	}
}

// The gate must be able to fail: the same unit without its guards is refused.
func TestAnOpenUnitIsRefused(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	unit := filepath.Join(t.TempDir(), "open.service")
	if err := os.WriteFile(unit, []byte("[Service]\nExecStart=/bin/true\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	gate := exec.Command(analyze, "security", "--offline=true", "--no-pager", fmt.Sprintf("--threshold=%d", exposureLimit), unit)
	if said, err := gate.CombinedOutput(); err == nil {
		t.Errorf("a unit without any guard passes:\n%s", said)
	}
}

// What stays open is open for a reason that the unit names.
func TestWhatStaysOpenIsNeeded(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	reasons := map[string]string{
		"PrivateNetwork":                        "mail, a provider, the weather",
		"IPAddressDeny":                         "their addresses change and are not known beforehand",
		"RestrictAddressFamilies_AF_INET_INET6": "as above",
		"RestrictAddressFamilies_AF_UNIX":       "service manager and journal",
		"RootDirectoryOrRootImage":              "zone files, certificates and name lookup of the machine",
		"ProtectClock":                          "it would forbid to ask whether the clock is right",
		"SystemCallFilter_clock":                "adjtimex asks that",
		"SystemCallFilter_privileged":           "adjtimex is in this set too",
	}
	said, err := exec.Command(analyze, "security", "--offline=true", "--json=short", unitIn(t)).Output()
	if err != nil {
		t.Fatal(err)
	}
	var checks []struct {
		Set   *bool  `json:"set"`
		Field string `json:"json_field"`
		Open  any    `json:"exposure"`
	}
	if err := json.Unmarshal(said, &checks); err != nil {
		t.Fatal(err)
	}
	if len(checks) < 50 {
		t.Fatalf("only %d checks: the form of the answer changed", len(checks))
	}
	for _, c := range checks {
		if c.Open != nil && reasons[c.Field] == "" {
			t.Errorf("%s is open (%v) for no reason that is known", c.Field, c.Open)
		}
	}
}

// Watching the modem's spool and asking how sure the clock is are among the calls
// that the unit lets through; mounting and setting the clock are not.
func TestTheUnitLetsTheSpoolBeWatched(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	open := map[string]bool{}
	var list func(name string, to bool)
	list = func(name string, to bool) {
		if !strings.HasPrefix(name, "@") {
			open[name] = to
			return
		}
		said, err := exec.Command(analyze, "syscall-filter", "--no-pager", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(said)) {
			if call := strings.TrimSpace(line); call != name && call != "" && call[0] != '#' {
				list(call, to)
			}
		}
	}
	for _, m := range regexp.MustCompile(`(?m)^SystemCallFilter=(~?)(.*)$`).FindAllStringSubmatch(read(t, "stubbled.service"), -1) {
		for name := range strings.FieldsSeq(m[2]) {
			list(name, m[1] == "")
		}
	}
	for call, want := range map[string]bool{
		"inotify_init1": true, "inotify_add_watch": true, "inotify_rm_watch": true, "adjtimex": true, "mount": false, "clock_settime": false,
	} {
		if open[call] != want {
			t.Errorf("%s is let through: %v", call, open[call])
		}
	}
}

func TestTheServiceManagerUnderstandsTheUnits(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	said, _ := exec.Command(analyze, "verify", "--man=no", "--recursive-errors=no", unitIn(t, "modem.conf")).CombinedOutput()
	for line := range strings.Lines(string(said)) {
		if !strings.Contains(line, "/usr/bin/stubbled is not executable") { // not installed here
			t.Errorf("it complains: %s", line)
		}
	}
}

// The unit of one of several farms is made of the one, and serves as well.
func TestTheUnitOfOneOfSeveralFarmsIsClosedToo(t *testing.T) {
	analyze := tool(t, "systemd-analyze", "systemd")
	_, name := packages(t, "amd64")
	units := filepath.Join(unpack(t, name), "usr/lib/systemd/system")
	hill := filepath.Join(units, "stubbled@hill.service")
	copyFile(t, filepath.Join(units, "stubbled@.service"), hill)
	copyFile(t, filepath.Join(units, "stubbled-smsd@.service"), filepath.Join(units, "stubbled-smsd@hill.service"))
	text := read(t, hill)
	for _, want := range []string{"StateDirectory=stubbled@%i\n", "ConfigurationDirectory=stubbled@%i\n", "RuntimeDirectory=stubbled@%i\n",
		"WorkingDirectory=/var/lib/stubbled@%i\n", "LoadCredential=mail-password:stubbled@%i.mail-password\n", "User=stubbled\n", "ExecStart=/usr/bin/stubbled run\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("it has no %s", want)
		}
	}
	said, err := exec.Command(analyze, "security", "--offline=true", "--no-pager", fmt.Sprintf("--threshold=%d", exposureLimit), hill).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, said)
	}
	said, _ = exec.Command(analyze, "verify", "--man=no", "--recursive-errors=no", hill, filepath.Join(units, "stubbled-smsd@hill.service")).CombinedOutput()
	for line := range strings.Lines(string(said)) {
		if !strings.Contains(line, "is not executable") { // not installed here
			t.Errorf("it complains: %s", line)
		}
	}
}

// Whatever secret a page or the example tells of is handed over by the unit.
func TestTheUnitHandsOverEverySecretThatAPageNames(t *testing.T) {
	unit := read(t, "stubbled.service")
	named := 0
	for _, page := range []string{"README.md", "../notify/sms/README.md", "../notify/email/README.md", "../notify/weather/README.md", "../config/demo/quail-fork.yaml"} {
		for _, m := range regexp.MustCompile(`_credential: ([a-z-]+)`).FindAllStringSubmatch(read(t, page), -1) {
			named++
			if !strings.Contains(unit, "\nLoadCredential="+m[1]+":stubbled."+m[1]+"\n") {
				t.Errorf("%s names %s", page, m[1])
			}
			if !strings.Contains(read(t, "README.md"), "| `stubbled."+m[1]+"` |") {
				t.Errorf("the installation page does not say where %s lies", m[1])
			}
		}
	}
	if named < 10 {
		t.Errorf("only %d are named: nothing was tried", named)
	}
}

// Each group of directives stands below a comment that explains it.
func TestEveryGroupOfDirectivesIsExplained(t *testing.T) {
	for _, name := range []string{"stubbled.service", "modem.conf", "smstools.conf", "stubbled-smsd@.service", "sysusers.conf"} {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, group := range strings.Split(string(text), "\n\n") {
			lines := strings.Split(strings.TrimSpace(group), "\n")
			if strings.HasPrefix(lines[0], "[") {
				lines = lines[1:]
			}
			if len(lines) == 0 || strings.HasPrefix(lines[0], "#") || plain(lines) {
				continue
			}
			t.Errorf("%s: nothing explains\n%s", name, group)
		}
	}
}

// plain reports whether every line says by itself what it is for.
func plain(lines []string) bool {
	for _, line := range lines {
		key, _, _ := strings.Cut(line, "=")
		switch key {
		case "Description", "Documentation", "WantedBy", "StartLimitIntervalSec", "Type", "RemainAfterExit":
		default:
			return false
		}
	}
	return true
}

func TestTheScriptsPassTheShellsLint(t *testing.T) {
	lint := tool(t, "shellcheck", "shellcheck")
	scripts := []string{"stubbled-farm", "stubbled-modem", "stubbled-restore", "debian/postinst", "debian/prerm", "debian/postrm", "testdata/boot.sh", "testdata/inside.sh"}
	if said, err := exec.Command(lint, scripts...).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, said)
	}
}
