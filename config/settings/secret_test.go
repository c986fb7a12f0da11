package settings

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestASecretThatOthersMayReadIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "secret")
	for mode, ok := range map[os.FileMode]bool{0o600: true, 0o400: true, 0o640: false, 0o604: false, 0o644: false, 0o660: false, 0o620: false} {
		_ = os.Remove(path)
		if err := os.WriteFile(path, []byte("hunter2\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		got, err := Secret{File: path}.Read()
		switch {
		case ok && (err != nil || string(got) != "hunter2"):
			t.Errorf("mode %04o: %q, %v", mode, got, err)
		case !ok && (err == nil || !strings.Contains(err.Error(), "chmod 600") || strings.Contains(err.Error(), "hunter2")):
			t.Errorf("mode %04o: %v", mode, err)
		}
	}
}

func TestASecretThatIsNoSecretIsRefused(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty")
	if err := os.WriteFile(empty, []byte("\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	huge := filepath.Join(dir, "huge")
	if err := os.WriteFile(huge, make([]byte, 1<<20), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]Secret{
		"is not there": {File: filepath.Join(dir, "nowhere")}, "is empty": {File: empty}, "which is no secret": {File: huge}, "no ordinary file": {File: dir},
		"no secret is named": {},
	} {
		if _, err := s.Read(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%v: %v, want %q", s, err, name)
		}
	}
}

func TestACredentialComesFromTheServiceManager(t *testing.T) {
	dir := t.TempDir()
	// The service manager's own modes count, whatever they are.
	if err := os.WriteFile(filepath.Join(dir, "mail-password"), []byte("hunter2"), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv(CredentialsEnv, dir)
	if got, err := (Secret{Credential: "mail-password"}).Read(); err != nil || string(got) != "hunter2" {
		t.Errorf("%q, %v", got, err)
	}
	t.Setenv(CredentialsEnv, "")
	if _, err := (Secret{Credential: "mail-password"}).Read(); err == nil || !strings.Contains(err.Error(), "LoadCredential=mail-password") {
		t.Errorf("without a folder: %v", err)
	}
}
