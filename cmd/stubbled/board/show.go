package board

import (
	"context"
	"net/http"

	"stubbled/cmd/stubbled/report"
	"stubbled/notify"
	"stubbled/notify/page"
	"stubbled/notify/picture"
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
	b.made(w, r, html, status, func(m *model) ([]byte, error) {
		p := m.page(as, b.Now())
		p.Token = b.tokens.fresh(b.Now())
		also(&p)
		return p.HTML(report.Voice(b.Farm(), as.Language))
	})
}

func write(w http.ResponseWriter, kind string, status int, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(data) // who asked has gone
}

func (b *Board) style(w http.ResponseWriter, _ *http.Request) {
	write(w, "text/css; charset=utf-8", http.StatusOK, []byte(page.Style))
}

// made sends what is made of the farm as it is now; there is no such page where that is
// nothing.
func (b *Board) made(w http.ResponseWriter, r *http.Request, kind string, status int, of func(*model) ([]byte, error)) {
	leave, ok := b.inTurn(w, r)
	if !ok {
		return
	}
	defer leave()
	m, err := b.look(r.Context())
	var data []byte
	if err == nil {
		data, err = of(m)
	}
	switch {
	case err != nil:
		b.Log.Warn("the board could not be shown", "err", err)
		http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
	case data == nil:
		http.NotFound(w, r)
	default:
		write(w, kind, status, data)
	}
}

// What is sent.
const (
	html = "text/html; charset=utf-8"
	svg  = "image/svg+xml"
)

// language is that of whose page it is.
func (b *Board) language(r *http.Request) string { return b.as(r.URL.Query().Get("as")).Language }

func (b *Board) season(w http.ResponseWriter, r *http.Request) {
	b.made(w, r, svg, http.StatusOK, func(m *model) ([]byte, error) {
		return notify.SeasonChart(b.language(r), m.farm.Name, m.sight.Today, m.week.Shuts).In(picture.SVG)
	})
}

func (b *Board) feed(w http.ResponseWriter, r *http.Request) {
	b.made(w, r, svg, http.StatusOK, func(m *model) ([]byte, error) {
		if m.plan == nil {
			return nil, nil
		}
		return report.FeedPicture(m.sight, *m.plan, report.Voice(m.farm, b.language(r))).In(picture.SVG)
	})
}

// paper sends a page to print, which carries its style within.
func (b *Board) paper(page func(m *model, lang string) ([]byte, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		b.made(w, r, html, http.StatusOK, func(m *model) ([]byte, error) {
			w.Header().Set("Content-Security-Policy", paperPolicy)
			return page(m, b.language(r))
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
		if text, heard, err := b.answerTo(ctx, id); err != nil || heard {
			return text, heard
		}
		if notify.Wait(ctx, lookAgain) != nil {
			return "", false
		}
	}
}
