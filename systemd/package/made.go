package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// common makes all that is the same on every architecture.
func (w *work) common() error {
	program, err := w.host()
	if err != nil {
		return err
	}
	for _, dir := range []string{"docs", "man", "example", "texts"} {
		if err := os.Mkdir(filepath.Join(w.stage, dir), 0o755); err != nil {
			return err
		}
	}
	if err := w.run(program, "docs", "--dir", w.path("docs")); err != nil {
		return err
	}
	if err := w.run(program, "init", "--demo", "--out", w.path("example", "farm.yaml")); err != nil {
		return err
	}
	for _, step := range []func() error{w.pages, w.texts, w.units, w.example, w.changelog, w.copyright} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (w *work) path(parts ...string) string {
	return filepath.Join(append([]string{w.stage}, parts...)...)
}

func (w *work) run(program string, args ...string) error {
	cmd := exec.Command(program, args...)
	cmd.Env = append(os.Environ(), fmt.Sprintf("SOURCE_DATE_EPOCH=%d", w.date.Unix()))
	if said, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("stubbled %s: %w: %s", args[0], err, said)
	}
	return nil
}

// pages packs the man pages: those that the program wrote of its commands, and
// one for each script, made of the comment at its head.
func (w *work) pages() error {
	found, err := filepath.Glob(w.path("docs", "*.[15]"))
	if err != nil {
		return err
	}
	if len(found) == 0 {
		return fmt.Errorf("the program wrote no man page")
	}
	for _, page := range found {
		text, err := os.ReadFile(page)
		if err != nil {
			return err
		}
		if err := zip(w.path("man", filepath.Base(page)+".gz"), text); err != nil {
			return err
		}
	}
	for _, script := range scripts {
		text, err := os.ReadFile(w.own(script))
		if err != nil {
			return err
		}
		page, err := scriptPage(string(text), w.date.Format("2006-01-02"))
		if err != nil {
			return fmt.Errorf("%s: %w", script, err)
		}
		if err := zip(w.path("man", script+".8.gz"), []byte(page)); err != nil {
			return err
		}
	}
	return nil
}

// station is where the invented record of the example farm lies.
const station = docs + "examples/quail-fork.csv"

// example is the demo farm as a file to start from, naming its record where the
// package puts it.
func (w *work) example() error {
	text, err := os.ReadFile(w.path("example", "farm.yaml"))
	if err != nil {
		return err
	}
	name := "station: " + filepath.Base(station)
	if n := bytes.Count(text, []byte(name)); n != 1 {
		return fmt.Errorf("the example farm file has %q %d times, want it once", name, n)
	}
	text = bytes.Replace(text, []byte(name), []byte("station: "+station), 1)
	return os.WriteFile(w.path("farm.yaml.example"), text, 0o644)
}

// changelog says of which commit this is; what changed is in the repository.
func (w *work) changelog() error {
	what := "Built from sources without a repository"
	if commit, err := w.git("rev-parse", "HEAD"); err == nil {
		what = "Built from commit " + commit
	}
	text := fmt.Sprintf("stubbled (%s) stable; urgency=medium\n\n  * %s.\n\n -- stubbled <stubbled@example.org>  %s\n",
		w.version, what, w.date.Format("Mon, 02 Jan 2006 15:04:05 -0700"))
	return zip(w.path("changelog.gz"), []byte(text))
}

// zip writes a file as gzip -n does: no name and no time in it.
func zip(path string, text []byte) error {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write(text); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}
