package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/golang-sql/civil"
	"github.com/spf13/cobra"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/daemon"
	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/notify/wording"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/season"
	"stubbled/store"
	"stubbled/store/disk"
)

func checkCmd(e *env) *cobra.Command {
	var send string
	var again, settings bool
	c := &cobra.Command{
		Use:   "check",
		Short: "Checks farm file, database and carriers, and says the mend",
		Args:  noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			switch {
			case settings:
				return showSettings(e)
			case again:
				return sayAgain(c.Context(), e)
			}
			return check(c.Context(), e, send)
		},
	}
	c.Flags().StringVar(&send, "send", "", "send a test to this `contact` by every carrier")
	c.Flags().BoolVar(&again, "again", false, "queue once more what could not be said in the last week")
	c.Flags().BoolVar(&settings, "settings", false, "print every setting and where it comes from")
	return c
}

func showSettings(e *env) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	return farm.Effective(e.out)
}

// againFor is how long what is said again stays worth saying.
const againFor = 24 * time.Hour

// sayAgain queues what could not be said once more; the daemon sends it.
func sayAgain(ctx context.Context, e *env) error {
	farm, err := e.farm()
	if err != nil {
		return err
	}
	s, err := store.OpenBeside(ctx, e.dbPath(farm.File))
	if err != nil {
		return err
	}
	defer s.Close()
	now := e.clock.Now()
	unsaid, err := s.NotSaid(ctx, now.AddDate(0, 0, -7))
	if err != nil {
		return err
	}
	var rows []int64
	for _, u := range unsaid {
		if u.State != store.Queued && u.State != store.Sending {
			rows = append(rows, u.ID)
		}
	}
	n, err := s.SayAgain(ctx, rows, now.Add(againFor), now)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%d message(s) queued once more; the daemon says them within a minute\n", n)
	return nil
}

// errNotWell is what check ends with where something is wrong; it has said what.
var errNotWell = errors.New("something is wrong; see above")

// A checkup says what was looked at and counts what is wrong.
type checkup struct {
	e   *env
	bad int
}

func (c *checkup) fine(what, detail string) { fmt.Fprintf(c.e.out, "fine   %-10s %s\n", what, detail) }
func (c *checkup) note(what, detail string) { fmt.Fprintf(c.e.out, "look   %-10s %s\n", what, detail) }
func (c *checkup) wrong(what string, err error) {
	c.bad++
	fmt.Fprintf(c.e.out, "WRONG  %-10s %v\n", what, err)
}

func check(ctx context.Context, e *env, send string) error {
	c := &checkup{e: e}
	farm, err := c.farm()
	if err != nil {
		return err
	}
	if send != "" {
		if _, err := contactNamed(farm, send); err != nil {
			return err
		}
	}
	c.frost(farm)
	c.database(ctx, farm)
	c.carriers(ctx, farm, send)
	if c.bad > 0 {
		return errNotWell
	}
	return nil
}

// farm is the farm file, or where that is refused what the daemon goes on with.
func (c *checkup) farm() (*config.Farm, error) {
	farm, refused := c.e.farm()
	if refused != nil {
		last, ok := c.e.lastGood()
		if !ok {
			return nil, refused
		}
		c.wrong("farm file", refused)
		c.note("farm file", "the one that was in force last goes on until this is mended")
		return last, nil
	}
	c.fine("farm file", fmt.Sprintf("%s: %s, %d paddocks, %d contacts", farm.File, farm.Name, len(farm.Paddocks), len(farm.Contacts)))
	for _, w := range farm.Warnings {
		c.note("farm file", w.Error())
	}
	return farm, nil
}

// frost says what the farm counts back from, and once what the rule of thumb
// means on this station.
func (c *checkup) frost(farm *config.Farm) {
	today := civil.DateOf(c.e.clock.Now().In(farm.Zone))
	sight := season.Sight{Farm: &farm.Farm, Book: diary.NewBook(), Today: today, Cache: &season.Cache{}}
	f, err := sight.PlannedFrost()
	if err != nil {
		c.wrong("frost", err)
		return
	}
	c.fine("frost", fmt.Sprintf("%s at %s: %s", report.PlanWords(farm.Plan), report.PlaceWords(farm.Plan), report.ShortDay(f)))
	if t, ok := season.RuleOfThumb(sight); ok {
		c.note("rule", thumbWords(t))
	}
}

func thumbWords(t season.Thumb) string {
	text := fmt.Sprintf("the rule of thumb on this station: %g in and %d days reach %g in in about %.0f of 100 falls", t.Leave, t.Rest, t.Target, t.Chance*100)
	cures := ""
	if t.LeaveFor.Found && t.LeaveFor.Value > t.Leave {
		cures = fmt.Sprintf("%g in", t.LeaveFor.Value)
	}
	if t.RestFor.Found && int(t.RestFor.Value) > t.Rest {
		if cures != "" {
			cures += " or "
		}
		cures += fmt.Sprintf("%.0f days", t.RestFor.Value)
	}
	if cures != "" {
		text += fmt.Sprintf("; %s is nearer %.0f", cures, t.Confidence*100)
	}
	return text + " (before a paddock has seasons of its own)"
}

func (c *checkup) database(ctx context.Context, farm *config.Farm) {
	db := c.e.dbPath(farm.File)
	if disk.NeverUsed(db) {
		c.note("database", db+" is not there yet; 'stubbled run' makes it")
		return
	}
	s, err := store.OpenRead(ctx, db)
	if err != nil {
		c.wrong("database", err)
		return
	}
	defer s.Close()
	if err := disk.Verify(ctx, db); err != nil {
		c.wrong("database", err)
		return
	}
	size, _ := s.Size()
	c.fine("database", fmt.Sprintf("%s, %.1f MB", db, float64(size)/1e6))
	c.running(ctx, farm, s)
	c.unsaid(ctx, farm, s)
}

// unsaid lists what could not be said in the last week, and why.
func (c *checkup) unsaid(ctx context.Context, farm *config.Farm, s *store.Store) {
	rows, err := s.NotSaid(ctx, c.e.clock.Now().AddDate(0, 0, -7))
	if err != nil {
		c.wrong("not said", err)
		return
	}
	for _, r := range rows {
		c.note("not said", fmt.Sprintf("%s to %s about %s: %s (%s)", r.Changed.In(farm.Zone).Format("Jan 2 15:04"), r.Notice.To, r.Notice.Kind, r.State, r.Why))
	}
}

// carriers proves each carrier and source in turn, and sends a test where asked.
func (c *checkup) carriers(ctx context.Context, farm *config.Farm, send string) {
	l := carriers.Connect(carriers.Options{
		Farm: func() *config.Farm { return farm }, Now: c.e.clock.Now, In: c.e.in, Out: c.e.out, Run: "check", Log: daemon.Logger(c.e.err),
	})
	for _, b := range l.Broken {
		c.wrong("carriers", b.Err)
	}
	for _, carrier := range l.Carriers {
		c.prove(ctx, carrier.Name(), carrier)
		if send != "" {
			c.test(ctx, farm, carrier, send)
		}
	}
	for _, r := range l.Receivers {
		c.prove(ctx, r.Name()+" in", r)
	}
	for _, s := range l.Sources {
		c.prove(ctx, s.Name(), s)
	}
}

func (c *checkup) prove(ctx context.Context, name string, thing any) {
	p, ok := thing.(notify.Checker)
	if !ok {
		return
	}
	if err := p.Check(ctx); err != nil {
		c.wrong(name, err)
		return
	}
	c.fine(name, "answers")
}

func (c *checkup) test(ctx context.Context, farm *config.Farm, carrier notify.Carrier, name string) {
	contact, _ := farm.Contact(name)
	address := contact.Address(carrier.Medium())
	if address == "" {
		c.note(carrier.Name(), name+" has no address for it")
		return
	}
	now := c.e.clock.Now()
	o := wording.Options{Lang: contact.Language, Centimetres: farm.Units == config.Centimetres}
	facts := []ladder.Facts{&ladder.PersonFacts{Head: ladder.Head{Farm: farm.Name}, Who: contact.Name}}
	e := notify.Envelope{
		ID: "test-" + now.UTC().Format("20060102T150405"), Address: address, ToName: contact.Name, Kind: ladder.Enrolment,
		Text: wording.Text(o, ladder.Enrolment, facts), Subject: farm.Name, Date: now,
	}
	out := carrier.Deliver(ctx, e)
	if out.State != notify.Sent {
		c.wrong(carrier.Name(), fmt.Errorf("test to %s: %s: %s", name, out.State, out.Detail))
		return
	}
	c.fine(carrier.Name(), "test handed over for "+name)
}
