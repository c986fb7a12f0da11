// Command package builds the Debian packages of stubbled, one for each
// architecture, from the repository that it lies in:
//
//	go run -C systemd/package .
//
// The folder dist that it fills is one that apt installs from. It compiles the
// program, lets it write its own man pages and completion, and
// packs both with the files of the folder systemd. It never signs, uploads or
// installs anything. The same commit and toolchain give the same bytes.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

func main() {
	out := flag.String("out", "", "the `folder` to write to (else dist at the top of the repository)")
	archs := flag.String("arch", "amd64,arm64", "architectures, with commas")
	localGo := flag.Bool("local-go", false, "compile with the Go that is here rather than fetch the toolchain that go.mod names")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintf(os.Stderr, "package: unknown argument %q\n", flag.Arg(0))
		os.Exit(2)
	}
	if err := run(*out, strings.Split(*archs, ","), *localGo); err != nil {
		fmt.Fprintf(os.Stderr, "package: %v\n", err)
		os.Exit(1)
	}
}

func run(out string, archs []string, localGo bool) error {
	top, err := findTop()
	if err != nil {
		return err
	}
	if out == "" {
		out = filepath.Join(top, "dist")
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return fmt.Errorf("make the folder for the packages: %w", err)
	}
	stage, err := os.MkdirTemp("", "stubbled-package-")
	if err != nil {
		return fmt.Errorf("make a folder to work in: %w", err)
	}
	defer os.RemoveAll(stage)
	w, err := newWork(top, stage, localGo)
	if err != nil {
		return err
	}
	if err := w.common(); err != nil {
		return err
	}
	for _, arch := range archs {
		name, err := w.deb(out, arch)
		if err != nil {
			return fmt.Errorf("%s: %w", arch, err)
		}
		fmt.Println(name)
	}
	return w.index(out)
}

// findTop walks up to the folder whose module is stubbled itself.
func findTop() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for at := dir; ; at = filepath.Dir(at) {
		text, err := os.ReadFile(filepath.Join(at, "go.mod"))
		if err == nil && strings.HasPrefix(string(text), "module stubbled\n") {
			return at, nil
		}
		if at == filepath.Dir(at) {
			return "", fmt.Errorf("%s is not inside the repository of stubbled", dir)
		}
	}
}
