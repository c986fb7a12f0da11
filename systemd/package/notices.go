package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// copyright writes the file that Debian wants (policy 12.5) and that the
// licences ask for: the program holds a copy of every library it was compiled
// from, so their notices go where it goes.
func (w *work) copyright() {
	var b bytes.Buffer
	b.WriteString("This is stubbled, packaged by its own repository.\n\n")
	b.WriteString(cmp.Or(notices(w.top), "The repository has no file LICENSE: all rights are reserved by its authors.\n"))
	b.WriteString(w.data())
	b.WriteString("\nThe program was compiled from these libraries as well, under their own terms.\n")
	for _, m := range w.modules() {
		text := notices(m.dir)
		if text == "" {
			must(fmt.Errorf("%s has no licence in %s; it cannot be packed", m.name, m.dir))
		}
		fmt.Fprintf(&b, "\n%s\n%s\n%s", strings.Repeat("-", 72), m.name, text)
	}
	must(os.WriteFile(w.path("copyright"), b.Bytes(), 0o644))
}

// embedded finds the data that a file of Go puts into the program, with what
// stands above it.
var embedded = regexp.MustCompile(`(?m)((?:^//.*\n)+)//go:embed (\S+)$`)

// owned finds a word on whose work something is.
var owned = regexp.MustCompile(`Copyright |licen[cs]e`)

// data gives whose work the data is that the program holds: the heads of the
// language files say it, and the comments above what is embedded.
func (w *work) data() string {
	var b strings.Builder
	tell := func(name, text string) {
		if owned.MatchString(text) {
			fmt.Fprintf(&b, "\n%s\n%s, which the program holds:\n%s\n", strings.Repeat("-", 72), name, strings.TrimSpace(text))
		}
	}
	must(filepath.WalkDir(w.top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if err == nil && (d.Name() == ".git" || d.Name() == "testdata") {
				return fs.SkipDir
			}
			return err
		}
		name, _ := filepath.Rel(w.top, path) // it was found below
		list, _ := filepath.Match("notify/language/*/*.txt", name)
		if !list && filepath.Ext(name) != ".go" {
			return nil
		}
		text, err := os.ReadFile(path)
		if list {
			tell(name, strings.Join(comment("#", string(text)), "\n"))
		}
		for _, m := range embedded.FindAllStringSubmatch(string(text), -1) {
			tell(filepath.Join(filepath.Dir(name), m[2]), strings.Join(comment("//", m[1]), "\n"))
		}
		return err
	}))
	return b.String()
}

type module struct{ name, dir string }

// modules lists what the program is compiled from, Go itself first.
func (w *work) modules() []module {
	root := got(w.goTool("env", "GOROOT").Output())("ask for the folder of Go")
	cmd := w.goTool("list", "-deps", "-f", `{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}{{end}}`, "./cmd/stubbled")
	cmd.Env = append(cmd.Env, "GOOS=linux")
	text := got(cmd.Output())("list the libraries")
	all := []module{{"Go", strings.TrimSpace(string(root))}}
	lines := strings.Fields(strings.ReplaceAll(string(text), " ", "@"))
	slices.Sort(lines)
	for _, line := range slices.Compact(lines) {
		name, dir, _ := strings.Cut(line, "|")
		all = append(all, module{name, dir})
	}
	return all
}

// noticeName is how the files are called that must go along.
var noticeName = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents)([-.].*)?$`)

// notices joins the licence and notice files of a folder. Some systems have
// Go's own beside its folder rather than in it.
func notices(dir string) string {
	var all []string
	for _, e := range got(os.ReadDir(dir))() {
		if e.IsDir() || !noticeName.MatchString(e.Name()) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if errors.Is(err, fs.ErrNotExist) { // a link to nowhere
			continue
		}
		must(err)
		all = append(all, strings.TrimSpace(withoutApache(string(text)))+"\n")
	}
	return strings.Join(all, "\n")
}

// withoutApache keeps of a file with the whole Apache License who holds the
// rights; every Debian system has the text itself, and policy 12.5 wants it
// referred to.
func withoutApache(text string) string {
	if !strings.Contains(text, "Apache License") || !strings.Contains(text, "TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION") {
		return text
	}
	short := "Under the Apache License, Version 2.0; its text is in /usr/share/common-licenses/Apache-2.0.\n"
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "Copyright ") && !strings.Contains(line, "[yyyy]") && !strings.Contains(line, "{yyyy}") {
			short += line + "\n"
		}
	}
	return short
}
