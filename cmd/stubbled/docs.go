package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"stubbled/cmd/stubbled/usage"
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
	if err := doc.GenManTree(root, header, dir); err != nil {
		return fmt.Errorf("write the man pages: %w", err)
	}
	if err := finishPages(dir); err != nil {
		return err
	}
	if err := farmPage(dir, *header); err != nil {
		return fmt.Errorf("write the page of the farm file: %w", err)
	}
	f, err := os.Create(filepath.Join(dir, "stubbled.bash"))
	if err != nil {
		return fmt.Errorf("write the completion: %w", err)
	}
	defer f.Close()
	if err := root.GenBashCompletionV2(f, true); err != nil {
		return fmt.Errorf("write the completion: %w", err)
	}
	return f.Close()
}

// hardBreaks finds line ends within a paragraph: the pages are written from
// Markdown, which would run the lines of a table into each other.
var hardBreaks = regexp.MustCompile(`(\S)\n`)
