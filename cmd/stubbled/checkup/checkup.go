// Package checkup looks at everything that a farm needs to be reminded, its farm
// file, frost, database, daemon, carriers and sources, and says what is wrong,
// where, and the mend. It changes nothing.
package checkup

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"maps"
	"slices"
	"time"

	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/season"
	"stubbled/store"
	"stubbled/store/disk"
)

// Options is what is looked at.
type Options struct {
	Farm    *config.Farm
	Refused error // why the farm file is not what Farm is, where that is so
	DB      string
	Now     func() time.Time
	In      io.Reader // the console, for a farm that speaks on it
	Out     io.Writer
	Log     *slog.Logger
	Send    string // a contact who gets a test by every carrier
	// Service says that the daemon is a service, whose console nobody sees.
	Service bool
	Wait    time.Duration // how long a test may take to its modem
}

// ErrNotWell is what a checkup ends with where something is wrong; it has said what.
var ErrNotWell = errors.New("something is wrong; see above")

// A checkup says what was looked at and counts what is wrong.
type checkup struct {
	Options
	bad int
}

func (c *checkup) fine(what, detail string) { fmt.Fprintf(c.Out, "fine   %-10s %s\n", what, detail) }
func (c *checkup) note(what, detail string) { fmt.Fprintf(c.Out, "look   %-10s %s\n", what, detail) }
func (c *checkup) wrong(what string, err error) {
	c.bad++
	fmt.Fprintf(c.Out, "WRONG  %-10s %v\n", what, err)
}

// Run looks at all of it.
func Run(ctx context.Context, o Options) error {
	c := &checkup{Options: o}
	c.farmFile()
	if o.Send != "" {
		if _, err := report.ContactNamed(o.Farm, o.Send); err != nil {
			return err
		}
	}
	c.frost(o.Farm)
	c.database(ctx, o.Farm)
	c.carriers(ctx, o.Farm, o.Send)
	if c.bad > 0 {
		return ErrNotWell
	}
	return nil
}

// farmFile says how the farm file is, or that the daemon goes on with another.
func (c *checkup) farmFile() {
	if c.Refused != nil {
		c.wrong("farm file", c.Refused)
		c.note("farm file", "the one that was in force last goes on until this is mended")
		return
	}
	c.fine("farm file", fmt.Sprintf("%s: %s, %s, %s", c.Farm.File, c.Farm.Name, count(len(c.Farm.Paddocks), "paddock"), count(len(c.Farm.Contacts), "contact")))
	for _, w := range c.Farm.Warnings {
		c.note("farm file", w.Error())
	}
}

func (c *checkup) database(ctx context.Context, farm *config.Farm) {
	db := c.DB
	if disk.NeverUsed(db) {
		c.note("database", db+" is not there yet; 'stubbled run' makes it")
		return
	}
	s, err := store.OpenRead(ctx, db, store.Farm{Name: farm.Name, Was: farm.Was})
	if err != nil {
		c.wrong("database", err)
		return
	}
	defer s.Close()
	if err := disk.Verify(ctx, db); err != nil {
		c.wrong("database", err)
		return
	}
	unsummed, err := s.CheckFacts(ctx)
	if err != nil {
		c.wrong("diary", err)
	}
	if unsummed > 0 {
		c.note("diary", fmt.Sprintf("%d entries are of before there were checksums", unsummed))
	}
	size, _ := s.Size()
	c.fine("database", fmt.Sprintf("%s, %.1f MB", db, float64(size)/1e6))
	c.diary(ctx, farm, s)
	c.running(ctx, farm, s)
	c.unsaid(ctx, farm, s)
}

// diary says what managers would have the farm file say, each with the line to write,
// and which entries are of ground that the file no longer has.
func (c *checkup) diary(ctx context.Context, farm *config.Farm, s *store.Store) {
	book, renamed := diary.NewBook(), scheduler.Renames(farm)
	gone := map[string][]diary.Fact{} // entries, by a paddock that is not there
	if err := s.EachFact(ctx, 0, func(f diary.Fact) error {
		f = renamed(f)
		book.Add(f)
		if _, ok := farm.Farm.Paddock(f.Paddock); !ok && f.Paddock != "" {
			gone[f.Paddock] = append(gone[f.Paddock], f)
		}
		return nil
	}); err != nil {
		c.wrong("diary", err)
	}
	for _, id := range slices.Sorted(maps.Keys(gone)) {
		all := gone[id]
		c.note("diary", fmt.Sprintf("%s of a paddock %q, the last of %s, which the farm file does not have: who stands there and what holds it counts for nothing; if it was renamed write  was: %s  at the paddock that it is now",
			entries(len(all)), id, report.ShortDay(all[len(all)-1].Day), id))
	}
	for i := range farm.Paddocks {
		p := &farm.Paddocks[i]
		for _, w := range season.Wishes(p, book) {
			c.note("wish", fmt.Sprintf("%s on %s for %s: to make it the rule write at %s:%d  %s",
				w.By, report.ShortDay(w.Told), p.Name, farm.File, farm.RuleLine(p.ID), w.Line(farm.Units == config.Centimetres)))
		}
	}
}

// unsaid lists what could not be said in the last week, and why.
func (c *checkup) unsaid(ctx context.Context, farm *config.Farm, s *store.Store) {
	rows, err := s.NotSaid(ctx, c.Now().AddDate(0, 0, -7))
	if err != nil {
		c.wrong("not said", err)
		return
	}
	for _, r := range rows {
		c.note("not said", fmt.Sprintf("%s to %s about %s: %s (%s)", r.Changed.In(farm.Zone).Format("Jan 2 15:04"), r.Notice.To, r.Notice.Kind, r.State, r.Why))
	}
}

// entries is so many of the diary's.
func entries(n int) string {
	if n == 1 {
		return "1 entry is"
	}
	return fmt.Sprintf("%d entries are", n)
}

// count is so many of a thing: '1 contact', '3 paddocks'.
func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
