package main

import (
	_ "embed" // what the package brings
	"fmt"
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
func (w *work) deb(out, arch string) (string, error) {
	program, err := w.program("linux", arch)
	if err != nil {
		return "", err
	}
	filled := map[string]string{"TOP": w.top, "STAGE": w.stage, "PROGRAM": program, "ARCH": arch, "VERSION": w.version}
	config, err := nfpm.Parse(strings.NewReader(os.Expand(brings, func(name string) string { return filled[name] })))
	if err != nil {
		return "", fmt.Errorf("what the package brings: %w", err)
	}
	config.MTime = w.date
	info := nfpm.WithDefaults(&config.Info)
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
