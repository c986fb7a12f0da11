package main

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
)

const docs = "/usr/share/doc/stubbled/"

// goes is where the package puts what its pages link to: the pages themselves,
// and beside them what is packed anyway.
var goes = map[string]string{
	"README.md":                   docs + "README.md",
	"systemd/README.md":           docs + "installing.md",
	"notify/sms/README.md":        docs + "texting.md",
	"notify/email/README.md":      docs + "mail.md",
	"notify/weather/README.md":    docs + "weather.md",
	"notify/reply/GRAMMAR.md":     docs + "what-to-text.md",
	"LICENSE":                     docs + "copyright",
	"config/demo/quail-fork.yaml": "/etc/stubbled/farm.yaml.example",
	"notify/sms/spool/smsd.conf":  "/usr/share/stubbled/smsd.conf",
}

// unpacked is what only those need who have the repository.
const unpacked = "DEVELOPERS.md"

// link finds a link to another file of the repository.
var link = regexp.MustCompile(`\[([^\]]+)\]\(([^)#:]+)(#[^)]*)?\)`)

// texts writes the pages with their links as they lie on a machine. A link to
// what the package does not bring is a fault.
func (w *work) texts() {
	for from, to := range goes {
		if filepath.Ext(from) != ".md" {
			continue
		}
		text := link.ReplaceAllFunc(got(os.ReadFile(filepath.Join(w.top, from)))(), func(whole []byte) []byte {
			part := link.FindSubmatch(whole)
			target := path.Join(path.Dir(from), string(part[2]))
			there, ok := goes[target]
			switch {
			case target == unpacked:
				return part[1]
			case !ok:
				must(fmt.Errorf("%s links to %s, which the package does not bring", from, target))
			case path.Dir(there)+"/" == docs:
				there = path.Base(there)
			}
			return fmt.Appendf(nil, "[%s](%s%s)", part[1], there, part[3])
		})
		must(os.WriteFile(w.path("texts", path.Base(to)), text, 0o644))
	}
}

// instance turns the unit of the one farm into that of one of several on a
// machine: whatever bears the name stubbled bears stubbled@NAME.
func instance(unit []byte) []byte {
	for _, of := range []struct{ found, becomes string }{
		{`(?m)^(Description=.*)$`, "$1 (%i)"},
		{`(/etc|/etc/credstore|/var/lib|/run)/stubbled\b`, "$1/stubbled@%i"},
		{`(?m)^(\w+Directory=stubbled)$`, "$1@%i"},
		{`:stubbled\.`, ":stubbled@%i."},
	} {
		unit = regexp.MustCompile(of.found).ReplaceAll(unit, []byte(of.becomes))
	}
	return unit
}

func (w *work) units() {
	unit := got(os.ReadFile(w.own("stubbled.service")))()
	must(os.WriteFile(w.path("stubbled@.service"), instance(unit), 0o644))
}
