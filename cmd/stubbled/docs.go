package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
)

// docsCmd writes what a package ships besides the program, from the commands
// themselves, so that it cannot say something else than --help.
func docsCmd() *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:    "docs --dir DIR",
		Short:  "Writes the man pages and the completion for bash",
		Hidden: true, // for whoever builds the package
		Args:   noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if dir == "" {
				return usage.Errorf("want --dir DIR")
			}
			return writeDocs(c.Root(), dir)
		},
	}
	c.Flags().StringVar(&dir, "dir", "", "the `folder` to write to; it must be there")
	return c
}

// writeDocs writes stubbled.1, a page for each command, one for the farm file,
// and stubbled.bash. The
// date on the pages is that of $SOURCE_DATE_EPOCH where it is set.
func writeDocs(root *cobra.Command, dir string) error {
	header := &doc.GenManHeader{Section: "1", Source: "stubbled", Manual: "Rest before frost"}
	root.DisableAutoGenTag = true
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			c.Hidden = true // five pages on how shells are told
		}
		c.Long = hardBreaks.ReplaceAllString(c.Long, "$1  \n")
	}
	for _, c := range append(root.Commands(), root) {
		if c != root && !c.IsAvailableCommand() {
			continue
		}
		if err := commandPage(dir, c, *header); err != nil {
			return fmt.Errorf("write the page of %s: %w", c.Name(), err)
		}
	}
	if err := farmPage(dir, *header); err != nil {
		return fmt.Errorf("write the page of the farm file: %w", err)
	}
	if err := root.GenBashCompletionFileV2(filepath.Join(dir, "stubbled.bash"), true); err != nil {
		return fmt.Errorf("write the completion: %w", err)
	}
	return nil
}

// hardBreaks finds line ends within a paragraph: the pages are written from
// Markdown, which would run the lines of a table into each other.
var hardBreaks = regexp.MustCompile(`(\S)\n`)

// manual is what every page says besides its command: what it ends with, and
// where everything lies.
//
//go:embed manual.txt
var manual string

// commandPage writes the page of a command, and puts that before what else to read.
func commandPage(dir string, c *cobra.Command, header doc.GenManHeader) error {
	var b strings.Builder
	if err := doc.GenMan(c, &header, &b); err != nil {
		return err
	}
	before, after, _ := strings.Cut(b.String(), ".SH SEE ALSO\n")
	text := before + fmt.Sprintf(manual, exitFine, exitFailed, exitUsage) + ".SH SEE ALSO\nstubbled\\-farm(5)"
	if after = strings.TrimSpace(after); after != "" {
		text += ", " + after
	}
	name := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1"
	return os.WriteFile(filepath.Join(dir, name), []byte(text+"\n"), 0o644)
}

// farmPage writes the page of the farm file: every key as the reader knows it,
// and the example whole.
func farmPage(dir string, header doc.GenManHeader) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, ".TH STUBBLED\\-FARM 5 \"\" %q %q\n.SH NAME\nstubbled\\-farm \\- the farm file of stubbled\n", header.Source, header.Manual)
	b.WriteString(".SH DESCRIPTION\nA YAML file that tells of the farm. Every quantity has its unit. What is not known here is refused; " +
		"\\fBstubbled check\\fP tells all that is wrong at once. An edit is taken within a minute while the daemon runs.\n" +
		".SH KEYS\n[] stands for each entry of a list. A key that must be written must be where its section is.\n")
	for _, k := range config.Keys() {
		text := k.Holds
		switch {
		case k.Must:
			text += "; must be written"
		case k.Usual != "":
			text += "; usually " + k.Usual
		}
		fmt.Fprintf(&b, ".TP\n\\fB%s\\fP\n%s\n", plainRoff(k.Name), plainRoff(text))
	}
	fmt.Fprintf(&b, ".SH EXAMPLE\nThe demo farm; place, people and temperatures are invented.\n.PP\n.nf\n%s.fi\n.SH SEE ALSO\nstubbled(1), stubbled\\-check(1)\n", plainRoff(string(config.Example())))
	return os.WriteFile(filepath.Join(dir, "stubbled-farm.5"), b.Bytes(), 0o644)
}

// plainRoff escapes what troff would take for something else.
func plainRoff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text
	}
	return strings.NewReplacer("\n.", "\n\\&.", "\n'", "\n\\&'").Replace(text)
}
