package board

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"golang.org/x/net/websocket"

	"stubbled/cmd/stubbled/internal/farmtest"
)

// A browser is Debian's Chromium, spoken to by the protocol of its own tools
// (chromedevtools.github.io/devtools-protocol).
type browser struct {
	t       testing.TB
	ws      *websocket.Conn
	n       int
	session string
	mu      sync.Mutex
	answers map[int]chan json.RawMessage
	loaded  chan struct{}
	faults  []string // of the console, and of what was refused to load
}

// missing skips a test for the want of something, or fails it where nothing may be
// skipped.
func missing(t testing.TB, what, mend string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not here, and nothing may be skipped: %s", what, mend)
	}
	t.Skipf("skipped: %s is not here; %s", what, mend)
}

func newBrowser(t testing.TB) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		missing(t, "chromium", "'apt-get install chromium' brings it")
	}
	profile, err := os.MkdirTemp("", "browser")
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0", "--remote-allow-origins=*",
		"--no-first-run", "--disable-dev-shm-usage", "--user-data-dir="+profile, "about:blank")
	run.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	errs, err := run.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = syscall.Kill(-run.Process.Pid, syscall.SIGKILL) // with its children, which write into the profile
		_ = run.Wait()
		for n := 0; os.RemoveAll(profile) != nil && n < 50; n++ {
			time.Sleep(100 * time.Millisecond) // what one of them was about to write
		}
	})
	b := &browser{t: t, answers: map[int]chan json.RawMessage{}, loaded: make(chan struct{}, 8)}
	for lines := bufio.NewScanner(errs); lines.Scan(); {
		if at, ok := strings.CutPrefix(lines.Text(), "DevTools listening on "); ok {
			if b.ws, err = websocket.Dial(at, "", "http://127.0.0.1/"); err != nil {
				t.Fatal(err)
			}
			break
		}
	}
	if b.ws == nil {
		t.Fatal("chromium did not start")
	}
	go func() { _, _ = io.Copy(io.Discard, errs) }()
	go b.listen()
	b.page()
	return b
}

// page opens a page to speak to.
func (b *browser) page() {
	var target struct{ TargetID string }
	b.ask("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.ask("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, part := range []string{"Page.enable", "Runtime.enable", "Log.enable", "Network.enable"} {
		b.ask(part, nil, nil)
	}
}

func (b *browser) listen() {
	for {
		var m struct {
			ID     int
			Method string
			Result json.RawMessage
			Error  *struct{ Message string }
			Params json.RawMessage
		}
		if websocket.JSON.Receive(b.ws, &m) != nil {
			return
		}
		b.mu.Lock()
		switch {
		case m.Error != nil:
			b.faults = append(b.faults, m.Error.Message)
			fallthrough
		case m.ID != 0:
			b.answers[m.ID] <- m.Result
		case m.Method == "Page.loadEventFired":
			b.loaded <- struct{}{}
		case m.Method == "Runtime.exceptionThrown", m.Method == "Log.entryAdded", m.Method == "Runtime.consoleAPICalled", m.Method == "Network.loadingFailed":
			b.faults = append(b.faults, m.Method+": "+string(m.Params))
		}
		b.mu.Unlock()
	}
}

func (b *browser) ask(method string, params map[string]any, into any) {
	b.t.Helper()
	b.mu.Lock()
	b.n++
	n, answer := b.n, make(chan json.RawMessage, 1)
	b.answers[n] = answer
	b.mu.Unlock()
	call := map[string]any{"id": n, "method": method, "params": params}
	if b.session != "" {
		call["sessionId"] = b.session
	}
	if err := websocket.JSON.Send(b.ws, call); err != nil {
		b.t.Fatal(err)
	}
	select {
	case got := <-answer:
		if into != nil && json.Unmarshal(got, into) != nil {
			b.t.Fatalf("%s: got %.300s", method, got)
		}
	case <-time.After(30 * time.Second):
		b.t.Fatalf("%s was not answered", method)
	}
}

// wide is how wide the window is, and whether it is dark.
func (b *browser) wide(px int, scheme string) {
	b.ask("Emulation.setDeviceMetricsOverride", map[string]any{"width": px, "height": 800, "deviceScaleFactor": 1, "mobile": px < 600}, nil)
	b.ask("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
}

func (b *browser) open(url string) {
	b.t.Helper()
	b.ask("Page.navigate", map[string]any{"url": url}, nil)
	b.wait()
}

func (b *browser) wait() {
	b.t.Helper()
	select {
	case <-b.loaded:
	case <-time.After(30 * time.Second):
		b.t.Fatal("the page did not load")
	}
}

// run gives what a line of script comes to.
func (b *browser) run(script string) string {
	b.t.Helper()
	var got struct {
		Result           struct{ Value any }
		ExceptionDetails json.RawMessage
	}
	b.ask("Runtime.evaluate", map[string]any{"expression": script, "returnByValue": true, "awaitPromise": true}, &got)
	if got.ExceptionDetails != nil {
		b.t.Fatalf("%.60s: %.600s", script, got.ExceptionDetails)
	}
	return fmt.Sprint(got.Result.Value)
}

// quiet fails where the console said something.
func (b *browser) quiet() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, f := range b.faults {
		b.t.Errorf("the browser says %.400s", f)
	}
	b.faults = nil
}

func TestInABrowserATextTypedIsAnswered(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	at := f.served()
	b := newBrowser(t)
	b.ask("Emulation.setScriptExecutionDisabled", map[string]any{"value": true}, nil)
	b.wide(1920, "light")
	b.open("http://" + at + "/")
	b.run(`document.getElementById("text").focus()`)
	b.ask("Input.insertText", map[string]any{"text": "creek 9 8 10"}, nil)
	for _, kind := range []string{"keyDown", "keyUp"} { // by the keyboard alone
		b.ask("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": "Enter", "text": "\r", "windowsVirtualKeyCode": 13}, nil)
	}
	b.wait()
	if got := b.run(`document.querySelector("[role=status]").innerText`); !strings.Contains(got, "GO Creek Bottom: stay. 9 in") {
		t.Errorf("the answer is %q", got)
	}
	b.quiet()
}

func TestInABrowserNothingScrollsSidewaysAndThePicturesShow(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	at := f.served()
	b := newBrowser(t)
	for _, px := range []int{360, 768, 1920} {
		for _, path := range []string{"/", "/?as=Luis", "/record", "/card"} {
			b.wide(px, "dark")
			b.open("http://" + at + path)
			if over := b.run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`); over != "0" {
				t.Errorf("%s at %d px reaches %s px beyond", path, px, over)
			}
			if got := b.run(`[...document.images].filter(i => !(i.complete && i.naturalWidth > 100)).length`); got != "0" {
				t.Errorf("%s: %s pictures do not show", path, got)
			}
		}
	}
	b.quiet()
}

func TestInABrowserEveryPagePrints(t *testing.T) {
	f := newFarm(t, farmtest.Text)
	at := f.served()
	b := newBrowser(t)
	for _, path := range []string{"/", "/record", "/card"} {
		b.open("http://" + at + path)
		var pdf struct{ Data string }
		b.ask("Page.printToPDF", map[string]any{}, &pdf)
		if data, err := base64.StdEncoding.DecodeString(pdf.Data); err != nil || !strings.HasPrefix(string(data), "%PDF-") || len(data) < 5000 {
			t.Errorf("%s: %d bytes, %v", path, len(data), err)
		}
	}
	b.quiet()
}

func TestInABrowserTheWallCardIsOnePageHoweverManyPaddocks(t *testing.T) {
	b := newBrowser(t)
	for _, n := range []int{6, 16, 32, 60} {
		var more strings.Builder
		for i := range n - 3 {
			fmt.Fprintf(&more, "  - {id: p%d, name: Long Bottom Land %d, area: 20 acres, grass: big bluestem}\n", i, i)
		}
		f := newFarm(t, strings.Replace(farmtest.Text, "herds:\n", more.String()+"herds:\n", 1))
		at := f.served()
		for _, size := range []map[string]any{{"paperWidth": 8.5, "paperHeight": 11}, {"paperWidth": 8.27, "paperHeight": 11.69}} {
			for _, as := range []string{"Ana", "Luis"} {
				b.open("http://" + at + "/card?as=" + as)
				size["preferCSSPageSize"] = false
				var pdf struct{ Data string }
				b.ask("Page.printToPDF", size, &pdf)
				data, _ := base64.StdEncoding.DecodeString(pdf.Data)
				if pages := len(pdfPage.FindAll(data, -1)); pages != 1 {
					t.Errorf("%d paddocks, %s, %v: %d pages", n, as, size, pages)
				}
			}
		}
	}
}

// pdfPage is where a page begins in a PDF as Chromium writes it.
var pdfPage = regexp.MustCompile(`/Type /Page\b`)

// Source: axe-core, the rules of WCAG 2.2 A and AA, from npm: .ci/run brings it.
func TestInABrowserWhoeverHearsThePageFindsTheirWay(t *testing.T) {
	path := os.Getenv("STUBBLED_AXE")
	if path == "" {
		missing(t, "axe-core", "'npm install axe-core' brings it; STUBBLED_AXE is its axe.min.js")
	}
	axe, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f := newFarm(t, farmtest.Text)
	at := f.served()
	b := newBrowser(t)
	f.types("Ana", "creek 9 8 10")
	for _, page := range []string{"/", "/?as=Luis", "/record", "/card"} {
		for _, scheme := range []string{"light", "dark"} {
			b.wide(360, scheme)
			b.open("http://" + at + page)
			b.run(string(axe) + `;0`)
			got := b.run(`axe.run({runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => r.violations.map(v => v.id + ": " + v.nodes.map(n => n.html).join(" | ")).join("\n"))`)
			if got != "" {
				t.Errorf("%s, %s:\n%s", page, scheme, got)
			}
		}
	}
	b.quiet()
}
