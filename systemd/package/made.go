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
func (w *work) common() {
	program := w.host()
	for _, dir := range []string{"docs", "man", "example", "texts"} {
		must(os.Mkdir(filepath.Join(w.stage, dir), 0o755))
	}
	w.run(program, "docs", "--dir", w.path("docs"))
	w.run(program, "init", "--demo", "--out", w.path("example", "farm.yaml"))
	for _, step := range []func(){w.pages, w.texts, w.units, w.example, w.changelog, w.copyright} {
		step()
	}
}

func (w *work) path(parts ...string) string {
	return filepath.Join(append([]string{w.stage}, parts...)...)
}

func (w *work) run(program string, args ...string) {
	cmd := exec.Command(program, args...)
	cmd.Env = append(os.Environ(), fmt.Sprintf("SOURCE_DATE_EPOCH=%d", w.date.Unix()))
	if said, err := cmd.CombinedOutput(); err != nil {
		must(fmt.Errorf("stubbled %s: %w: %s", args[0], err, said))
	}
}

// pages packs the man pages: those that the program wrote of its commands, and
// one for each script, made of the comment at its head.
func (w *work) pages() {
	found := got(filepath.Glob(w.path("docs", "*.[15]")))()
	if len(found) == 0 {
		must(fmt.Errorf("the program wrote no man page"))
	}
	for _, page := range found {
		zip(w.path("man", filepath.Base(page)+".gz"), got(os.ReadFile(page))())
	}
	for _, script := range scripts {
		page := got(scriptPage(string(got(os.ReadFile(w.own(script)))()), w.date.Format("2006-01-02")))(script)
		zip(w.path("man", script+".8.gz"), []byte(page))
	}
}

// station is where the invented record of the example farm lies.
const station = docs + "examples/quail-fork.csv"

// example is the demo farm as a file to start from, naming its record where the
// package puts it.
func (w *work) example() {
	text := got(os.ReadFile(w.path("example", "farm.yaml")))()
	name := "station: " + filepath.Base(station)
	if n := bytes.Count(text, []byte(name)); n != 1 {
		must(fmt.Errorf("the example farm file has %q %d times, want it once", name, n))
	}
	text = bytes.Replace(text, []byte(name), []byte("station: "+station), 1)
	must(os.WriteFile(w.path("farm.yaml.example"), text, 0o644))
}

// changelog says of which commit this is; what changed is in the repository.
func (w *work) changelog() {
	what := "Built from sources without a repository"
	if commit, err := w.git("rev-parse", "HEAD"); err == nil {
		what = "Built from commit " + commit
	}
	text := fmt.Sprintf("stubbled (%s) stable; urgency=medium\n\n  * %s.\n\n -- stubbled <stubbled@example.org>  %s\n",
		w.version, what, w.date.Format("Mon, 02 Jan 2006 15:04:05 -0700"))
	zip(w.path("changelog.gz"), []byte(text))
}

// zip writes a file as gzip -n does: no name and no time in it.
func zip(path string, text []byte) {
	var b bytes.Buffer
	z := got(gzip.NewWriterLevel(&b, gzip.BestCompression))()
	got(z.Write(text))()
	must(z.Close())
	must(os.WriteFile(path, b.Bytes(), 0o644))
}
