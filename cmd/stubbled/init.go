package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/config/newfarm"
)

type initFlags struct {
	out, name, timezone, units, station, frost, spread, rest string
	paddocks, herds, people                                  []string
	demo                                                     bool
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
	fl.StringVar(&f.name, "name", "", "the farm's name")
	fl.StringVar(&f.timezone, "timezone", "", "its time zone, such as America/Chicago")
	fl.StringVar(&f.units, "units", "", "inches or centimetres")
	fl.StringVar(&f.station, "station", "", "a station's record `file`")
	fl.StringVar(&f.frost, "frost", "", "the usual first frost where there is no record, such as 10-18")
	fl.StringVar(&f.spread, "spread", "", "how much that date varies, such as \"10 days\"")
	fl.StringVar(&f.rest, "rest", "", "rest before frost, such as \"45 days\"")
	fl.StringArrayVar(&f.paddocks, "paddock", nil, "`NAME:AREA:GRASS`, once for each paddock")
	fl.StringArrayVar(&f.herds, "herd", nil, "`NAME:HEAD:KIND[:PADDOCK]`, once for each herd")
	fl.StringArrayVar(&f.people, "contact", nil, "`NAME:ROLE:PHONE[:LANGUAGE][:MAIL]`, once for each person")
	fl.BoolVar(&f.demo, "demo", false, "write the demo farm with its invented record, to look at")
	return c
}

func writeFarm(e *env, f initFlags) error {
	if f.demo {
		return writeDemo(e, f.out)
	}
	a, err := answers(e, f)
	if err != nil {
		return err
	}
	a.Dir = filepath.Dir(f.out)
	text, err := newfarm.Write(a)
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

// answers takes what the flags say and asks for the rest.
func answers(e *env, f initFlags) (newfarm.Answers, error) {
	a := newfarm.Answers{
		Name: f.name, Timezone: f.timezone, Units: f.units, Station: f.station, FrostDate: f.frost, Spread: f.spread, Rest: f.rest,
	}
	q := questions{in: bufio.NewScanner(e.in), e: e}
	q.ask(&a.Name, "The farm's name")
	q.ask(&a.Timezone, "Its time zone (such as America/Chicago)")
	if a.Station == "" {
		q.ask(&a.FrostDate, "Usual first frost, 32 F (such as 10-18); a station's record is better: --station FILE")
	}
	paddocks := q.list(f.paddocks, "A paddock as NAME:AREA:GRASS, such as Creek Bottom:22 acres:eastern gamagrass (empty: no more)")
	herds := q.list(f.herds, "A herd as NAME:HEAD:KIND:PADDOCK, such as cows:38:cow with calf:Creek Bottom (empty: no more)")
	people := q.list(f.people, "A person as NAME:ROLE:PHONE, such as Ana:manager:+15555550142 (empty: no more)")
	for _, text := range paddocks {
		p, err := newfarm.ParsePaddock(text)
		if err != nil {
			return a, usage.Error{Err: err}
		}
		a.Paddocks = append(a.Paddocks, p)
	}
	for _, text := range herds {
		h, err := newfarm.ParseHerd(text)
		if err != nil {
			return a, usage.Error{Err: err}
		}
		a.Herds = append(a.Herds, h)
	}
	for _, text := range people {
		p, err := newfarm.ParsePerson(text)
		if err != nil {
			return a, usage.Error{Err: err}
		}
		a.People = append(a.People, p)
	}
	return a, q.in.Err()
}

// questions asks for what no flag said.
type questions struct {
	in   *bufio.Scanner
	e    *env
	over bool // the input has ended
}

func (q *questions) line(wanted string) string {
	if q.over {
		return ""
	}
	fmt.Fprintf(q.e.out, "%s: ", wanted)
	if q.over = !q.in.Scan(); q.over {
		fmt.Fprintln(q.e.out)
		return ""
	}
	return strings.TrimSpace(q.in.Text())
}

func (q *questions) ask(value *string, wanted string) {
	if *value == "" {
		*value = q.line(wanted)
	}
}

func (q *questions) list(given []string, wanted string) []string {
	if len(given) > 0 {
		return given
	}
	var all []string
	for {
		text := q.line(wanted)
		if text == "" {
			return all
		}
		all = append(all, text)
	}
}
