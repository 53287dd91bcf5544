// Package e2e drives the built program through a browser and reads its papers with other
// programs. It is a module of its own, so that nothing of it goes into the program.
package e2e

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	cdplog "github.com/chromedp/cdproto/log"
)

// Patience for one state of the page, and for a whole test: only a state that never comes
// uses it up. A busy machine may need minutes for the pump stops of every valve.
const (
	atLast  = 25 * time.Minute
	pollGap = 40 * time.Millisecond
)

// soon is shorter where E2E_PATIENCE says so, for who works on a test.
var soon = func() time.Duration {
	if d, err := time.ParseDuration(os.Getenv("E2E_PATIENCE")); err == nil {
		return d
	}
	return 5 * time.Minute
}()

// shots is where pictures of the states of the page go.
const shots = "../../artifacts/page"

var (
	program  string // the binary under test
	chromium string // the browser
)

func TestMain(m *testing.M) {
	code, err := prepare(m)
	if err != nil {
		fmt.Fprintln(os.Stderr, "e2e:", err)
		os.Exit(1)
	}
	os.Exit(code)
}

// prepare builds the program, unless SEATWARD_BIN names one, and finds the browser.
func prepare(m *testing.M) (int, error) {
	dir, err := os.MkdirTemp("", "seatward-e2e-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	if program = os.Getenv("SEATWARD_BIN"); program == "" {
		program = filepath.Join(dir, "seatward")
		build := exec.Command("go", "build", "-trimpath", "-o", program, "./cmd/seatward")
		build.Dir = "../.."
		if out, err := build.CombinedOutput(); err != nil {
			return 0, fmt.Errorf("the program does not build: %w\n%s", err, out)
		}
	}
	if err := os.MkdirAll(shots, 0o755); err != nil {
		return 0, err
	}
	if chromium, err = chromiumPath(); err != nil {
		return 0, err
	}
	return m.Run(), nil
}

func chromiumPath() (string, error) {
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser", "google-chrome"} {
		if name == "" {
			continue
		}
		if p, err := exec.LookPath(name); err == nil {
			return p, nil
		}
	}
	return "", errors.New("no Chromium: sudo apt-get install -y chromium, or set CHROMIUM")
}

// serve starts the program on a free port with a fresh store, and gives its address.
func serve(t *testing.T) string {
	t.Helper()
	address, _ := serveAt(t, "127.0.0.1:0", filepath.Join(t.TempDir(), "studies.db"))
	return address
}

// serveAt starts the program there with that store, and gives its address and the program.
func serveAt(t *testing.T, listen, store string, more ...string) (string, *os.Process) {
	t.Helper()
	cmd := exec.Command(program, append([]string{"serve", "--listen", listen, "--store", store}, more...)...)
	out, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = cmd.Process.Signal(os.Interrupt)
		_ = cmd.Wait()
	})
	found := make(chan string, 1)
	go func() {
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if _, rest, ok := strings.Cut(lines.Text(), "the page is "); ok {
				address, _, _ := strings.Cut(rest, ";")
				found <- strings.TrimSpace(address)
			}
		}
	}()
	select {
	case a := <-found:
		return a, cmd.Process
	case <-time.After(soon):
		t.Fatal("the server told no address")
		return "", nil
	}
}

// tab is a tab of the browser with what it asked for and what went wrong in it.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu       sync.Mutex
	requests []string
	answers  map[string]int64 // status by address
	faults   []string
	unheard  string // part of the text of faults that the test brings about; "" for none
	bytes    float64
}

// size of the window, in px.
type size struct{ w, h int64 }

var (
	desktop = size{1440, 900}
	phone   = size{390, 844}
)

// newTab starts a browser with a profile of its own, and fails the test on any script error.
func newTab(t *testing.T, s size) *tab {
	t.Helper()
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox,
		chromedp.Flag("lang", "en-US"), chromedp.Flag("force-color-profile", "srgb"))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), flags...)
	t.Cleanup(stop)
	// The client's log tells of protocol events that it does not know; that is no fault of ours.
	return openTab(t, alloc, s, chromedp.WithErrorf(func(string, ...any) {}))
}

// beside opens another tab of the same profile.
func (b *tab) beside(s size) *tab {
	b.t.Helper()
	return openTab(b.t, b.ctx, s)
}

func openTab(t *testing.T, parent context.Context, s size, how ...chromedp.ContextOption) *tab {
	t.Helper()
	ctx, end := chromedp.NewContext(parent, how...)
	if err := chromedp.Run(ctx); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	ctx, stop := context.WithTimeout(ctx, atLast)
	b := &tab{t: t, ctx: ctx, answers: map[string]int64{}}
	chromedp.ListenTarget(ctx, b.note)
	b.run(network.Enable(), cdplog.Enable(), runtime.Enable(), chromedp.EmulateViewport(s.w, s.h))
	b.media("prefers-reduced-motion", "reduce")
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, f := range b.faults {
			t.Errorf("the page says: %s", f)
		}
		stop()
		end()
	})
	return b
}

func (b *tab) note(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, ev.Request.URL)
	case *network.EventResponseReceived:
		b.answers[ev.Response.URL] = ev.Response.Status
	case *network.EventLoadingFinished:
		b.bytes += ev.EncodedDataLength
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, ev.ExceptionDetails.Error())
	case *cdplog.EventEntryAdded:
		// A refused edit is a 4xx, which the browser logs; the page handles it.
		if e := ev.Entry; e.Level == cdplog.LevelError &&
			!strings.Contains(e.Text, "the server responded with a status of 4") &&
			(b.unheard == "" || !strings.Contains(e.Text, b.unheard)) {
			b.faults = append(b.faults, e.Text+" "+e.URL)
		}
	}
}

// outside are requests that left this machine.
func (b *tab) outside() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []string
	for _, r := range b.requests {
		u, err := url.Parse(r)
		if err == nil && (u.Scheme == "data" || u.Scheme == "blob" || u.Scheme == "about" ||
			u.Hostname() == "127.0.0.1") {
			continue
		}
		out = append(out, r)
	}
	return out
}

func (b *tab) run(actions ...chromedp.Action) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, soon)
	defer stop()
	if err := chromedp.Run(ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// media sets a preference that style sheets ask for.
func (b *tab) media(name, value string) {
	b.t.Helper()
	b.run(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: name, Value: value}}))
}

// value is what an expression gives.
func value[T any](b *tab, js string) T {
	b.t.Helper()
	var out T
	b.run(chromedp.Evaluate(js, &out, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	return out
}

// await waits until the expression is true.
func (b *tab) await(what, js string) {
	b.t.Helper()
	for until := time.Now().Add(soon); ; time.Sleep(pollGap) {
		if value[bool](b, "!!("+js+")") {
			return
		}
		if time.Now().After(until) {
			b.shot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
			b.t.Fatalf("this did not come: %s (%s); the page shows:\n%s", what, js,
				value[string](b, "document.body.innerText.slice(0, 3000)"))
		}
	}
}

func quote(s string) string {
	out, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(out)
}

// query is the expression for the first element of the selector that is seen.
func query(sel string) string {
	return "[...document.querySelectorAll(" + quote(sel) + ")].find((e) => e.getClientRects().length > 0)"
}

// named is the expression for a button that is seen by what stands on it.
func named(text string) string {
	return "[...document.querySelectorAll('button, a.button, summary')].find((e) => e.getClientRects().length > 0 && e.textContent.trim().startsWith(" + quote(text) + "))"
}

// press clicks with the mouse in the middle of the element, as a person would.
func (b *tab) press(element string) {
	b.t.Helper()
	b.await("something to press: "+element, element)
	type spot struct{ X, Y float64 }
	js := "(() => { const e = " + element +
		"; e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); " +
		"const x = r.x + Math.min(r.width / 2, 60), y = r.y + r.height / 2; const hit = document.elementFromPoint(x, y); " +
		"return e.contains(hit) || hit?.contains(e) ? {X: x, Y: y} : {X: -1, Y: -1}; })()"
	at := value[spot](b, js)
	if at.X < 0 {
		b.shot("covered")
		b.t.Fatalf("something covers %s", element)
	}
	b.run(chromedp.MouseClickXY(at.X, at.Y))
}

// keys sends keys to what has the focus.
func (b *tab) keys(k string, opts ...chromedp.KeyOption) {
	b.t.Helper()
	b.run(chromedp.KeyEvent(k, opts...))
}

// write replaces what stands in the field that has the focus.
func (b *tab) write(text string) {
	b.t.Helper()
	b.run(chromedp.Evaluate("document.activeElement.select()", nil), chromedp.KeyEvent(text))
}

// layout is the place of the example that most tests begin with.
const layout = "/#example=layout"

// open goes to the page with the example of a layout, or where the address says, and waits
// for the answer.
func (b *tab) open(address string) {
	b.t.Helper()
	if !strings.Contains(address, "#") {
		address += layout
	}
	b.visit(address)
	b.answered()
}

// visit goes to the page.
func (b *tab) visit(address string) {
	b.t.Helper()
	b.run(chromedp.Navigate(address))
	// The page is left before the server ends, which is kept apart from a server that fails.
	b.t.Cleanup(func() { b.run(chromedp.Navigate("about:blank")) })
}

// answered waits until nothing is being worked out and the last verdict stands there: that
// of all valves run through, where they can be.
func (b *tab) answered() {
	b.t.Helper()
	b.await("the answer", "document.querySelector('#verdict .sentence') && "+settledNow)
}

// settled waits until nothing is being worked out.
func (b *tab) settled() {
	b.t.Helper()
	b.await("the end of the work", settledNow)
}

const settledNow = "!document.body.hasAttribute('data-busy') && !document.querySelector('#all-runs').hasAttribute('data-coming')"

// shot keeps a picture of the page for people to look at.
func (b *tab) shot(name string) {
	b.t.Helper()
	var png []byte
	b.run(chromedp.CaptureScreenshot(&png))
	b.keep(name+".png", png)
}

// whole keeps a picture of the page down to its foot.
func (b *tab) whole(name string) {
	b.t.Helper()
	var png []byte
	b.run(chromedp.FullScreenshot(&png, 100))
	b.keep(name+".png", png)
}

func (b *tab) keep(name string, data []byte) {
	b.t.Helper()
	if err := os.WriteFile(filepath.Join(shots, name), data, 0o644); err != nil {
		b.t.Error(err)
	}
}

// axe holds the page as it stands to the rules of WCAG 2.2 AA that a program can check.
func (b *tab) axe(state string) {
	b.t.Helper()
	script, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		b.t.Fatal("axe-core is missing: npm ci in test/e2e, or make e2e: ", err)
	}
	type violation struct {
		ID, Help string
		Nodes    []struct {
			HTML           string
			FailureSummary string
		}
	}
	var found []violation
	b.run(chromedp.Evaluate(string(script)+"; true", nil), chromedp.Evaluate(
		"axe.run(document, {runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}).then((r) => r.violations.map((v) => ({ID: v.id, Help: v.help, Nodes: v.nodes.slice(0, 3).map((n) => ({HTML: n.html, FailureSummary: n.failureSummary}))})))",
		&found, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	for _, v := range found {
		b.t.Errorf("%s: %s (%s)", state, v.Help, v.ID)
		for _, n := range v.Nodes {
			b.t.Logf("  %.300s\n  %s", n.HTML, n.FailureSummary)
		}
	}
}

// jsNumber writes a number as the page's language has it.
func jsNumber(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
