package e2e

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// A person who has never seen the page gets an answer, and then one for their own station.
func TestFirstVisit(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	b.open(address)
	b.await("rows of valves", "document.querySelectorAll('#rows > li').length >= 4")
	b.await("the drawing", "document.querySelector('#drawing svg .spot')")
	b.await("what is assumed looks so", "document.querySelector('#drawing .val.assumed .word')")
	if s := value[string](b, "document.querySelector('#verdict .sentence').textContent"); len(s) < 20 {
		t.Errorf("the verdict says %q", s)
	}
	b.shot("first-light")
	b.whole("first-light-whole")
	b.axe("first visit")

	b.press(named("Start my station"))
	b.await("the starters", "document.querySelectorAll('#dialog .card').length >= 4")
	b.shot("chooser")
	b.axe("chooser")
	b.press(named("Station file to fill in, US units"))
	b.settled()
	b.await("the station file on the sheet", "document.querySelector('#m-undo:not(:disabled)')")
	b.shot("starter")
}

// How soon the first answer stands there, which is logged, and that the page is small.
func TestFirstAnswerIsFastAndSmall(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	begun := time.Now()
	b.visit(address)
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
	if kB <= 0 || kB > 300 {
		t.Errorf("the page has %.0f kB as sent; at most 300 are allowed", kB)
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
