package board

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/golang-sql/civil"

	"stubbled/cmd/stubbled/report"
	"stubbled/notify/page"
	"stubbled/notify/reply"
	"stubbled/scheduler"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

const (
	mostLetters  = 480
	answerWithin = 10 * time.Second // how long a page waits for the answer
	lookAgain    = 100 * time.Millisecond
)

// say takes a text typed in, as any text, and shows its answer.
func (b *Board) say(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		http.Error(w, http.StatusText(http.StatusBadRequest), http.StatusBadRequest)
		return
	}
	text, now := strings.TrimSpace(r.PostForm.Get("text")), b.Now()
	from, known := b.Farm().Contact(r.PostForm.Get("contact"))
	status, why := http.StatusOK, ""
	switch {
	case !known:
		from, status, why = b.as(""), http.StatusBadRequest, "board.nobody"
	case !b.tokens.take(r.PostForm.Get("token"), now):
		status, why = http.StatusForbidden, "board.again"
	case text == "":
		status, why = http.StatusBadRequest, "board.empty"
	case utf8.RuneCountInString(text) > mostLetters:
		status, why = http.StatusRequestEntityTooLarge, "board.long"
	case b.notHere(text, from, now):
		status, why = http.StatusForbidden, "board.not-here"
	case !b.typed.allows(now):
		status, why = http.StatusTooManyRequests, "board.much"
	}
	answer := ""
	if why == "" {
		status, why, answer = b.hand(r.Context(), text, from, now)
	}
	b.send(w, r, from, status, func(p *page.Board) {
		p.Typed, p.Answer, p.Said, p.Refused = text, answer, why, status >= http.StatusBadRequest
	})
}

// notHere reports whether a text would do what takes the contact's own phone, said
// by whoever may say it, with a paddock named or not. The scheduler, which knows
// what was asked, looks again.
func (b *Board) notHere(text string, from *ladder.Contact, now time.Time) bool {
	farm := b.Farm()
	reader, who := scheduler.ReaderFor(farm), reply.Who{Name: from.Name, Language: from.Language, Manager: true}
	return slices.ContainsFunc([]string{text, text + " " + farm.Paddocks[0].ID}, func(text string) bool {
		heard := reader.Read(text, who, reply.Asked{}, civil.DateOf(now.In(farm.Zone)))
		facts := heard.Facts
		if heard.Ask != nil {
			for _, c := range heard.Ask.Choices {
				facts = append(facts, c.Facts...)
			}
		}
		return slices.ContainsFunc(facts, scheduler.NotOnBoard)
	})
}

func (b *Board) hand(ctx context.Context, text string, from *ladder.Contact, now time.Time) (status int, why, answer string) {
	in := store.In{ID: b.tokens.fresh(now), From: cmp.Or(from.Phone, from.Email), Contact: from.Name, Text: text, Sent: now}
	if err := b.Accept(ctx, in); err != nil {
		b.Log.Warn("what was typed on the board could not be written down", "err", err)
		return http.StatusServiceUnavailable, "board.failed", ""
	}
	answer, heard := b.answered(ctx, in.ID)
	switch {
	case !heard:
		return http.StatusOK, "board.waits", ""
	case answer == "":
		return http.StatusOK, "board.heard", ""
	}
	return http.StatusOK, "board.recorded", answer
}

// answerTo looks whether a text was heard, and for its answer.
func (b *Board) answerTo(ctx context.Context, id string) (text string, heard bool, err error) {
	farm := b.Farm()
	s, err := store.OpenRead(ctx, b.DB, store.Farm{Name: farm.Name, Was: farm.Was})
	if err != nil {
		return "", false, err
	}
	defer s.Close()
	at, answer, err := s.AnswerTo(ctx, scheduler.Board, id)
	if err != nil || at.IsZero() || answer == nil {
		return "", !at.IsZero(), err
	}
	_, text = report.Words(farm, *answer)
	return text, true, nil
}
