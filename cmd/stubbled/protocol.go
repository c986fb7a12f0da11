package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
)

// A protocol prints every message of a rehearsal in order.
type protocol struct {
	w      io.Writer
	zone   *time.Location
	farm   *config.Farm
	asJSON bool
	mails  bool // mails in full, not only what they are about
	last   civil.Date
	count  int // messages so far
	err    error
}

func newProtocol(w io.Writer, farm *config.Farm, asJSON bool) *protocol {
	return &protocol{w: w, zone: farm.Zone, farm: farm, asJSON: asJSON}
}

func (p *protocol) printf(format string, args ...any) {
	if p.err == nil && !p.asJSON {
		_, p.err = fmt.Fprintf(p.w, format, args...)
	}
}

func (p *protocol) head(farm *config.Farm, demo bool, from, to civil.Date, weather int) {
	p.printf("Rehearsal of %s, %s to %s. Nothing is sent.\n", farm.Name, from, to)
	if demo {
		p.printf("The demo farm: place, people and temperatures are invented.\n")
	}
	if weather != 0 {
		p.printf("Weather: as %s observed in %d.\n", farm.Plan.Place, weather)
	}
}

// stamp prints a line's time, with the day where it changes.
func (p *protocol) stamp(at time.Time) string {
	at = at.In(p.zone)
	if day := civil.DateOf(at); day != p.last {
		p.last = day
		p.printf("\n%s\n", at.Format("Mon Jan 2, 2006"))
	}
	return at.Format("15:04")
}

func (p *protocol) heard(l line) {
	late := ""
	if !l.sent.Equal(l.at) {
		late = fmt.Sprintf(" (sent %s)", l.sent.In(p.zone).Format("Jan 2 15:04"))
	}
	p.printf("  %s  %s%s: %s\n", p.stamp(l.at), l.name, late, l.text)
}

// carrier stands for the carrier that would be used.
func (p *protocol) carrier(m ladder.Medium) notify.Carrier {
	name := carriers.Name(p.farm, m)
	return &recorder{p: p, name: name, medium: m}
}

type recorder struct {
	p      *protocol
	name   string
	medium ladder.Medium
}

func (r *recorder) Name() string          { return r.name }
func (r *recorder) Medium() ladder.Medium { return r.medium }
func (r *recorder) Retry() notify.Retry   { return notify.Never }

func (r *recorder) Deliver(_ context.Context, e notify.Envelope) notify.Outcome {
	r.p.count++
	if r.p.asJSON {
		r.p.object(r.name, e)
	} else {
		r.p.message(r.medium, e)
	}
	return notify.Outcome{State: notify.Sent}
}

func (p *protocol) message(m ladder.Medium, e notify.Envelope) {
	mark := ""
	text := e.Text
	if m == ladder.Mail {
		mark = " (mail)"
		text = strings.TrimRight(e.Subject+"\n"+text, "\n")
		if !p.mails {
			text = fmt.Sprintf("%s (%d lines)", e.Subject, strings.Count(text, "\n"))
		}
	}
	p.printf("  %s  to %s%s\n", p.stamp(e.Date), e.ToName, mark)
	for l := range strings.SplitSeq(text, "\n") {
		p.printf("         %s\n", l)
	}
}

// said is one message as JSON.
type said struct {
	At       string      `json:"at"`
	To       string      `json:"to"`
	Carrier  string      `json:"carrier"`
	Kind     ladder.Kind `json:"kind"`
	Paddock  string      `json:"paddock,omitempty"`
	Paddocks []string    `json:"paddocks,omitempty"`
	Subject  string      `json:"subject,omitempty"`
	Text     string      `json:"text"`
	Facts    []factJSON  `json:"facts,omitempty"`
	Verdict  *string     `json:"verdict,omitempty"`
	Action   string      `json:"action,omitempty"`
	Height   *float64    `json:"height_in,omitempty"`
	Plants   int         `json:"plants,omitempty"`
}

func (p *protocol) object(carrier string, e notify.Envelope) {
	s := said{At: e.Date.In(p.zone).Format(time.RFC3339), To: e.ToName, Carrier: carrier, Kind: e.Kind, Subject: e.Subject, Text: e.Text}
	for _, n := range e.Notices {
		s.take(n.Kind, n.Facts)
		for _, also := range n.Facts.And {
			s.take(also.Kind, also.Facts)
		}
	}
	if len(s.Paddocks) == 1 {
		s.Paddock, s.Paddocks = s.Paddocks[0], nil
	}
	if p.err == nil {
		p.err = json.NewEncoder(p.w).Encode(s)
	}
}

func (s *said) take(kind ladder.Kind, f ladder.Facts) {
	s.names(f.Paddock)
	if f.Paddock == "" {
		for _, line := range f.Shuts {
			s.names(line.Paddock)
		}
	}
	if !kind.Answer() {
		return
	}
	for _, fact := range f.Recorded {
		s.Facts = append(s.Facts, factOf(fact))
	}
	if kind == ladder.AnswerVerdict && f.Verdict != nil && s.Action == "" {
		word := string(f.Verdict.Say)
		if word != "" {
			s.Verdict = &word
		}
		s.Action = string(f.Verdict.Action)
		if f.Height != nil {
			s.Height, s.Plants = &f.Height.Mean, f.Height.Plants
		}
	}
}

func (s *said) names(paddock string) {
	if paddock == "" {
		return
	}
	for _, have := range s.Paddocks {
		if have == paddock {
			return
		}
	}
	s.Paddocks = append(s.Paddocks, paddock)
}

// factJSON is a fact as outside programs read it.
type factJSON struct {
	Kind     diary.Kind `json:"kind"`
	Paddock  string     `json:"paddock,omitempty"`
	Heights  []float64  `json:"heights_in,omitempty"`
	Herd     string     `json:"herd,omitempty"`
	Date     string     `json:"date,omitempty"`
	Duration string     `json:"duration,omitempty"`
}

func factOf(f diary.Fact) factJSON {
	j := factJSON{Kind: f.Kind, Paddock: f.Paddock, Heights: f.Heights, Herd: f.Herd}
	if !f.Day.IsZero() {
		j.Date = f.Day.String()
	}
	if f.Wait > 0 {
		j.Duration = durationText(f.Wait)
	}
	return j
}

// durationText is a delay as people text it: 2d, 4h.
func durationText(d time.Duration) string {
	if d%(24*time.Hour) == 0 {
		return fmt.Sprintf("%dd", d/(24*time.Hour))
	}
	if d%time.Hour == 0 {
		return fmt.Sprintf("%dh", d/time.Hour)
	}
	return fmt.Sprintf("%dm", d/time.Minute)
}
