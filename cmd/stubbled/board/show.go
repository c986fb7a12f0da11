package board

import (
	"bytes"
	"context"
	"net/http"

	"stubbled/cmd/stubbled/report"
	"stubbled/notify"
	"stubbled/notify/page"
	"stubbled/scheduler/ladder"
	"stubbled/scheduler/record"
	"stubbled/scheduler/season"
)

// as is whose page it is: the contact named, or the first manager.
func (b *Board) as(name string) *ladder.Contact {
	farm := b.Farm()
	if c, ok := farm.Contact(name); ok && name != "" {
		return c
	}
	return farm.FirstManager()
}

func (b *Board) show(w http.ResponseWriter, r *http.Request) {
	b.send(w, r, b.as(r.URL.Query().Get("as")), http.StatusOK, func(*page.Board) {})
}

func (b *Board) send(w http.ResponseWriter, r *http.Request, as *ladder.Contact, status int, also func(*page.Board)) {
	leave, ok := b.inTurn(w, r)
	if !ok {
		return
	}
	defer leave()
	m, err := b.look(r.Context())
	if err != nil {
		b.fail(w, err)
		return
	}
	p := m.page(as, b.Now())
	p.Token = b.tokens.fresh(b.Now())
	also(&p)
	var out bytes.Buffer
	if err := p.Write(&out, report.Voice(b.Farm(), as.Language)); err != nil {
		b.fail(w, err)
		return
	}
	write(w, "text/html; charset=utf-8", status, out.Bytes())
}

func (b *Board) fail(w http.ResponseWriter, err error) {
	b.Log.Warn("the board could not be shown", "err", err)
	http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
}

func write(w http.ResponseWriter, kind string, status int, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(data) // who asked has gone
}

func (b *Board) style(w http.ResponseWriter, _ *http.Request) {
	write(w, "text/css; charset=utf-8", http.StatusOK, []byte(page.Style))
}

// made sends what is made of the farm as it is now.
func (b *Board) made(w http.ResponseWriter, r *http.Request, kind string, make func(m *model, to *ladder.Contact) ([]byte, error)) {
	leave, ok := b.inTurn(w, r)
	if !ok {
		return
	}
	defer leave()
	m, err := b.look(r.Context())
	var data []byte
	if err == nil {
		data, err = make(m, b.as(r.URL.Query().Get("as")))
	}
	switch {
	case err != nil:
		b.fail(w, err)
	case data == nil:
		http.NotFound(w, r)
	default:
		write(w, kind, http.StatusOK, data)
	}
}

const svg = "image/svg+xml"

func (b *Board) season(w http.ResponseWriter, r *http.Request) {
	b.made(w, r, svg, func(m *model, to *ladder.Contact) ([]byte, error) {
		return drawn(notify.SeasonChart(to.Language, m.farm.Name, m.sight.Today, m.week.Shuts))
	})
}

func (b *Board) feed(w http.ResponseWriter, r *http.Request) {
	b.made(w, r, svg, func(m *model, to *ladder.Contact) ([]byte, error) {
		if m.plan == nil {
			return nil, nil
		}
		return drawn(report.FeedPicture(m.sight, *m.plan, report.Voice(m.farm, to.Language)))
	})
}

// paper sends a page to print, which carries its style within.
func (b *Board) paper(make func(m *model, lang string) ([]byte, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		b.made(w, r, "text/html; charset=utf-8", func(m *model, to *ladder.Contact) ([]byte, error) {
			w.Header().Set("Content-Security-Policy", paperPolicy)
			return make(m, to.Language)
		})
	}
}

func recordPage(m *model, lang string) ([]byte, error) {
	return report.RecordHTML(m.farm, record.Year(m.sight, season.YearOf(m.sight.Today, m.farm.Rule.Spring)), lang)
}

func cardPage(m *model, lang string) ([]byte, error) {
	return report.CardHTML(m.farm, m.sight, report.CardYear(m.views), lang)
}

func (b *Board) answered(ctx context.Context, id string) (text string, heard bool) {
	ctx, cancel := context.WithTimeout(ctx, answerWithin)
	defer cancel()
	for {
		text, heard, err := b.answerTo(ctx, id)
		if err != nil || heard {
			return text, heard
		}
		if notify.Wait(ctx, lookAgain) != nil {
			return "", false
		}
	}
}
