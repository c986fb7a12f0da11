package report

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/notify"
	"stubbled/scheduler/ladder"
)

// A Account prints every message in order, as the carriers would have it.
type Account struct {
	Out    io.Writer
	Zone   *time.Location
	JSON   bool // one object a line for each message, and nothing else
	Mails  bool // mails in full, not only what they are about
	Count  int  // messages so far
	Err    error
	lately civil.Date
}

// Printf prints something besides, for people.
func (t *Account) Printf(format string, args ...any) {
	if t.Err == nil && !t.JSON {
		_, t.Err = fmt.Fprintf(t.Out, format, args...)
	}
}

// stamp is a line's time; where the day changes it prints that first.
func (t *Account) stamp(at time.Time) string {
	at = at.In(t.Zone)
	if day := civil.DateOf(at); day != t.lately {
		t.lately = day
		t.Printf("\n%s\n", at.Format("Mon Jan 2, 2006"))
	}
	return at.Format("15:04")
}

// Heard prints a text that came in.
func (t *Account) Heard(at, sent time.Time, name, text string) {
	late := ""
	if !sent.Equal(at) {
		late = fmt.Sprintf(" (sent %s)", sent.In(t.Zone).Format("Jan 2 15:04"))
	}
	t.Printf("  %s  %s%s: %s\n", t.stamp(at), name, late, text)
}

func (t *Account) message(e notify.Envelope, m ladder.Medium) {
	head, text := "to "+e.ToName, e.Text
	switch {
	case m == ladder.Mail && t.Mails:
		head, text = head+" (mail)", strings.TrimRight(e.Subject+"\n"+text, "\n")
	case m == ladder.Mail:
		head, text = head+" (mail)", mailInShort(e.Subject, text)
	}
	t.entry(e.Date, head, text)
}

// mailInShort is what a mail is about.
func mailInShort(subject, text string) string {
	return fmt.Sprintf("%s (%d lines)", subject, strings.Count(strings.TrimRight(subject+"\n"+text, "\n"), "\n"))
}

// entry prints one message below what is said of it.
func (t *Account) entry(at time.Time, head, text string) {
	t.Printf("  %s  %s\n", t.stamp(at), head)
	for l := range strings.SplitSeq(text, "\n") {
		t.Printf("         %s\n", l)
	}
}

// Carrier stands for the carrier that would be used: it prints.
func (t *Account) Carrier(name string, m ladder.Medium) notify.Carrier {
	return &printer{t, name, m}
}

type printer struct {
	*Account
	name   string
	medium ladder.Medium
}

func (p *printer) Name() string          { return p.name }
func (p *printer) Medium() ladder.Medium { return p.medium }
func (p *printer) Retry() notify.Retry   { return notify.Never }

func (p *printer) Deliver(_ context.Context, e notify.Envelope) notify.Outcome {
	p.Count++
	switch {
	case !p.JSON:
		p.message(e, p.medium)
	case p.Err == nil:
		p.Err = json.NewEncoder(p.Out).Encode(messageOf(e, p.name, p.Zone))
	}
	return notify.Outcome{State: notify.Sent}
}

// Message is one as other programs read it.
type Message struct {
	At       string      `json:"at"`
	To       string      `json:"to"`
	Carrier  string      `json:"carrier"`
	Kind     ladder.Kind `json:"kind"`
	Paddock  string      `json:"paddock,omitempty"`
	Paddocks []string    `json:"paddocks,omitempty"`
	Subject  string      `json:"subject,omitempty"`
	Text     string      `json:"text"`
	Facts    []Fact      `json:"facts,omitempty"`
	Verdict  *string     `json:"verdict,omitempty"`
	Action   string      `json:"action,omitempty"`
	Height   *float64    `json:"height_in,omitempty"`
	Plants   int         `json:"plants,omitempty"`
	Move     *int        `json:"days_to_move,omitempty"`
	Stop     *float64    `json:"stop_in,omitempty"`
	Card     []Score     `json:"scorecard,omitempty"`
	Grid     *Grid       `json:"grid,omitempty"`
}

// Score is what a paddock's springs say of its rests.
type Score struct {
	Paddock string   `json:"paddock"`
	Springs int      `json:"springs"`
	Later   *float64 `json:"days_later"`
	Called  bool     `json:"called"`
}

// Grid is a frame count, plants a square metre with the range of 95 in 100 such counts.
type Grid struct {
	Percent float64 `json:"percent"`
	PerM2   float64 `json:"per_m2"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
}

func messageOf(e notify.Envelope, carrier string, zone *time.Location) Message {
	m := Message{At: e.Date.In(zone).Format(time.RFC3339), To: e.ToName, Carrier: carrier, Kind: e.Kind, Subject: e.Subject, Text: e.Text}
	for _, n := range e.Notices {
		for _, part := range n.Parts() {
			m.take(part.Facts)
		}
	}
	if len(m.Paddocks) == 1 {
		m.Paddock, m.Paddocks = m.Paddocks[0], nil
	}
	return m
}

func (m *Message) take(f ladder.Facts) {
	m.Paddocks = addPaddocks(m.Paddocks, f)
	if answer, ok := f.(ladder.Answer); ok {
		for _, fact := range answer.Reply().Recorded {
			m.Facts = append(m.Facts, factOf(fact))
		}
	}
	if f, ok := f.(*ladder.RecordedFacts); ok && f.Grid != nil {
		m.Grid = &Grid{f.Grid.Percent, f.Grid.PerM2, f.Grid.Low, f.Grid.High}
	}
	if f, ok := f.(*ladder.ScorecardFacts); ok {
		for _, s := range f.Card {
			m.Card = append(m.Card, Score{s.Paddock, s.Springs, s.Days, s.Called})
		}
	}
	if f, ok := f.(*ladder.VerdictFacts); ok && f.Verdict != nil && m.Action == "" {
		m.Verdict, m.Action = orNull(string(f.Verdict.Say)), string(f.Verdict.Action)
		if f.Height != nil {
			m.Height, m.Plants = &f.Height.Mean, f.Height.Plants
		}
		if f.Move != nil {
			m.Move, m.Stop = f.Move.Days, &f.Move.Stop
		}
	}
}

// addPaddocks adds those that a notice is about, each once.
func addPaddocks(to []string, f ladder.Facts) []string {
	about := []string{f.About().Paddock}
	if listed, ok := f.(interface{ Lines() []ladder.Shut }); ok && about[0] == "" {
		for _, line := range listed.Lines() {
			about = append(about, line.Paddock)
		}
	}
	for _, id := range about {
		if id != "" && !slices.Contains(to, id) {
			to = append(to, id)
		}
	}
	return to
}
