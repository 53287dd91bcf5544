package e2e

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// typingWatch notes each frame over 50 ms with the time of the page's own scripts in it, and what
// changes in the page outside the place where is typed.
const typingWatch = `(() => {
  const seen = (window.typing = { long: [], changes: [], place: null });
  new PerformanceObserver((list) => {
    for (const e of list.getEntries()) {
      const scripts = e.scripts.map((s) => (s.sourceFunctionName || s.invoker) + " " + Math.round(s.duration));
      const drawn = "style and layout " + Math.round(e.startTime + e.duration - e.styleAndLayoutStart);
      seen.long.push([Math.round(e.duration) + " ms", ...scripts, drawn].join(", "));
    }
  }).observe({ type: "long-animation-frame", buffered: true });
  addEventListener("DOMContentLoaded", () =>
    new MutationObserver((all) => {
      for (const m of all) {
        const of = m.target instanceof Element ? m.target : m.target.parentElement;
        if (seen.place && of && !seen.place.contains(of)) seen.changes.push(of.id || of.getAttribute("class") || of.tagName);
      }
    }).observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true }));
})()`

// While somebody types nothing is asked of the server, nothing but the place where is typed is
// drawn anew, and no letter is lost, also where an answer arrives meanwhile. Frames over 50 ms
// are reported; a slow machine has them, and must not fail.
func TestTyping(t *testing.T) {
	b := newTab(t, desktop)
	b.run(chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(typingWatch).Do(ctx)
		return err
	}))
	b.open(serve(t))
	b.tripReady()
	type place struct{ name, within, text string }
	typed := func(p place, still bool) {
		t.Helper()
		b.run(chromedp.Evaluate("(() => { const w = window.typing; w.long.length = w.changes.length = 0; w.place = "+
			fmt.Sprint(map[bool]string{true: "document.activeElement.closest(" + quote(p.within) + ")", false: "null"}[still])+
			"; document.activeElement.select(); })()", nil))
		asked := len(b.asked())
		for _, k := range p.text {
			b.keys(string(k))
		}
		if got := value[string](b, "document.activeElement.value"); got != p.text {
			t.Errorf("%s: typed %q, the field holds %q", p.name, p.text, got)
		}
		long := value[[]string](b, "window.typing.long")
		t.Logf("%s: %d keys, %d frames over 50 ms %q", p.name, len(p.text), len(long), long)
		if !still {
			return
		}
		if more := b.asked()[asked:]; len(more) != 0 {
			t.Errorf("%s: typing asked for %q", p.name, more)
		}
		if c := value[[]string](b, "window.typing.changes"); len(c) > 0 {
			t.Errorf("%s: typing changed %q elsewhere", p.name, c)
		}
	}

	b.press(at("levels.outlet"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	typed(place{"a number on the drawing", ".editor", "forty-six feet and a half, about"}, true)
	b.write("61 ft")
	b.keys(kb.Enter)
	b.press(at("levels.wet_well_low"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	typed(place{"a number while the answer comes", ".editor", "seven and a half feet above the floor"}, false)
	b.keys(kb.Escape)
	b.answered()
	b.tripReady()

	b.press(at("pumps[0].curve"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.press(named("Table and plot"))
	b.await("the grid", "document.querySelector('dialog[open] input')")
	b.run(chromedp.Focus("dialog[open] table input"))
	typed(place{"the grid of a curve", "dialog", "1234.5678"}, true)
}

// Who is faster than the server loses nothing: an editor that is open stays, an edit begun
// before the last one is answered is not lost, and neither is what stands in an editor that is
// left for another.
func TestFasterThanTheServer(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.run(chromedp.Evaluate(`(() => {
		const ask = window.fetch.bind(window);
		window.fetch = async (to, how) => {
			if (String(to).startsWith("/api/edit")) await new Promise((r) => setTimeout(r, 1500));
			return ask(to, how);
		};
	})()`, nil))
	open := func(path string) {
		b.press(at(path))
		b.await("the editor of "+path, "document.activeElement.closest('.editor')?.querySelector('input')?.id === 'edit-"+
			strings.ReplaceAll(path, ".", "-")+"'")
	}
	open("levels.outlet")
	b.write("61 ft")
	b.keys(kb.Enter)
	open("levels.wet_well_low")
	b.write("5.5 ft")
	open("levels.wet_well_high")
	b.write("9.5 ft")
	b.await("the first edit", at("levels.outlet")+".textContent.includes('61 ft')")
	b.await("the second edit", at("levels.wet_well_low")+".textContent.includes('5.5 ft')")
	if got := value[string](b, "document.activeElement.value"); got != "9.5 ft" {
		t.Errorf("the third editor holds %q", got)
	}
	b.keys(kb.Enter)
	b.await("the third edit", at("levels.wet_well_high")+".textContent.includes('9.5 ft')")
	b.await("all three", at("levels.outlet")+".textContent.includes('61 ft') && "+at("levels.wet_well_low")+
		".textContent.includes('5.5 ft')")
	open("levels.wet_well_low")
	b.write("8 gpm")
	open("levels.outlet")
	b.await("the refusal of what was left", "document.querySelector('#toasts').textContent.includes('gpm')")
	b.answered()
}

// Answers that come while somebody types into the blanks take no key and no mark away.
func TestTypingIntoTheBlanks(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.visit(serve(t))
	b.await("six blanks", "document.querySelector('#call-flow')")
	typed := [][2]string{{"flow", "520"}, {"head", "74"}, {"size", "8"}, {"length", "2,900'"}, {"pumps", "3"}}
	for _, f := range typed {
		b.run(chromedp.Evaluate("document.querySelector('#call-"+f[0]+"').focus()", nil))
		b.run(chromedp.Evaluate("document.activeElement.select()", nil))
		for _, k := range f[1] {
			b.keys(string(k))
			b.run(chromedp.Sleep(40 * time.Millisecond)) // as slowly as a quick typist
		}
		b.keys(kb.Enter)
	}
	for i, want := range []string{"520 gpm", "74 ft", "8 in", "2,900'", "3"} {
		b.await(typed[i][1]+" as "+want, "document.querySelector('#call-"+typed[i][0]+"').value === "+quote(want))
	}
}

// asked are the addresses that the page has asked for.
func (b *tab) asked() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.requests)
}
