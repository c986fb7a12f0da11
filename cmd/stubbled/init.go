package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"

	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/archive"
	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/config/newfarm"
	"stubbled/scheduler/station"
)

type initFlags struct {
	out, archive string
	answers      newfarm.Answers
	rows         newfarm.Rows
	demo         bool
}

func initCmd(e *env) *cobra.Command {
	var f initFlags
	c := &cobra.Command{
		Use:   "init",
		Short: "Writes a farm file: asks a few questions, or takes flags",
		Long: `init asks for what a farm file needs, one thing at a time, and checks each answer.
What is broken off is kept beside the farm file, and the same command goes on from
there. Where flags say all that is needed nothing is asked.`,
		Example: `  stubbled init --name "Quail Fork" --timezone America/Chicago --frost 10-18 --spread "10 days" \
    --paddock "Creek Bottom:22 acres:eastern gamagrass" --herd "cows:38:cow with calf:Creek Bottom" \
    --contact "Ana:manager:+15555550142"`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return writeFarm(c.Context(), e, f) },
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
	fl.StringArrayVar(&f.rows.Paddocks, "paddock", nil, "`NAME:AREA:GRASS[:PLANTS]`, once for each paddock; plants that can poison, such as johnsongrass")
	fl.StringArrayVar(&f.rows.Herds, "herd", nil, "`NAME:HEAD:KIND[:PADDOCK]`, once for each herd")
	fl.StringArrayVar(&f.rows.People, "contact", nil, "`NAME:ROLE:PHONE[:LANGUAGE][:MAIL]`, once for each person")
	fl.StringVar(&f.archive, "archive", archive.Base, "the `address` of the archive of station records")
	fl.BoolVar(&f.demo, "demo", false, "write the demo farm with its invented record, to look at")
	return c
}

func writeFarm(ctx context.Context, e *env, f initFlags) error {
	if f.demo {
		return writeDemo(e, f.out)
	}
	if _, err := os.Stat(f.out); err == nil {
		return there(f.out)
	}
	if err := f.answers.Take(f.rows); err != nil {
		return usage.Error{Err: err}
	}
	a := &f.answers
	a.Dir, a.Service = filepath.Dir(f.out), e.ofService(f.out)
	asked := a.Name == "" || a.Timezone == "" || a.Station == "" && a.FrostDate == "" || len(a.Paddocks) == 0 || len(a.People) == 0
	talk := newfarm.Talk{In: e.in, Out: e.out, Draft: f.out + ".draft", Service: a.Service, Records: &records{ctx: ctx, e: e, base: f.archive, out: f.out}}
	if asked {
		if err := talk.Ask(a); err != nil {
			return err
		}
	}
	text, err := newfarm.Write(*a)
	if err != nil {
		return usage.Error{Err: err}
	}
	if err := createFile(f.out, text); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "wrote %s\n", f.out)
	if !asked {
		fmt.Fprintf(e.out, "Next: read it through, then  stubbled check --farm %s  and  stubbled rehearse --farm %s\n", f.out, f.out)
		return nil
	}
	talk.Done()
	return e.tryOut(ctx, f, &talk)
}

// tryOut checks a new farm, and sends somebody a test where there is something to
// send by. What is wrong is said, and is no failure: the file is written.
func (e *env) tryOut(ctx context.Context, f initFlags, talk *newfarm.Talk) error {
	said := e.checkAs(ctx, f.out, "")
	if via := f.answers.Texts.Via; via != "console" || f.answers.Mail.From != "" {
		if who := f.answers.People[0].Name; talk.Yes("Send " + who + " a test now") {
			said = e.checkAs(ctx, f.out, who)
		}
	}
	if said != nil {
		fmt.Fprintf(e.out, "%v\n", said)
	}
	next := "stubbled"
	if f.answers.Service {
		next = "sudo stubbled-farm"
	}
	fmt.Fprintf(e.out, "Next: read %s through; %s rehearse  shows a season of it, %s check  looks again.\n", f.out, next, next)
	return nil
}

// checkAs is check on a new farm file; that of a service by the service's own
// account, which has its secrets, where it is installed.
func (e *env) checkAs(ctx context.Context, file, send string) error {
	if asService, err := exec.LookPath("stubbled-farm"); err == nil && e.ofService(file) {
		args := []string{"check"}
		if send != "" {
			args = append(args, "--send", send)
		}
		c := exec.CommandContext(ctx, asService, args...)
		c.Stdout, c.Stderr = e.out, e.err
		return c.Run()
	}
	e.farmFile = file
	return check(ctx, e, send)
}

// records shows stations and keeps records for a farm file to come.
type records struct {
	ctx       context.Context
	e         *env
	base, out string
	best      []archive.Choice
}

func (r *records) Near(text string) (int, error) {
	place, err := station.FindPlace(text)
	if err != nil {
		return 0, err
	}
	if r.best, err = r.e.archiveAt(r.base).Choose(r.ctx, place); err != nil {
		return 0, err
	}
	return len(r.best), archive.Print(r.e.out, r.best)
}

// Take keeps a record where the daemon may write, beside the farm file or in the
// service's own folder.
func (r *records) Take(n int) (newfarm.Station, error) {
	c, beside := r.best[n-1], filepath.Dir(r.out)
	s := newfarm.Station{File: c.ID + ".dly", From: c.From, Place: c.Name}
	dir := filepath.Dir(r.e.dbPath(r.out))
	if _, err := os.Stat(dir); err != nil {
		dir = beside
	}
	if dir != beside {
		s.File = filepath.Join(dir, s.File)
	}
	_, err := keepRecord(c, dir)
	return s, err
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

func there(path string) error {
	return fmt.Errorf("%s is there already and is not overwritten: move it away, or name another with --out", path)
}

// createFile writes a new file and never overwrites one.
func createFile(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return there(path)
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
