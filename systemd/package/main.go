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
	"cmp"
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
	if err := attempt(func() { run(*out, strings.Split(*archs, ","), *localGo) }); err != nil {
		fmt.Fprintf(os.Stderr, "package: %v\n", err)
		os.Exit(1)
	}
}

func run(out string, archs []string, localGo bool) {
	top := findTop()
	out = cmp.Or(out, filepath.Join(top, "dist"))
	must(os.MkdirAll(out, 0o755), "make the folder for the packages")
	stage := got(os.MkdirTemp("", "stubbled-package-"))("make a folder to work in")
	defer os.RemoveAll(stage)
	w := newWork(top, stage, localGo)
	w.common()
	for _, arch := range archs {
		must(attempt(func() { fmt.Println(w.deb(out, arch)) }), arch)
	}
	w.index(out)
}

// Whatever goes wrong ends the run, since half a package is none: only attempt gives
// an error, and what it calls goes on as if all went well.
type failure struct{ error }

func attempt(f func()) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			failed, ours := fault.(failure)
			if !ours {
				panic(fault)
			}
			err = failed.error
		}
	}()
	f()
	return nil
}

// must ends the run over an error, with what was being done where that is said.
func must(err error, doing ...string) {
	if err != nil && len(doing) > 0 {
		err = fmt.Errorf("%s: %w", doing[0], err)
	}
	if err != nil {
		panic(failure{err})
	}
}

// got is must for what gives a value too.
func got[T any](v T, err error) func(doing ...string) T {
	return func(doing ...string) T {
		must(err, doing...)
		return v
	}
}

// findTop walks up to the folder whose module is stubbled itself.
func findTop() string {
	dir := got(os.Getwd())()
	for at := dir; ; at = filepath.Dir(at) {
		text, err := os.ReadFile(filepath.Join(at, "go.mod"))
		if err == nil && strings.HasPrefix(string(text), "module stubbled\n") {
			return at
		}
		if at == filepath.Dir(at) {
			must(fmt.Errorf("%s is not inside the repository of stubbled", dir))
		}
	}
}
