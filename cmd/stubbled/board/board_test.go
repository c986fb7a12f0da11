package board

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"stubbled/cmd/stubbled/carriers"
	"stubbled/cmd/stubbled/internal/farmtest"
	"stubbled/cmd/stubbled/report"
	"stubbled/config"
	"stubbled/notify"
	"stubbled/scheduler"
	"stubbled/scheduler/diary"
	"stubbled/scheduler/ladder"
	"stubbled/store"
)

// A farm is an invented one with its board, its database, and who hears its texts.
type farm struct {
	t     testing.TB
	now   time.Time
	store *store.Store
	sched *scheduler.Scheduler
	board *Board
	// courier hands over to nobody.
	courier *notify.Courier
}

const port = "8826"

func newFarm(t testing.TB, text string) *farm {
	t.Helper()
	loaded, err := config.LoadText("farm.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	f := &farm{t: t, now: time.Date(2026, 8, 22, 14, 0, 0, 0, time.UTC)}
	db := filepath.Join(t.TempDir(), "farm.db")
	if f.store, err = store.Open(t.Context(), db, store.Options{RunID: "test", Now: f.now, Farm: store.Farm{Name: loaded.Name}}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.store.Close() })
	f.sched = scheduler.New(scheduler.Options{Store: f.store, Farm: loaded})
	unseen := &report.Account{Out: io.Discard, Zone: loaded.Zone}
	f.courier = notify.NewCourier(notify.CourierOptions{Outbox: f.store, Rules: carriers.Rules(loaded), Sure: func() bool { return true },
		Carriers: []notify.Carrier{unseen.Carrier("console", ladder.Text), unseen.Carrier("console", ladder.Mail)}})
	f.pass()
	f.board = New(Options{
		Farm: func() *config.Farm { return loaded }, DB: db, Now: func() time.Time { return f.now }, Accept: f.accept,
		Health: func() *ladder.Health { return &ladder.Health{OK: true} }, Log: slog.New(slog.DiscardHandler),
	}, port)
	return f
}

func (f *farm) pass() {
	f.t.Helper()
	if _, err := f.sched.Pass(context.Background(), f.now); err != nil {
		f.t.Error(err)
	}
	if f.courier != nil {
		if err := f.courier.Drain(context.Background(), f.now); err != nil {
			f.t.Error(err)
		}
	}
}

func (f *farm) accept(ctx context.Context, in store.In) error {
	err := f.store.Accept(ctx, scheduler.Board, []store.In{in}, "", f.now)
	f.pass()
	return err
}

// texted is a text from a phone.
func (f *farm) texted(who, phone, text string) {
	f.t.Helper()
	f.now = f.now.Add(time.Minute)
	if err := f.store.Accept(f.t.Context(), "sms", []store.In{{ID: f.now.String(), From: phone, Contact: who, Text: text, Sent: f.now}}, "", f.now); err != nil {
		f.t.Fatal(err)
	}
	f.pass()
}

func (f *farm) diary() (all []diary.Fact) {
	f.t.Helper()
	if err := f.store.EachFact(f.t.Context(), 0, func(fact diary.Fact) error { all = append(all, fact); return nil }); err != nil {
		f.t.Fatal(err)
	}
	return all
}

// call is a request as a browser on this machine makes it, changed by a test.
func (f *farm) call(method, path string, form url.Values, change ...func(*http.Request)) (status int, body string) {
	r := httptest.NewRequest(method, "http://127.0.0.1:"+port+path, strings.NewReader(form.Encode()))
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://127.0.0.1:"+port)
	}
	for _, c := range change {
		c(r)
	}
	w := httptest.NewRecorder()
	f.board.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

var tokenField = regexp.MustCompile(`name="token" value="([^"]+)"`)

func (f *farm) token() string {
	f.t.Helper()
	_, page := f.call(http.MethodGet, "/", nil)
	m := tokenField.FindStringSubmatch(page)
	if m == nil {
		f.t.Fatalf("no form: %.400s", page)
	}
	return m[1]
}

func (f *farm) form(who, text string) url.Values {
	return url.Values{"token": {f.token()}, "contact": {who}, "text": {text}}
}

func (f *farm) types(who, text string) (status int, body string) {
	f.t.Helper()
	return f.call(http.MethodPost, "/", f.form(who, text))
}

func TestATextTypedIsAnsweredThereAndWrittenDownAsSaidAtTheMachine(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	status, page := f.types("Ana", "creek 9 8 10")
	if status != http.StatusOK || !strings.Contains(page, "GO Creek Bottom: stay. 9 in (3 plants)") {
		t.Errorf("%d: %.600s", status, page)
	}
	all := f.diary()
	if last := all[len(all)-1]; last.Kind != diary.Reading || last.Source != diary.FromKeyboard || last.By != "Ana" {
		t.Errorf("the diary has %+v", last)
	}
}

func TestWhatIsToBeDoneTodayStandsFirstInTheContactsLanguage(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	f.now = time.Date(2026, 9, 3, 14, 0, 0, 0, time.UTC) // two days after the cutoff, cattle in
	f.pass()
	for who, want := range map[string]string{"Ana": "Day 2: Creek Bottom still grazed", "Luis": "Día 2: todavía hay ganado en Creek Bottom"} {
		_, page := f.call(http.MethodGet, "/?as="+who, nil)
		at := strings.Index(page, want)
		if at < 0 || strings.Index(page, "<h2") > at || at > strings.Index(page, "<form") {
			t.Errorf("%s is not told first: %.1500s", who, page)
		}
	}
}

func TestWhereNobodyKnowsWhetherItFrozeThePageAsks(t *testing.T) {
	f := newFarm(t, strings.Replace(farmtest.Text, "area: 22 acres", "hazard_plants: [johnsongrass], area: 22 acres", 1))
	for at, want := range map[time.Month]bool{time.July: false, time.November: true} {
		f.now = time.Date(2026, at, 3, 14, 0, 0, 0, time.UTC)
		f.pass()
		if _, page := f.call(http.MethodGet, "/?as=Luis", nil); strings.Contains(page, "Conteste: helada o: sin helada (Creek Bottom, Lane)") != want {
			t.Errorf("in %s: %.2500s", at, page)
		}
	}
}

func TestAPageTellsTheWeeksMessagesWithWhyOneWasNotSent(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	f.now = time.Date(2026, 8, 27, 14, 0, 0, 0, time.UTC)
	f.courier = nil // nothing goes out
	f.pass()
	_, page := f.call(http.MethodGet, "/", nil)
	if messages := page[strings.Index(page, `id="messages"`):]; !strings.Contains(messages, "to Ana: waits") {
		t.Errorf("got %.2000s", messages)
	}
	f.now = time.Date(2026, 8, 29, 14, 0, 0, 0, time.UTC)
	f.texted("Luis", "+15555550143", "fuera creek")
	_, page = f.call(http.MethodGet, "/", nil)
	if messages := page[strings.Index(page, `id="messages"`):]; !strings.Contains(messages, "to Ana: not sent, no longer wanted") {
		t.Errorf("got %.2000s", messages)
	}
}

func TestWhatTakesTheContactsOwnPhoneIsRefusedHere(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	before := len(f.diary())
	for _, text := range []string{"stop", "STOP", "unsubscribe", "start", "clear lane", "clear"} {
		for _, who := range []string{"Ana", "Luis", "Ruth"} {
			if status, _ := f.types(who, text); status != http.StatusForbidden {
				t.Errorf("%s: %q is %d", who, text, status)
			}
		}
	}
	if status, _ := f.types("Luis", "parar"); status != http.StatusForbidden {
		t.Errorf("parar is %d", status)
	}
	if outs, err := f.store.OptOuts(t.Context()); err != nil || len(outs) > 0 || len(f.diary()) != before {
		t.Errorf("opted out: %v, %v; %d facts more", outs, err, len(f.diary())-before)
	}
}

// The letter alone would lift it, and whoever stands at the machine is not asked who
// they are.
func TestTheLetterThatLiftsAHoldIsNotTakenHere(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	f.now = time.Date(2026, 9, 20, 14, 0, 0, 0, time.UTC)
	f.texted("Ana", "+15555550142", "off lane")
	f.texted("Ana", "+15555550142", "frost")
	f.texted("Ana", "+15555550142", "clear lane")
	f.types("Ana", "a")
	for _, fact := range f.diary() {
		if fact.Kind == diary.Clear {
			t.Fatal("the hold was lifted from the board")
		}
	}
	f.texted("Ana", "+15555550142", "a")
	if all := f.diary(); all[len(all)-1].Kind != diary.Clear {
		t.Errorf("from her own phone it is not: %+v", all[len(all)-1])
	}
}

func TestNoOtherHostOriginOrMethodComesIn(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	before := len(f.diary())
	header := func(k, v string) func(*http.Request) { return func(r *http.Request) { r.Header.Set(k, v) } }
	host := func(h string) func(*http.Request) { return func(r *http.Request) { r.Host = h } }
	for _, c := range []struct {
		what, method string
		change       func(*http.Request)
	}{
		{"a name that is pointed here", http.MethodGet, host("evil.example:" + port)},
		{"another port", http.MethodGet, host("127.0.0.1:80")},
		{"no port", http.MethodGet, host("localhost")},
		{"a host that begins alike", http.MethodGet, host("127.0.0.1:" + port + ".evil.example")},
		{"a form from elsewhere", http.MethodPost, header("Origin", "http://evil.example")},
		{"a form from another port", http.MethodPost, header("Origin", "http://127.0.0.1:9999")},
		{"a form from nowhere", http.MethodPost, header("Origin", "null")},
		{"a form from a page of another site", http.MethodPost, header("Sec-Fetch-Site", "cross-site")},
		{"a form by another name", http.MethodPost, host("evil.example:" + port)},
		{"PUT", http.MethodPut, func(*http.Request) {}},
		{"DELETE", http.MethodDelete, func(*http.Request) {}},
	} {
		if status, _ := f.call(c.method, "/", f.form("Ana", "creek 9 8 10"), c.change); status < 400 || status > 499 {
			t.Errorf("%s: %d", c.what, status)
		}
	}
	if got := len(f.diary()); got != before {
		t.Errorf("%d facts were written down", got-before)
	}
	if status, _ := f.call(http.MethodGet, "/", nil, host("localhost:"+port)); status != http.StatusOK {
		t.Errorf("by its own name: %d", status)
	}
}

func TestAFormIsGoodOnceAndNotForLong(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	once := f.form("Ana", "creek 9 8 10")
	if status, _ := f.call(http.MethodPost, "/", once); status != http.StatusOK {
		t.Fatalf("first: %d", status)
	}
	before := len(f.diary())
	old := f.form("Ana", "creek 9")
	f.now = f.now.Add(tokenFor + time.Minute)
	bent := f.token()
	for what, token := range map[string]string{
		"twice": once.Get("token"), "too old": old.Get("token"), "none": "", "somebody's own": strings.Repeat("A", len(bent)), "bent": "B" + bent[1:], "cut": bent[:20],
	} {
		if status, _ := f.call(http.MethodPost, "/", url.Values{"token": {token}, "contact": {"Ana"}, "text": {"creek 9"}}); status != http.StatusForbidden {
			t.Errorf("%s: %d", what, status)
		}
	}
	if len(f.diary()) != before {
		t.Error("something was written down")
	}
}

func TestNothingThatIsOnlyLookedAtChangesAnything(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	before := len(f.diary())
	for _, path := range []string{"/?text=off+creek&contact=Ana", "/season.svg", "/feed.svg", "/record", "/page.css", "/?token=" + f.token() + "&contact=Ana&text=creek+9"} {
		for _, method := range []string{http.MethodGet, http.MethodHead} {
			if status, _ := f.call(method, path, nil); status != http.StatusOK {
				t.Errorf("%s %s: %d", method, path, status)
			}
		}
	}
	if waiting, err := f.store.Pending(t.Context()); err != nil || len(waiting) > 0 || len(f.diary()) != before {
		t.Errorf("%v wait, %v", waiting, err)
	}
}

func TestAPageLoadsNothingFromOutsideAndIsInNoFrame(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	for _, path := range []string{"/", "/record", "/nowhere"} {
		r := httptest.NewRequest(http.MethodGet, "http://localhost:"+port+path, nil)
		w := httptest.NewRecorder()
		f.board.Handler().ServeHTTP(w, r)
		for _, want := range []string{"default-src 'none'", "form-action", "frame-ancestors 'none'", "base-uri 'none'"} {
			if p := w.Header().Get("Content-Security-Policy"); !strings.Contains(p, want) || strings.Contains(p, "unsafe") {
				t.Errorf("%s: %q lacks %s", path, p, want)
			}
		}
		if strings.Contains(w.Body.String(), "<script") || regexp.MustCompile(`(src|href)="(https?:)?//`).MatchString(w.Body.String()) {
			t.Errorf("%s loads something", path)
		}
	}
}

func TestANameWithMarkupIsShownAndNotRun(t *testing.T) {
	const nasty = `<img src=x onerror=alert(1)>`
	f := newFarm(t, strings.ReplaceAll(farmtest.Text, "role: owner", `role: owner, email: ruth@example.org`))
	_, page := f.types("Ana", nasty+` creek "><script>alert(2)</script>`)
	if strings.Contains(page, "<img src=x") || strings.Contains(page, "<script") || !strings.Contains(page, "&lt;img src=x") {
		t.Errorf("got %.800s", page)
	}
	if _, page = f.call(http.MethodGet, "/?as="+url.QueryEscape(nasty), nil); strings.Contains(page, "<img src=x") {
		t.Error("what stands in the address is run")
	}
}

func TestWhatIsTooMuchIsRefused(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	for want, form := range map[int]url.Values{
		http.StatusRequestEntityTooLarge: f.form("Ana", strings.Repeat("ñ", mostLetters+1)),
		http.StatusBadRequest:            {"token": {strings.Repeat("x", mostBody+1)}},
	} {
		if status, _ := f.call(http.MethodPost, "/", form); status != want {
			t.Errorf("got %d, want %d", status, want)
		}
	}
	for range mostTyped {
		f.types("Ana", "creek 9")
	}
	if status, _ := f.types("Ana", "creek 9"); status != http.StatusTooManyRequests {
		t.Errorf("after %d in a minute: %d", mostTyped, status)
	}
}

func TestAPanicIsA500AndTheBoardGoesOn(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	whole := f.board.Health
	f.board.Health = func() *ladder.Health { panic("a fault of the program") }
	if status, _ := f.call(http.MethodGet, "/", nil); status != http.StatusInternalServerError {
		t.Errorf("got %d", status)
	}
	f.board.Health = whole
	if status, _ := f.call(http.MethodGet, "/", nil); status != http.StatusOK {
		t.Errorf("afterwards: %d", status)
	}
}

func TestADatabaseThatCannotBeReadIsSaidAndEndsNothing(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	f.board.DB = filepath.Join(t.TempDir(), "none.db")
	if status, _ := f.call(http.MethodGet, "/", nil); status != http.StatusInternalServerError {
		t.Errorf("got %d", status)
	}
}

// served is the board on a port of its own.
func (f *farm) served() string {
	f.t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		f.t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, l, f.board.Options) }()
	f.t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			f.t.Error(err)
		}
	})
	return l.Addr().String()
}

func TestWhoeverOnlyHoldsOnKeepsNobodyOut(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	at := f.served()
	for range 1500 {
		c, err := net.Dial("tcp", at)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprint(c, "GET / HTTP/1.1\r\n") // and no more
	}
	r, err := http.Get("http://" + at + "/")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if page, err := io.ReadAll(r.Body); r.StatusCode != http.StatusOK || err != nil || !strings.Contains(string(page), "Creek Bottom") {
		t.Errorf("got %d, %v", r.StatusCode, err)
	}
}
