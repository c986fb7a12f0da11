package provider

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"stubbled/notify"
	"stubbled/notify/terms"
)

// A text is one that the service lists.
type text struct {
	ID   string `json:"id"`
	From string `json:"from"`
	Text string `json:"text"`
	At   string `json:"at,omitempty"`
	Dir  string `json:"direction,omitempty"`
}

// A mailroom lists texts in pages, as services do.
type mailroom struct {
	*httptest.Server
	mu      sync.Mutex
	texts   []text // oldest first
	newest  bool   // it lists the newest first
	page    int    // items a page
	byMark  bool   // the next page by a mark, not by an address
	queries []url.Values
}

func newMailroom(t testing.TB, texts ...text) *mailroom {
	m := &mailroom{texts: texts, page: 3}
	m.Server = httptest.NewServer(http.HandlerFunc(m.serve))
	t.Cleanup(m.Close)
	return m
}

func (m *mailroom) serve(w http.ResponseWriter, r *http.Request) {
	m.mu.Lock()
	defer m.mu.Unlock()
	q := r.URL.Query()
	m.queries = append(m.queries, q)
	list := m.texts
	for i, one := range m.texts {
		if one.ID == q.Get("after") {
			list = m.texts[i+1:]
		}
	}
	if m.newest {
		list = append([]text(nil), list...)
		for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
			list[i], list[j] = list[j], list[i]
		}
	}
	var from int
	fmt.Sscan(q.Get("page"), &from)
	answer := map[string]any{"data": map[string]any{"messages": list[from:min(from+m.page, len(list))]}}
	if next := from + m.page; next < len(list) {
		answer["next"] = fmt.Sprint(next)
		if !m.byMark {
			q.Set("page", fmt.Sprint(next))
			answer["next"] = r.URL.Path + "?" + q.Encode()
		}
	}
	fmt.Fprint(w, toJSON(answer))
}

func (m *mailroom) describe(change ...func(*terms.Poll)) Options {
	poll := &terms.Poll{URL: m.URL + "/inbox", Next: "next", Cursor: "after", Every: time.Millisecond,
		Paths: terms.Paths{List: "data.messages", ID: "id", From: "from", Text: "text", Sent: "at"}}
	for _, c := range change {
		c(poll)
	}
	return Options{Request: terms.Request{URL: m.URL + "/messages", Fields: []terms.Field{{Name: "to", Value: "{{.To}}"}}}, Poll: poll}
}

func numbered(n int) (out []text) {
	for i := range n {
		out = append(out, text{ID: fmt.Sprintf("m%03d", i), From: ana, Text: fmt.Sprintf("creek %d", i), At: noon.Add(time.Duration(i) * time.Second).Format(time.RFC3339)})
	}
	return out
}

func TestTextsAreFetchedOnceAndInTheirOrder(t *testing.T) {
	for name, change := range map[string]func(*mailroom, *terms.Poll){
		"oldest first, pages by address": func(*mailroom, *terms.Poll) {},
		"newest first":                   func(m *mailroom, _ *terms.Poll) { m.newest = true },
		"pages by a mark":                func(m *mailroom, p *terms.Poll) { m.byMark = true; p.NextParam = "page" },
		"no cursor at all":               func(_ *mailroom, p *terms.Poll) { p.Cursor = "" },
		"a time to look back to":         func(_ *mailroom, p *terms.Poll) { p.Query = []terms.Field{{Name: "since", Value: "{{.Since.Unix}}"}} },
	} {
		t.Run(name, func(t *testing.T) {
			m := newMailroom(t, numbered(8)...)
			o := m.describe()
			change(m, o.Poll)
			p, in := newProvider(t, o), newInbox()
			cursor := ""
			for range 3 {
				next, err := p.poll(t.Context(), cursor, in.accept)
				if err != nil {
					t.Fatal(err)
				}
				cursor = next
				m.mu.Lock()
				m.texts = append(m.texts, text{ID: fmt.Sprintf("n%d", len(m.texts)), From: ana, Text: "off creek", At: noon.Add(time.Hour).Format(time.RFC3339)})
				m.mu.Unlock()
			}
			if len(in.got) != 10 {
				t.Fatalf("heard %d: %+v", len(in.got), in.got)
			}
			for i, g := range in.got[:8] {
				if g.Text != fmt.Sprintf("creek %d", i) || g.ID != fmt.Sprintf("text/m%03d", i) || g.From != ana || !g.Sent.Equal(noon.Add(time.Duration(i)*time.Second)) {
					t.Errorf("%d: %+v", i, g)
				}
			}
			if name == "a time to look back to" && m.queries[0].Get("since") != fmt.Sprint(noon.Add(-24*time.Hour).Unix()) {
				t.Errorf("asked %v", m.queries[0])
			}
		})
	}
}

func TestWhatIsNotRecordedIsAskedForAgain(t *testing.T) {
	m := newMailroom(t, numbered(2)...)
	p, in := newProvider(t, m.describe()), newInbox()
	in.fail = errors.New("disk full")
	cursor, err := p.poll(t.Context(), "", in.accept)
	if cursor != "" || err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("got %q, %v", cursor, err)
	}
	in.fail = nil
	if cursor, err = p.poll(t.Context(), cursor, in.accept); err != nil || cursor != "m001" || len(in.got) != 2 {
		t.Errorf("got %q, %v, %+v", cursor, err, in.got)
	}
}

// A crash between two batches: the cursor moves with the last of them.
func TestTheCursorMovesWithTheLastBatch(t *testing.T) {
	m := newMailroom(t, numbered(120)...)
	m.page = 60
	p, in := newProvider(t, m.describe()), newInbox()
	if _, err := p.poll(t.Context(), "m000", in.accept); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(in.cursors); got != "[m000 m000 m119]" {
		t.Errorf("cursors %s", got)
	}
}

func TestMoreThanCanBeReadAtOnce(t *testing.T) {
	for _, newest := range []bool{false, true} {
		t.Run(fmt.Sprintf("newest first %v", newest), func(t *testing.T) {
			m := newMailroom(t, numbered(20)...)
			m.newest = newest
			p, in := newProvider(t, m.describe(func(p *terms.Poll) { p.MaxPages = 2 })), newInbox()
			cursor := ""
			for range 5 {
				var err error
				if cursor, err = p.poll(t.Context(), cursor, in.accept); err != nil {
					t.Fatal(err)
				}
			}
			if !newest && len(in.got) != 20 {
				t.Errorf("the oldest come first, so all are read in the end; heard %d", len(in.got))
			}
			if newest && cursor != "" {
				t.Errorf("older ones were not read, but the cursor is %q", cursor)
			}
		})
	}
}

func TestServicesThatAnswerOddly(t *testing.T) {
	texts := `{"id":1234567890123456789,"from":"15555550142","text":"creek 9","at":1787400000}`
	for name, c := range map[string]struct {
		answer string
		heard  int
		says   string
	}{
		"a number for an id, seconds for a time": {`{"data":{"messages":[` + texts + `]}}`, 1, ""},
		"nothing new":                            {`{"data":{"messages":[]}}`, 0, ""},
		"null":                                   {`{"data":{"messages":null}}`, 0, ""},
		"one object, not in a list":              {`{"data":{"messages":` + texts + `}}`, 1, ""},
		"things that are no texts":               {`{"data":{"messages":[null,7,"x",[],{},{"id":{},"from":[],"text":null},` + texts + `]}}`, 1, ""},
		"another path":                           {`{"messages":[]}`, 0, "nothing at"},
		"a word":                                 {`"hello"`, 0, "nothing at"},
		"no JSON":                                {`<html>`, 0, "no JSON"},
		"nothing":                                {``, 0, ""},
		"half":                                   {`{"data":{"messages":[` + texts, 0, "no JSON"},
		"a page that leads elsewhere":            {`{"next":"https://evil.example.org/","data":{"messages":[` + texts + `]}}`, 1, "another host"},
		"a page that leads to itself":            {`{"next":"/inbox","data":{"messages":[` + texts + `]}}`, 1, "circle"},
		"deep":                                   {strings.Repeat(`{"data":`, 20000), 0, "no JSON"},
		"two megabytes before it":                {`{"data":{"messages":[{"id":"0","from":"x","text":"` + strings.Repeat("junk", 1<<19) + `"},` + texts + `]}}`, 2, ""},
		"huge":                                   {`{"data":{"messages":[` + texts + strings.Repeat(" ", maxPage) + `]}}`, 0, "larger than"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newService(t, false)
			s.set(func(s *service) { s.Status, s.Answer = 200, c.answer })
			o := (&mailroom{Server: s.Server}).describe()
			p, in := newProvider(t, o), newInbox()
			_, err := p.poll(t.Context(), "", in.accept)
			if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want %q", err, c.says)
			}
			if len(in.got) != c.heard || c.heard > 0 && !slices.ContainsFunc(in.got, func(r notify.Received) bool {
				return r.ID == "text/1234567890123456789" && r.From == ana && r.Sent.Year() == 2026
			}) {
				t.Errorf("heard %d: %.300v", len(in.got), in.got)
			}
		})
	}
}

func TestOnlyWhatCameIn(t *testing.T) {
	m := newMailroom(t, text{ID: "1", From: "+15555550100", Text: "Shut today: Creek", Dir: "out"}, text{ID: "2", From: ana, Text: "off creek", Dir: "in"})
	p, in := newProvider(t, m.describe(func(p *terms.Poll) { p.Only = map[string]string{"direction": "in"} })), newInbox()
	cursor, err := p.poll(t.Context(), "", in.accept)
	if err != nil || len(in.got) != 1 || in.got[0].Text != "off creek" || cursor != "2" {
		t.Errorf("%v %q %+v", err, cursor, in.got)
	}
}

func TestNewsOfOurOwnMessages(t *testing.T) {
	s := newService(t, false)
	p := newProvider(t, describe(s))
	paths := terms.Paths{ID: "event", From: "from", Text: "text", Ref: "id", Envelope: "ref", Status: "status", Error: "code"}
	for name, c := range map[string]struct {
		entry map[string]any
		want  *notify.Report
	}{
		"delivered":            {map[string]any{"id": "abc", "status": "delivered"}, &notify.Report{Ref: "abc", Delivered: true}},
		"ours by our own id":   {map[string]any{"ref": "m-41", "status": "delivered"}, &notify.Report{EnvelopeID: "m-41", Delivered: true}},
		"undelivered":          {map[string]any{"id": "abc", "status": "undelivered", "code": 30003}, &notify.Report{Ref: "abc", Permanent: true, Detail: "the service could not deliver it (undelivered 30003)"}},
		"on its way":           {map[string]any{"id": "abc", "status": "queued"}, nil},
		"a word nobody knows":  {map[string]any{"id": "abc", "status": "zorched"}, nil},
		"of no message at all": {map[string]any{"status": "delivered"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			entry, err := decode([]byte(toJSON(c.entry)))
			if err != nil {
				t.Fatal(err)
			}
			it := p.read(entry, paths)
			if it.skip != (c.want == nil) || c.want != nil && *it.got.Report != *c.want {
				t.Errorf("got %+v, want %+v", it.got.Report, c.want)
			}
		})
	}
}

func TestAServiceThatFailsIsToldOnceAndComesBack(t *testing.T) {
	s := newService(t, false)
	s.set(func(s *service) { s.Status = 401 })
	p := newProvider(t, (&mailroom{Server: s.Server}).describe())
	ctx, cancel := context.WithCancel(t.Context())
	said := make(chan error, 10)
	done := make(chan error)
	go func() { done <- p.Receive(ctx, "", newInbox().accept, func(err error) { said <- err }) }()
	if err := <-said; err == nil || !strings.Contains(err.Error(), "password") {
		t.Errorf("said %v", err)
	}
	for range 3 {
		<-s.asked
	}
	s.set(func(s *service) { s.Status, s.Answer = 200, `{"data":{"messages":[]}}` })
	if err := <-said; err != nil {
		t.Errorf("it is well, but said %v", err)
	}
	cancel()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
	if len(said) > 0 {
		t.Errorf("said more: %v", <-said)
	}
}

func TestTimesAsServicesWriteThem(t *testing.T) {
	want := time.Date(2026, 8, 22, 6, 12, 1, 0, time.UTC)
	for _, text := range []string{"2026-08-22T06:12:01Z", "2026-08-22T01:12:01-05:00", "2026-08-22T06:12:01.000Z", "Sat, 22 Aug 2026 06:12:01 +0000",
		"2026-08-22T01:12:01-0500", fmt.Sprint(want.Unix()), fmt.Sprint(want.UnixMilli()), fmt.Sprintf("%d.0", want.Unix()), "2026-08-22 06:12:01Z"} {
		if got := stamp(text); !got.Equal(want) {
			t.Errorf("%q: got %v", text, got)
		}
	}
	for _, text := range []string{"", "yesterday", "-1", "0", "NaN", "Inf", "1e300", "2026-13-45T00:00:00Z"} {
		if got := stamp(text); !got.IsZero() {
			t.Errorf("%q: got %v", text, got)
		}
	}
}

func FuzzAnswer(f *testing.F) {
	f.Add([]byte(`{"data":{"messages":[{"id":1,"from":"15555550142","text":"creek 9","at":1787400000}]}}`), "data.messages.0.text")
	f.Add([]byte(`[[[]]]`), "0.0.0")
	p, err := New(usual(Options{Request: terms.Request{URL: "https://sms.example.org/", Fields: []terms.Field{{Name: "to", Value: "{{.To}}"}}}}), atNoon)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte, path string) {
		tree, err := decode(data)
		if err != nil {
			return
		}
		word(tree, path)
		entries, _ := list(tree, path)
		for _, e := range append(entries, tree) {
			it := p.read(e, terms.Paths{ID: path, From: path, Text: path, Sent: path, Status: "status", Ref: path})
			if !it.skip && it.got.ID == "" {
				t.Errorf("a text without an id: %+v", it.got)
			}
		}
	})
}
