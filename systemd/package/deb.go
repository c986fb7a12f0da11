package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/goreleaser/nfpm/v2"
	"github.com/goreleaser/nfpm/v2/deb"
	"github.com/goreleaser/nfpm/v2/files"
)

const description = `reminds graziers to rest native warm-season grass before frost
 A daemon for the machine in the farm office. It counts back from the first
 fall frost, reminds by text message and mail before each paddock must be empty,
 takes a leaf height by text and answers GO or WAIT with the reason, and keeps
 the paddock shut until frost really comes.
 .
 Texts go by a modem (with smstools) or by a provider over HTTP.`

// scripts are for the person at the machine, who is root there.
var scripts = []string{"stubbled-farm", "stubbled-modem", "stubbled-restore"}

// deb packs one architecture and gives the file's name.
func (w *work) deb(out, arch string) (string, error) {
	program, err := w.program("linux", arch)
	if err != nil {
		return "", err
	}
	info := nfpm.WithDefaults(&nfpm.Info{
		Name: "stubbled", Arch: arch, Platform: "linux", Version: w.version, VersionSchema: "none",
		Section: "net", Priority: "optional", Maintainer: "stubbled <stubbled@example.org>",
		Description: description, MTime: w.date, DisableGlobbing: true,
		Overridables: nfpm.Overridables{
			// systemd-sysusers is in one of these; the daemon itself is static.
			Depends: []string{"systemd | systemd-standalone-sysusers | systemd-sysusers"},
			// A modem; mail and providers over TLS.
			Recommends: []string{"smstools", "ca-certificates"},
			Suggests:   []string{"bash-completion"},
			Contents:   w.contents(program),
			Scripts: nfpm.Scripts{
				PostInstall: w.own("debian/postinst"),
				PreRemove:   w.own("debian/prerm"),
				PostRemove:  w.own("debian/postrm"),
			},
			Deb: nfpm.Deb{Compression: "xz"},
		},
	})
	name := filepath.Join(out, deb.Default.ConventionalFileName(info))
	f, err := os.Create(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if err := deb.Default.Package(info, f); err != nil {
		return "", fmt.Errorf("pack %s: %w", name, err)
	}
	return name, f.Close()
}

// own names a file of the folder systemd.
func (w *work) own(name string) string { return filepath.Join(w.top, "systemd", name) }

// contents is where everything goes.
func (w *work) contents(program string) files.Contents {
	all := files.Contents{
		w.file(program, "/usr/bin/stubbled", 0o755),
		w.file(w.own("stubbled.service"), "/usr/lib/systemd/system/stubbled.service", 0o644),
		w.file(w.path("stubbled@.service"), "/usr/lib/systemd/system/stubbled@.service", 0o644),
		w.file(w.own("stubbled-smsd@.service"), "/usr/lib/systemd/system/stubbled-smsd@.service", 0o644),
		w.file(w.own("sysusers.conf"), "/usr/lib/sysusers.d/stubbled.conf", 0o644),
		w.file(w.own("modem.conf"), "/usr/share/stubbled/modem.conf", 0o644),
		w.file(w.own("smstools.conf"), "/usr/share/stubbled/smstools.conf", 0o644),
		w.file(filepath.Join(w.top, "notify/sms/spool/smsd.conf"), "/usr/share/stubbled/smsd.conf", 0o644),
		w.file(w.own("lintian-overrides"), "/usr/share/lintian/overrides/stubbled", 0o644),
	}
	for _, script := range scripts {
		all = append(all, w.file(w.own(script), "/usr/sbin/"+script, 0o755))
	}
	conf := w.file(filepath.Join(w.stage, "farm.yaml.example"), "/etc/stubbled/farm.yaml.example", 0o644)
	conf.Type = files.TypeConfig
	all = append(all, conf)
	for _, made := range w.made() {
		all = append(all, w.file(made.from, made.to, 0o644))
	}
	return all
}

func (w *work) file(from, to string, mode fs.FileMode) *files.Content {
	return &files.Content{Source: from, Destination: to, FileInfo: &files.ContentFileInfo{
		Owner: "root", Group: "root", Mode: mode, MTime: w.date,
	}}
}
