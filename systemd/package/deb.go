package main

import (
	_ "embed" // what the package brings
	"os"
	"path/filepath"
	"strings"

	"github.com/goreleaser/nfpm/v2"
	"github.com/goreleaser/nfpm/v2/deb"
)

//go:embed nfpm.yaml
var brings string

// scripts are for the person at the machine, who is root there.
var scripts = []string{"stubbled-farm", "stubbled-modem", "stubbled-restore"}

// deb packs one architecture and gives the file's name.
func (w *work) deb(out, arch string) string {
	filled := map[string]string{"TOP": w.top, "STAGE": w.stage, "PROGRAM": w.program("linux", arch), "ARCH": arch, "VERSION": w.version}
	config := got(nfpm.Parse(strings.NewReader(os.Expand(brings, func(name string) string { return filled[name] }))))("what the package brings")
	config.MTime = w.date
	info := nfpm.WithDefaults(&config.Info)
	name := filepath.Join(out, deb.Default.ConventionalFileName(info))
	f := got(os.Create(name))()
	defer f.Close()
	must(deb.Default.Package(info, f), "pack "+name)
	must(f.Close())
	return name
}

// own names a file of the folder systemd.
func (w *work) own(name string) string { return filepath.Join(w.top, "systemd", name) }
