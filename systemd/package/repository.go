package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// index makes the folder one that apt can install from (deb-src-less, flat; the
// forms are those of apt_ftparchive(1) and deb(5)): Packages lists every package
// that lies there, those of earlier runs too, and Release what Packages is. Whoever
// hands it on signs Release.
func (w *work) index(out string) {
	var list bytes.Buffer
	for _, name := range got(filepath.Glob(filepath.Join(out, "*.deb")))() {
		data := got(os.ReadFile(name))()
		control := got(controlOf(data))(name)
		fmt.Fprintf(&list, "%s\nFilename: ./%s\nSize: %d\nSHA256: %x\n\n", strings.TrimSpace(control), filepath.Base(name), len(data), sha256.Sum256(data))
	}
	must(os.WriteFile(filepath.Join(out, "Packages"), list.Bytes(), 0o644))
	zip(filepath.Join(out, "Packages.gz"), list.Bytes())
	release := fmt.Sprintf("Origin: stubbled\nLabel: stubbled\nSuite: stable\nDate: %s\nArchitectures: amd64 arm64\nSHA256:\n", w.date.Format("Mon, 02 Jan 2006 15:04:05 UTC"))
	for _, name := range []string{"Packages", "Packages.gz"} {
		data := got(os.ReadFile(filepath.Join(out, name)))()
		release += fmt.Sprintf(" %x %d %s\n", sha256.Sum256(data), len(data), name)
	}
	must(os.WriteFile(filepath.Join(out, "Release"), []byte(release), 0o644))
}

// controlOf reads what a package says of itself.
func controlOf(deb []byte) (text string, err error) {
	err = attempt(func() {
		const doing = "unpack its control file"
		z := got(gzip.NewReader(bytes.NewReader(got(member(deb, "control.tar.gz"))())))(doing)
		for files := tar.NewReader(z); text == ""; {
			f, err := files.Next()
			if errors.Is(err, io.EOF) {
				must(errors.New("it has no control file"))
			}
			must(err, doing)
			if filepath.Base(f.Name) == "control" {
				text = string(got(io.ReadAll(files))())
			}
		}
	})
	return text, err
}

// member finds one in a package (deb(5), ar(5)): behind a line of their own members
// stand one after another, each below a head of 60 bytes and filled up to an even
// length. By hand: the library for it has a known hole that nobody mended.
func member(deb []byte, name string) ([]byte, error) {
	const head = 60
	rest, ok := bytes.CutPrefix(deb, []byte("!<arch>\n"))
	for ok && len(rest) >= head {
		size, err := strconv.Atoi(strings.TrimSpace(string(rest[48:58])))
		if err != nil || size < 0 || size > len(rest)-head {
			break
		}
		if strings.HasPrefix(string(rest), name) {
			return rest[head : head+size], nil
		}
		rest = rest[min(head+size+size%2, len(rest)):]
	}
	return nil, fmt.Errorf("it has no %s, or is cut off", name)
}
