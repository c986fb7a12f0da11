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
func (w *work) index(out string) error {
	found, err := filepath.Glob(filepath.Join(out, "*.deb"))
	if err != nil {
		return err
	}
	var list bytes.Buffer
	for _, name := range found {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		control, err := controlOf(data)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		fmt.Fprintf(&list, "%s\nFilename: ./%s\nSize: %d\nSHA256: %x\n\n", strings.TrimSpace(control), filepath.Base(name), len(data), sha256.Sum256(data))
	}
	if err := os.WriteFile(filepath.Join(out, "Packages"), list.Bytes(), 0o644); err != nil {
		return err
	}
	if err := zip(filepath.Join(out, "Packages.gz"), list.Bytes()); err != nil {
		return err
	}
	release := fmt.Sprintf("Origin: stubbled\nLabel: stubbled\nSuite: stable\nDate: %s\nArchitectures: amd64 arm64\nSHA256:\n", w.date.Format("Mon, 02 Jan 2006 15:04:05 UTC"))
	for _, name := range []string{"Packages", "Packages.gz"} {
		data, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			return err
		}
		release += fmt.Sprintf(" %x %d %s\n", sha256.Sum256(data), len(data), name)
	}
	return os.WriteFile(filepath.Join(out, "Release"), []byte(release), 0o644)
}

// controlOf reads what a package says of itself.
func controlOf(deb []byte) (string, error) {
	packed, err := member(deb, "control.tar.gz")
	if err != nil {
		return "", err
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return "", fmt.Errorf("unpack its control file: %w", err)
	}
	for files := tar.NewReader(z); ; {
		f, err := files.Next()
		if errors.Is(err, io.EOF) {
			return "", errors.New("it has no control file")
		}
		if err != nil {
			return "", fmt.Errorf("unpack its control file: %w", err)
		}
		if filepath.Base(f.Name) == "control" {
			text, err := io.ReadAll(files)
			return string(text), err
		}
	}
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
