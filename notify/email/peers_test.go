//go:build linux

package email

import (
	"crypto/tls"
	"fmt"
	"net"
	"net/mail"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"go.uber.org/goleak"
)

// peers are Debian's postfix and dovecot with a configuration of their own on
// high ports of this machine. Postfix takes mail for farm.test and
// example.test, hands it to dovecot, and lets nothing leave the machine.
type peers struct {
	dir               string
	smtp, imap, imaps int
	auth, lmtp        int
	authority         *authority
	postfix, dovecot  *exec.Cmd
}

// The accounts that dovecot knows; all invented.
const (
	farmPassword = "hay and oats"
	anaPassword  = "ana's own"
)

var (
	peersOnce sync.Once
	peersUp   *peers
	peersErr  error
)

func TestMain(m *testing.M) {
	code := m.Run()
	if peersUp != nil {
		peersUp.stop()
	}
	if code == 0 {
		if err := goleak.Find(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

// startPeers starts them once for all tests.
func startPeers(t testing.TB) *peers {
	t.Helper()
	for _, p := range []string{"/usr/sbin/postfix", "/usr/sbin/dovecot", "/usr/lib/dovecot/lmtp"} {
		if _, err := os.Stat(p); err != nil {
			need(t, "postfix and dovecot", p+" is not installed (Debian: postfix, dovecot-imapd, dovecot-lmtpd)")
		}
	}
	if os.Getuid() != 0 {
		need(t, "postfix and dovecot", "they want to be started by root")
	}
	peersOnce.Do(func() { peersUp, peersErr = newPeers(t) })
	if peersErr != nil {
		t.Fatal(peersErr)
	}
	return peersUp
}

func newPeers(t testing.TB) (*peers, error) {
	dir, err := os.MkdirTemp("", "peers") // not t.TempDir: unprivileged daemons must get in
	if err != nil {
		return nil, err
	}
	p := &peers{dir: dir, authority: newAuthority(t)}
	var held []net.Listener // all at once, so that no port comes twice
	for _, port := range []*int{&p.smtp, &p.imap, &p.imaps, &p.auth, &p.lmtp} {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return nil, err
		}
		*port = l.Addr().(*net.TCPAddr).Port
		held = append(held, l)
	}
	for _, l := range held {
		_ = l.Close()
	}
	certPEM, keyPEM := p.authority.pair(t, time.Now().Add(time.Hour))
	files := map[string]string{
		"cert.pem": string(certPEM), "key.pem": string(keyPEM),
		"users":                "farm:{PLAIN}" + farmPassword + "\nana:{PLAIN}" + anaPassword + "\nluis:{PLAIN}x\n",
		"dovecot/dovecot.conf": fmt.Sprintf(dovecotConf, dir, p.imap, p.imaps, p.auth, p.lmtp),
		"postfix/main.cf":      fmt.Sprintf(mainCf, dir, p.lmtp, p.auth),
		"postfix/master.cf":    fmt.Sprintf(masterCf, p.smtp),
	}
	for _, d := range []string{"", "dovecot", "dovecot/run", "dovecot/state", "dovecot/mail", "postfix", "postfix/queue", "postfix/data"} {
		if err := os.MkdirAll(filepath.Join(dir, d), 0o755); err != nil {
			return nil, err
		}
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return nil, err
		}
	}
	return p, p.start()
}

func (p *peers) start() error {
	if err := os.Chmod(p.dir, 0o755); err != nil {
		return err
	}
	for _, c := range [][]string{
		{"chown", "postfix", p.dir + "/postfix/data"},
		{"chown", "nobody:nogroup", p.dir + "/dovecot/mail"},
		{"cp", "/etc/postfix/dynamicmaps.cf", p.dir + "/postfix/"},
		{"postfix", "-c", p.dir + "/postfix", "check"},
	} {
		if out, err := exec.Command(c[0], c[1:]...).CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w: %s", strings.Join(c, " "), err, out)
		}
	}
	p.dovecot = exec.Command("/usr/sbin/dovecot", "-F", "-c", p.dir+"/dovecot/dovecot.conf")
	p.postfix = exec.Command("/usr/lib/postfix/sbin/master", "-s")
	p.postfix.Env = append(os.Environ(), "MAIL_CONFIG="+p.dir+"/postfix")
	for _, c := range []*exec.Cmd{p.dovecot, p.postfix} {
		c.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Pdeathsig: syscall.SIGTERM} // they end their whole session
		if err := c.Start(); err != nil {
			return err
		}
	}
	for _, port := range []int{p.smtp, p.imap, p.imaps, p.auth, p.lmtp} {
		if err := listening(port); err != nil {
			return fmt.Errorf("%w\n%s%s", err, p.log("dovecot"), p.log("postfix"))
		}
	}
	return nil
}

func listening(port int) error {
	var err error
	for range 100 {
		var c net.Conn
		if c, err = net.Dial("tcp", fmt.Sprintf("127.0.0.1:%d", port)); err == nil {
			return c.Close()
		}
		time.Sleep(50 * time.Millisecond) // a server not yet up gives no other sign
	}
	return err
}

func (p *peers) log(of string) string {
	b, _ := os.ReadFile(p.dir + "/" + of + "/log")
	return string(b)
}

func (p *peers) stop() {
	for _, c := range []*exec.Cmd{p.postfix, p.dovecot} {
		if c != nil && c.Process != nil {
			_ = c.Process.Signal(syscall.SIGTERM)
			_ = c.Wait()
		}
	}
	_ = os.RemoveAll(p.dir)
}

// sender is the farm's account at postfix.
func (p *peers) sender(t testing.TB, k *Tokens) *Sender {
	t.Helper()
	s, err := NewSender(Outgoing{
		Server:  Server{Host: "localhost", Port: p.smtp, User: "farm", Password: farmPassword, Roots: p.authority.roots},
		From:    mail.Address{Name: "Quail Fork", Address: "farm@farm.test"},
		Replies: k, Patience: 2 * time.Minute,
	})
	must(t, err)
	t.Cleanup(func() { must(t, s.Close()) })
	return s
}

func (p *peers) imapServer() Server {
	return Server{Host: "localhost", Port: p.imap, User: "farm", Password: farmPassword, Roots: p.authority.roots}
}

func (p *peers) tlsConfig() *tls.Config {
	return &tls.Config{ServerName: "localhost", RootCAs: p.authority.roots}
}

const dovecotConf = `base_dir = %[1]s/dovecot/run
state_dir = %[1]s/dovecot/state
log_path = %[1]s/dovecot/log
listen = 127.0.0.1
protocols = imap lmtp
ssl = yes
ssl_cert = <%[1]s/cert.pem
ssl_key = <%[1]s/key.pem
auth_username_format = %%Ln
auth_failure_delay = 0
recipient_delimiter = +
mail_location = maildir:%[1]s/dovecot/mail/%%n
first_valid_uid = 1
passdb {
  driver = passwd-file
  args = %[1]s/users
}
userdb {
  driver = static
  args = uid=nobody gid=nogroup home=%[1]s/dovecot/mail/%%n
}
service imap-login {
  chroot =
  inet_listener imap {
    port = %[2]d
  }
  inet_listener imaps {
    port = %[3]d
    ssl = yes
  }
}
service anvil {
  chroot =
}
service stats {
  chroot =
}
service auth {
  inet_listener {
    address = 127.0.0.1
    port = %[4]d
  }
}
service lmtp {
  inet_listener lmtp {
    address = 127.0.0.1
    port = %[5]d
  }
}
`

// What comes from luis@example.test is marked as failed, as a mailbox's own
// server marks it.
const mainCf = `compatibility_level = 3.6
meta_directory = /etc/postfix
queue_directory = %[1]s/postfix/queue
data_directory = %[1]s/postfix/data
maillog_file_prefixes = %[1]s
maillog_file = %[1]s/postfix/log
myhostname = mail.farm.test
mydestination =
mynetworks =
inet_interfaces = 127.0.0.1
inet_protocols = ipv4
virtual_mailbox_domains = farm.test, example.test
virtual_transport = lmtp:inet:127.0.0.1:%[2]d
default_transport = error:nothing leaves this machine
relay_transport = error:nothing leaves this machine
recipient_delimiter = +
message_size_limit = 80000000
smtpd_tls_cert_file = %[1]s/cert.pem
smtpd_tls_key_file = %[1]s/key.pem
smtpd_tls_security_level = may
smtpd_tls_auth_only = yes
smtpd_sasl_auth_enable = yes
smtpd_sasl_type = dovecot
smtpd_sasl_path = inet:127.0.0.1:%[3]d
smtpd_relay_restrictions = permit_sasl_authenticated, reject_unauth_destination
smtpd_data_restrictions = check_sender_access inline:{ { luis@example.test = PREPEND Authentication-Results: mail.farm.test; dmarc=fail header.from=example.test } }
local_recipient_maps =
alias_maps =
alias_database =
`

const masterCf = `127.0.0.1:%d inet n - n - - smtpd
cleanup   unix  n - n - 0 cleanup
qmgr      unix  n - n 300 1 qmgr
tlsmgr    unix  - - n 1000? 1 tlsmgr
rewrite   unix  - - n - - trivial-rewrite
bounce    unix  - - n - 0 bounce
defer     unix  - - n - 0 bounce
trace     unix  - - n - 0 bounce
verify    unix  - - n - 1 verify
proxymap  unix  - - n - - proxymap
proxywrite unix - - n - 1 proxymap
error     unix  - - n - - error
retry     unix  - - n - - error
lmtp      unix  - - n - - lmtp
anvil     unix  - - n - 1 anvil
scache    unix  - - n - 1 scache
postlog   unix-dgram n - n - 1 postlogd
`
