package e2e

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A person who has never seen the page finds it empty, writes what the caller says, and has
// an answer from the first number on; nothing that was not written is called given.
func TestFirstVisit(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.visit(serve(t))
	b.await("six blanks and where else to begin",
		"document.querySelector('#call-flow') && document.querySelectorAll('#guide button').length >= 4")
	b.shot("empty")
	b.axe("empty")
	b.run(chromedp.Evaluate("document.querySelector('#call-liquid').focus()", nil))
	b.run(pickValue("#call-liquid", "raw sewage"))
	b.await("no answer from words alone", "!document.querySelector('#verdict .sentence') && "+settledNow)
	b.fill("flow", "450")
	b.answered()
	b.await("the number as it was meant", "document.querySelector('#call-flow').value === '450 gpm'")
	b.await("the liquid kept", "document.querySelector('#call-liquid').value === 'raw sewage'")
	given := value[[]string](b, `import("/page/state.js").then((m) => m.state.sheet.fields.filter((f) => f.origin === "given").map((f) => f.path).sort())`)
	if got := strings.Join(given, " "); got != "duty.flow fluid.kind station units" {
		t.Errorf("called given: %s", got)
	}
	b.await("two pumps, assumed", "document.querySelector('#call-pumps').placeholder === '≈ 2' && "+
		at("pumps[0].count")+".classList.contains('assumed')")
	b.shot("first-number")
	b.axe("first number")
	for _, f := range [][2]string{{"pumps", "2"}, {"head", "60"}, {"size", "6 in"}, {"length", "3400 ft"}} {
		b.fill(f[0], f[1])
		b.settled()
	}
	b.run(pickValue("#call-position", "flow up"))
	b.answered()
	b.await("the static head on the drawing", at("duty.static_head"))
	b.shot("first-call")
	b.inView("the verdict", "#verdict .sentence")
	b.inView("the first row", "#rows > li")
	b.inView("the drawing", "#drawing svg .spot")
	for range 40 {
		if value[bool](b, "document.querySelector('#m-undo').disabled") {
			break
		}
		b.press(query("#m-undo"))
		b.settled()
	}
	b.await("empty again", "document.querySelector('#guide h2')?.getClientRects().length > 0 && !document.querySelector('#verdict .sentence')")
}

// fill writes into a blank of the first call.
func (b *tab) fill(id, text string) {
	b.t.Helper()
	b.press("document.querySelector('#call-" + id + "')")
	b.write(text)
	b.keys(kb.Enter)
}

// pickValue chooses in a list.
func pickValue(sel, v string) chromedp.Action {
	return chromedp.Evaluate("(() => { const s = document.querySelector("+quote(sel)+"); s.value = "+quote(v)+
		"; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil)
}

// inView fails where the element is not seen in the window as it stands.
func (b *tab) inView(what, sel string) {
	b.t.Helper()
	b.run(chromedp.Evaluate("window.scrollTo(0, 0)", nil))
	if !value[bool](b, "(() => { const r = document.querySelector("+quote(sel)+").getBoundingClientRect(); return r.top >= 0 && r.top < innerHeight - 40 && r.bottom <= innerHeight + 60 && r.left >= 0 && r.right <= innerWidth; })()") {
		b.t.Errorf("%s is not in the first screen", what)
	}
}

// Where a station may come from.
func TestChooser(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press(query("#m-station"))
	b.await("the examples", "document.querySelectorAll('#dialog .card').length >= 4")
	names := value[[]string](b, "[...document.querySelectorAll('#dialog .card strong')].map((e) => e.textContent)")
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] {
			t.Errorf("two cards are called %q", n)
		}
		seen[n] = true
	}
	b.shot("chooser")
	b.axe("chooser")
	b.press(named("Empty sheet"))
	b.await("an empty sheet", "document.body.hasAttribute('data-blank') && document.activeElement.id === 'call-liquid'")
	b.press(query("#m-undo"))
	b.answered()
	b.await("the station before", at("levels.outlet")+".textContent.includes('46 ft')")
}

// How soon the first answer stands there, which is logged, and that the page is small.
func TestFirstAnswerIsFastAndSmall(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	begun := time.Now()
	b.visit(address + layout)
	b.await("the first verdict", "document.querySelector('#verdict .sentence')")
	took := time.Since(begun)
	b.tripReady()
	painted := value[float64](b, "performance.getEntriesByName('first-contentful-paint')[0].startTime")
	kB := value[float64](b, "performance.getEntriesByType('resource').filter((e) => e.name.includes('/page/')).reduce((s, e) => s + e.encodedBodySize, 0) / 1000")
	b.mu.Lock()
	var page int
	for _, r := range b.requests {
		if strings.Contains(r, "/page/") {
			page++
		}
	}
	bytes := b.bytes
	b.mu.Unlock()
	t.Logf("first paint %.0f ms after the address was opened", painted)
	t.Logf("answered %v after the address was opened; %d files of the page; %.0f kB in all, answers included",
		took.Round(time.Millisecond), page, bytes/1000)
	t.Logf("files of the page: %.0f kB as sent", kB)
	if kB <= 0 || kB > 350 {
		t.Errorf("the page has %.0f kB as sent; at most 350 are allowed", kB)
	}
}

// Nothing that the page does asks anyone but the program.
func TestNothingLeavesTheMachine(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press("document.querySelector('#rows .row-head')")
	b.press(query(".sources .num"))
	b.await("the calculation", "document.querySelector('#explain-body .ex-value')")
	b.keys("\x1b")
	b.press(query("#m-papers"))
	b.await("the papers", "document.querySelector('#p-kind')")
	if out := b.outside(); len(out) > 0 {
		t.Errorf("requests to elsewhere: %v", out)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.requests) < 10 {
		t.Errorf("only %d requests were seen, so this proves nothing", len(b.requests))
	}
}

// The page on a dark screen, and on paper.
func TestDarkRoomAndPaper(t *testing.T) {
	b := newTab(t, desktop)
	b.media("prefers-color-scheme", "dark")
	b.open(serve(t))
	b.shot("first-dark")
	b.axe("dark")
	b.press(query("#m-theme"))
	b.await("light colors", "document.documentElement.dataset.theme === 'light'")
	b.press(query("#m-theme"))
	b.await("dark colors", "document.documentElement.dataset.theme === 'dark'")
	b.run(chromedp.Evaluate("addEventListener('beforeprint', () => { window.onPaper = !!document.querySelector('#drawing > .strip'); })", nil))
	pdf := b.printed()
	b.await("the numbers under the drawing, on paper", "window.onPaper")
	b.await("the numbers on the drawing again", "document.querySelector('#drawing > .tag')")
	b.keep("print.pdf", pdf)
	if !strings.HasPrefix(string(pdf), "%PDF") || len(pdf) < 20_000 {
		t.Errorf("the print has %d bytes", len(pdf))
	}
}
