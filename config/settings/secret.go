package settings

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"stubbled/config/values"
)

// CredentialsEnv names the folder in which the service manager puts
// credentials (systemd.exec(5), CREDENTIALS_DIRECTORY).
const CredentialsEnv = "CREDENTIALS_DIRECTORY"

// largestSecret bounds what is read of a secret, in bytes.
const largestSecret = 64 << 10

// A Secret says where a secret is kept. It never holds the secret itself, so
// it may be printed and logged.
type Secret struct {
	File       string `key:"file"`       // path; refused where others than its owner may read it
	Credential string `key:"credential"` // name below $CREDENTIALS_DIRECTORY
}

// IsZero reports whether none was named.
func (s Secret) IsZero() bool { return s == Secret{} }

// String is where the secret is kept.
func (s Secret) String() string {
	switch {
	case s.Credential != "":
		return "credential " + s.Credential
	case s.File != "":
		return "file " + s.File
	}
	return "none"
}

// Read reads the secret without the line break at its end. The error says
// where it was looked for and the mend, and never holds any of it.
func (s Secret) Read() ([]byte, error) {
	path, err := s.path()
	if err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("secret %s: %s", s, secretTrouble(err))
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil {
		err = s.tooOpen(info)
	}
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(f, largestSecret+1))
	if err != nil {
		return nil, fmt.Errorf("secret %s: %w", s, err)
	}
	data = bytes.TrimRight(data, "\r\n")
	switch {
	case len(data) == 0:
		return nil, fmt.Errorf("secret %s: is empty; put the secret in it, on one line", s)
	case len(data) > largestSecret:
		return nil, fmt.Errorf("secret %s: over %d KB, which is no secret", s, largestSecret>>10)
	}
	return data, nil
}

func (s Secret) path() (string, error) {
	switch {
	case s.IsZero():
		return "", errors.New("no secret is named; want a file or a credential name")
	case s.Credential == "":
		return s.File, nil
	}
	dir := os.Getenv(CredentialsEnv)
	if dir == "" {
		return "", fmt.Errorf("secret %s: $%s is not set; it is there only when the service manager starts the daemon with LoadCredential=%s", s, CredentialsEnv, s.Credential)
	}
	return filepath.Join(dir, s.Credential), nil
}

// tooOpen refuses a file that others than its owner may read. What the service
// manager hands over is its own business.
func (s Secret) tooOpen(info fs.FileInfo) error {
	switch mode := info.Mode(); {
	case s.Credential != "":
	case !mode.IsRegular():
		return fmt.Errorf("secret %s: is no ordinary file", s)
	case mode.Perm()&0o077 != 0:
		return fmt.Errorf("secret %s: may be read by others (mode %04o); run chmod 600 %s", s, mode.Perm(), s.File)
	}
	return nil
}

func secretTrouble(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is not there; write the secret into it and run chmod 600 on it"
	case errors.Is(err, fs.ErrPermission):
		return "may not be read by this user; it must belong to the user that the daemon runs as"
	}
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		err = pathErr.Err
	}
	return err.Error()
}

var credentialName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)

// Secret reads a pair of keys such as password_file and password_credential.
// A file that is too open is a problem now; one that is missing may be there
// when the daemon runs, and is a warning.
func (r *Reading) Secret(e *Entry, stem string) Secret {
	file, cred := e.Get(stem+"_file"), e.Get(stem+"_credential")
	if file != nil && cred != nil {
		r.Say(cred, "a file is named too (line %d); keep one", file.Line)
		return Secret{}
	}
	if cred != nil {
		if !credentialName.MatchString(cred.Text) {
			r.Say(cred, "want a credential's name, such as mail-password, got %q", values.Clip(cred.Text))
			return Secret{}
		}
		return Secret{Credential: cred.Text}
	}
	if file == nil {
		return Secret{}
	}
	s := Secret{File: r.Source.Beside(file.Text)}
	if r.Source.Touch == nil {
		return s
	}
	r.Source.Touch(s.File)
	switch info, err := os.Stat(s.File); {
	case err == nil:
		if err := s.tooOpen(info); err != nil {
			r.Say(file, "%v", err)
		}
	case errors.Is(err, fs.ErrPermission):
		// Another user's secret, as when a person checks the daemon's file.
	default:
		r.Warn(file, "%s %s", s, secretTrouble(err))
	}
	return s
}

// RequiredSecret tells of a secret that must be named and isn't.
func (r *Report) RequiredSecret(e *Entry, stem, want string) {
	if !e.Written(stem+"_file") && !e.Written(stem+"_credential") {
		r.lacks(e, stem+"_file", want)
	}
}
