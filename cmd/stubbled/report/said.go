package report

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	paper "stubbled/notify/page"
	"stubbled/notify/wording"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// SaidOptions is what to show of what was said.
type SaidOptions struct {
	To   string     // a contact; empty for everybody
	On   civil.Date // zero for every day
	Now  time.Time
	JSON bool // one object a line
}

// A saying is one message with its fate: several rows of the outbox may have gone
// out in one.
type saying struct {
	store.Fate
	paddocks []string
	facts    []ladder.Facts // of one that was never worded
}

// Said is every message with its fate, in the order of when it was said, or else
// due, and why one was not sent.
func Said(ctx context.Context, w io.Writer, farm *config.Farm, s *store.Store, o SaidOptions) error {
	fates, err := s.Fates(ctx)
	if err != nil {
		return err
	}
	if o.To != "" {
		if o.To, err = addressee(farm, fates, o.To); err != nil {
			return err
		}
		fates = slices.DeleteFunc(fates, func(f store.Fate) bool { return f.Notice.To != o.To })
	}
	all := slices.DeleteFunc(sayings(fates), func(s saying) bool { return !o.On.IsZero() && !s.on(o.On, farm.Zone) })
	slices.SortStableFunc(all, func(a, b saying) int { return a.when().Compare(b.when()) })
	if o.JSON {
		return saidJSON(w, farm, all)
	}
	t := &Account{Out: w, Zone: farm.Zone}
	for i := range all {
		all[i].print(t, farm)
	}
	if len(all) == 0 {
		t.Printf("Nothing was due%s.\n", o.words())
	}
	t.Printf("%s", o.silence(farm, fates))
	return t.Err
}

func (o SaidOptions) words() string {
	text := ""
	if o.To != "" {
		text += " for " + o.To
	}
	if !o.On.IsZero() {
		text += " on " + longDay(o.On)
	}
	return text
}

// addressee is a contact of the farm file, or one who has left it.
func addressee(farm *config.Farm, fates []store.Fate, name string) (string, error) {
	if c, ok := farm.Contact(name); ok {
		return c.Name, nil
	}
	for _, f := range fates {
		if strings.EqualFold(f.Notice.To, name) {
			return f.Notice.To, nil
		}
	}
	return "", usage.Errorf("no contact is called %q, and nothing was ever to be said to one; the farm file has %s", name, Names(farm))
}

// silence says why a contact got nothing unasked, where that is so: who has said
// stop, or has no address, is planned nothing.
func (o SaidOptions) silence(farm *config.Farm, fates []store.Fate) string {
	if o.To == "" {
		return ""
	}
	until := o.Now
	if !o.On.IsZero() {
		until = ladder.Instant(o.On.AddDays(1), 0, farm.Zone)
	}
	var stopped time.Time
	for _, f := range fates { // in the order planned
		switch {
		case !f.Planned.Before(until):
		case f.Notice.Kind == ladder.AnswerStop:
			stopped = f.Planned
		case f.Notice.Kind == ladder.AnswerStart:
			stopped = time.Time{}
		}
	}
	switch c, ok := farm.Contact(o.To); {
	case !stopped.IsZero():
		return fmt.Sprintf("\n%s had said stop on %s: nothing goes out until 'start'.\n", o.To, stopped.In(farm.Zone).Format("Jan 2 at 15:04"))
	case !ok:
		return fmt.Sprintf("\n%s is not in the farm file any more.\n", o.To)
	case c.Phone == "" && c.Email == "":
		return fmt.Sprintf("\n%s has neither phone nor mail in the farm file.\n", o.To)
	}
	return ""
}

// sayings puts the rows that one message carries together.
func sayings(fates []store.Fate) []saying {
	var all []saying
	at := map[int64]int{} // message -> its place
	for _, f := range fates {
		i, ok := at[f.Message]
		if !ok || f.Message == 0 {
			i = len(all)
			at[f.Message] = i
			all = append(all, saying{Fate: f})
		}
		s := &all[i]
		s.facts = append(s.facts, f.Notice.Facts)
		for _, part := range f.Notice.Parts() {
			s.paddocks = addPaddocks(s.paddocks, part.Facts)
		}
	}
	return all
}

// Sayings are messages with their fates as a page shows them, in the order of when each
// was said, or else due.
func Sayings(farm *config.Farm, fates []store.Fate) []paper.Saying {
	all := sayings(fates)
	slices.SortStableFunc(all, func(a, b saying) int { return a.when().Compare(b.when()) })
	told := make([]paper.Saying, len(all))
	for i, s := range all {
		subject, text := s.words(farm)
		t := paper.Saying{
			When: s.when().In(farm.Zone).Format("2006-01-02 15:04"), To: s.Notice.To, Mail: s.Notice.Medium == ladder.Mail, State: string(s.State), Text: strings.TrimSpace(text),
		}
		if t.Mail {
			t.Text = strings.TrimSpace(subject)
		}
		if s.State != store.Sending && s.State != store.Withdrawn && (s.State != store.Sent || s.Why == store.WhyRead) {
			t.Why = s.Why
		}
		told[i] = t
	}
	return told
}

// settled is when its fate was; zero where it waits.
func (s saying) settled() time.Time {
	if s.State == store.Queued {
		return time.Time{}
	}
	return s.Changed
}

// when is the moment that it is listed at: when it went out, or else was due.
func (s saying) when() time.Time {
	if s.Told() {
		return s.Changed
	}
	return s.Notice.NotBefore
}

func (s saying) on(day civil.Date, zone *time.Location) bool {
	return civil.DateOf(s.Notice.NotBefore.In(zone)) == day || !s.settled().IsZero() && civil.DateOf(s.settled().In(zone)) == day
}

// why is why it was not sent, in a word or the carrier's words; empty where it was.
func (s saying) why() string {
	switch {
	case s.State == store.Sent || s.State == store.Sending:
		return ""
	case s.State == store.Withdrawn:
		return "withdrawn"
	case s.State == store.Expired && s.Why == "":
		return "expired"
	case s.Why == store.WhyNoAddress:
		return "no address"
	}
	return s.Why
}

// fate says what became of it, for people; nothing where it was plainly sent.
func (s saying) fate(zone *time.Location) string {
	clock := func(t time.Time) string { return t.In(zone).Format("Jan 2 15:04") }
	reason := cmp.Or(map[string]string{
		store.WhyCap: "the day's cap of texts was reached", store.WhyStopped: "the owner of the address had said stop",
		store.WhyNoAddress: "the farm file has no address for it",
	}[s.Why], s.Why)
	switch s.State {
	case store.Sent:
		if s.Why == store.WhyRead {
			return "read where it was typed"
		}
		return ""
	case store.Sending:
		return "is going out"
	case store.Unknown:
		return "may have arrived, nobody knows: " + reason
	case store.Failed:
		return "NOT SENT: " + reason
	case store.Withdrawn:
		return "NOT SENT: withdrawn on " + clock(s.Changed) + ", it was no longer wanted"
	case store.Expired:
		text := "NOT SENT: expired on " + clock(s.Changed) + ", it was no longer true"
		if reason != "" {
			text += "; until then " + reason
		}
		return text
	}
	if reason != "" {
		return "waits: " + reason
	}
	return "waits"
}

// Words are those that a message went out with. One that never went out is worded
// as it would be now; its text is the same as it would have been then, but for the
// contact's language.
func Words(farm *config.Farm, f store.Fate) (subject, text string) {
	return saying{Fate: f, facts: []ladder.Facts{f.Notice.Facts}}.words(farm)
}

func (s saying) words(farm *config.Farm) (subject, text string) {
	if s.Text != "" {
		return s.Subject, s.Text
	}
	o := Voice(farm, "")
	if c, ok := farm.Contact(s.Notice.To); ok {
		o.Lang = c.Language
	}
	subject, text, _ = wording.Message(o, s.Notice.Medium, s.Notice.Kind, s.facts)
	return subject, text
}

func (s saying) print(t *Account, farm *config.Farm) {
	head := "to " + s.Notice.To
	subject, text := s.words(farm)
	if s.Notice.Medium == ladder.Mail {
		head += " (mail)"
		text = mailInShort(subject, text)
	}
	if fate := s.fate(farm.Zone); fate != "" {
		head += ": " + fate
	}
	if s.Text == "" && s.Why != store.WhyRead {
		head += " (never worded; it would say)"
	}
	t.entry(s.when(), head, text)
}

func saidJSON(w io.Writer, farm *config.Farm, all []saying) error {
	out := json.NewEncoder(w)
	for _, s := range all {
		var at *string // while it waits
		if settled := s.settled(); !settled.IsZero() {
			at = orNull(settled.In(farm.Zone).Format(time.RFC3339))
		}
		n := s.Notice
		subject, text := s.words(farm)
		line := object{
			{"at", at}, {"due", n.NotBefore.In(farm.Zone).Format(time.RFC3339)}, {"to", n.To}, {"medium", string(n.Medium)}, {"kind", n.Kind},
			{"paddocks", append([]string{}, s.paddocks...)}, {"state", s.State}, {"why", s.why()}, {"text", text}, {"subject,omitempty", subject},
			{"never_worded,omitempty", s.Text == ""}, // the text is worded now
		}
		if err := out.Encode(line); err != nil {
			return err
		}
	}
	return nil
}
