package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/config/newfarm"
)

type initFlags struct {
	out     string
	answers newfarm.Answers
	rows    newfarm.Rows
	demo    bool
}

func initCmd(e *env) *cobra.Command {
	var f initFlags
	c := &cobra.Command{
		Use:   "init",
		Short: "Writes a farm file: asks a few questions, or takes flags",
		Example: `  stubbled init --name "Quail Fork" --timezone America/Chicago --frost 10-18 --spread "10 days" \
    --paddock "Creek Bottom:22 acres:eastern gamagrass" --herd "cows:38:cow with calf:Creek Bottom" \
    --contact "Ana:manager:+15555550142"`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return writeFarm(e, f) },
	}
	fl := c.Flags()
	fl.StringVar(&f.out, "out", "farm.yaml", "the `file` to write; one that is there is never overwritten")
	fl.StringVar(&f.answers.Name, "name", "", "the farm's name")
	fl.StringVar(&f.answers.Timezone, "timezone", "", "its time zone, such as America/Chicago")
	fl.StringVar(&f.answers.Units, "units", "", "inches or centimetres")
	fl.StringVar(&f.answers.Station, "station", "", "a station's record `file`")
	fl.StringVar(&f.answers.FrostDate, "frost", "", "the usual first frost where there is no record, such as 10-18")
	fl.StringVar(&f.answers.Spread, "spread", "", "how much that date varies, such as \"10 days\"")
	fl.StringVar(&f.answers.Rest, "rest", "", "rest before frost, such as \"45 days\"")
	fl.StringArrayVar(&f.rows.Paddocks, "paddock", nil, "`NAME:AREA:GRASS`, once for each paddock")
	fl.StringArrayVar(&f.rows.Herds, "herd", nil, "`NAME:HEAD:KIND[:PADDOCK]`, once for each herd")
	fl.StringArrayVar(&f.rows.People, "contact", nil, "`NAME:ROLE:PHONE[:LANGUAGE][:MAIL]`, once for each person")
	fl.BoolVar(&f.demo, "demo", false, "write the demo farm with its invented record, to look at")
	return c
}

func writeFarm(e *env, f initFlags) error {
	if f.demo {
		return writeDemo(e, f.out)
	}
	if err := newfarm.Ask(e.in, e.out, &f.answers, &f.rows); err != nil {
		return err
	}
	if err := f.answers.Take(f.rows); err != nil {
		return usage.Error{Err: err}
	}
	f.answers.Dir = filepath.Dir(f.out)
	text, err := newfarm.Write(f.answers)
	if err != nil {
		return usage.Error{Err: err}
	}
	if err := createFile(f.out, text); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "wrote %s\nNext: read it through, then  stubbled check --farm %s  and  stubbled rehearse --farm %s\n", f.out, f.out, f.out)
	return nil
}

func writeDemo(e *env, out string) error {
	if err := createFile(out, config.Example()); err != nil {
		return err
	}
	record := filepath.Join(filepath.Dir(out), config.ExampleRecord)
	if err := createFile(record, config.ExampleStation()); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "wrote %s and %s: an invented farm with an invented record\n", out, record)
	return nil
}

// createFile writes a new file and never overwrites one.
func createFile(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already and is not overwritten: move it away, or name another with --out", path)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		return fmt.Errorf("write %s: %w", path, err)
	}
	return f.Close()
}
