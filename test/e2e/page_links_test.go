package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A link carries study, revision, valve, stop, moment and units, and opens the same in
// another browser.
func TestLinkToAStudy(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	b.open(address)
	b.saveAs("Linked")
	b.press("[...document.querySelectorAll('#rows > li')][1].querySelector('.draws')")
	b.answered()
	valve := value[string](b, "document.querySelector('#rows > li.on').dataset.valve")
	b.tripReady()
	b.run(chromedp.Evaluate("(() => { const s = document.querySelector('.pl-head select'); s.selectedIndex = (s.selectedIndex + 1) % s.options.length; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil))
	event := value[string](b, "document.querySelector('.pl-head select').value")
	b.await("the stop in the address", "location.hash.includes('event='+"+quote(event)+")")
	b.tripReady()
	link := value[string](b, "location.href")
	for _, part := range []string{"study=", "rev=1", "valve=", "units=US"} {
		if !strings.Contains(link, part) {
			t.Errorf("%s is not in %s", part, link)
		}
	}
	two := newTab(t, desktop)
	two.open(link)
	two.await("the study", "document.querySelector('#station-name').textContent.includes('Linked, revision 1')")
	two.await("the valve", "document.querySelector('#rows > li.on')?.dataset.valve === "+quote(valve))
	two.tripReady()
	two.await("the stop", "document.querySelector('.pl-head select').value === "+quote(event))
}

// Back and forward go through stations and valves that were looked at, with their edits.
func TestBackAndForward(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.edit("levels.outlet", "52 ft")
	first := value[string](b, "document.querySelector('#rows > li.on').dataset.valve")
	b.press("[...document.querySelectorAll('#rows > li')][1].querySelector('.draws')")
	b.answered()
	b.press(query("#m-station"))
	b.press("[...document.querySelectorAll('#dialog .card')].find((e) => e.textContent.includes('booster'))")
	b.answered()
	b.await("the booster", "document.querySelector('#station-name').textContent.includes('booster')")
	b.run(chromedp.Evaluate("history.back()", nil))
	b.await("the station before with its edit", at("levels.outlet")+"?.textContent.includes('52 ft')")
	b.answered()
	b.run(chromedp.Evaluate("history.back()", nil))
	b.await("the valve before", "document.querySelector('#rows > li.on')?.dataset.valve === "+quote(first))
	b.answered()
	b.run(chromedp.Evaluate("history.go(2)", nil))
	b.await("the booster again", "document.querySelector('#station-name').textContent.includes('booster')")
	b.answered()
}

// Two tabs of one browser keep two stations, over a reload of each.
func TestTwoTabsTwoStations(t *testing.T) {
	one := newTab(t, desktop)
	address := serve(t)
	one.open(address)
	one.edit("levels.outlet", "52 ft")
	two := one.beside(desktop)
	two.open(address + "/#example=booster")
	two.await("the booster", "document.querySelector('#station-name').textContent.includes('booster')")
	one.run(chromedp.Reload())
	one.answered()
	one.await("its own station", at("levels.outlet")+"?.textContent.includes('52 ft')")
	two.run(chromedp.Reload())
	two.answered()
	two.await("the booster still", "document.querySelector('#station-name').textContent.includes('booster')")
}

// US and SI are one press away, everything on the drawing follows, and Undo takes it back.
func TestUnitsInTheBar(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.press("[...document.querySelectorAll('#units button')].find((e) => e.textContent === 'SI')")
	b.answered()
	b.await("meters", at("levels.outlet")+".textContent.includes('14.0 m')")
	left := value[[]string](b, `[...document.querySelectorAll('#drawing .v, #drawing svg text')].map((e) => e.textContent).filter((t) => /(\d|^) ?(ft|gpm|in)$/.test(t))`)
	if len(left) > 0 {
		t.Errorf("still in US units on the drawing: %q", left)
	}
	b.shot("si")
	b.axe("SI")
	b.press(query("#m-undo"))
	b.answered()
	b.await("feet", at("levels.outlet")+".textContent.includes('46 ft')")
}

// Any main task begins within 40 stops of the Tab key from the top of the page.
func TestFewTabStops(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.tripReady()
	for _, task := range []struct{ what, skip, js string }{
		{"change a number", "", "e.dataset.path === 'levels.outlet'"},
		{"read why", "Skip to the verdict", "e.matches('#side summary, #side button')"},
		{"open a valve", "Skip to the valves", "e.matches('#rows .row-head')"},
		{"see the film", "Skip to the pump stop", "e.closest('#player')"},
		{"print a paper", "", "e.id === 'm-papers'"},
		{"keep the work", "", "e.id === 'm-studies'"},
	} {
		b.run(chromedp.Evaluate("document.activeElement.blur(); window.scrollTo(0, 0); document.querySelector('.skips a').focus()", nil))
		stops := 0
		for range 8 {
			if task.skip == "" || value[bool](b, "document.activeElement.textContent === "+quote(task.skip)) {
				break
			}
			b.keys(kb.Tab)
			stops++
		}
		if task.skip != "" {
			b.keys(kb.Enter)
		}
		for ; stops <= 40 && !value[bool](b, "(() => { const e = document.activeElement; return !!("+task.js+"); })()"); stops++ {
			b.keys(kb.Tab)
		}
		if stops > 40 {
			t.Errorf("to %s takes more than 40 stops", task.what)
		}
	}
}

// At 400 % of a window of 1280 px nothing is cut off, and nothing covers what is jumped to.
func TestZoomed(t *testing.T) {
	b := newTab(t, size{320, 256})
	address := serve(t)
	b.visit(address)
	b.await("the blanks", "document.querySelector('#call-flow')")
	b.fits("empty at 400 %")
	b.axe("empty at 400 %")
	b.open(address)
	b.tripReady()
	b.fits("at 400 %")
	b.axe("at 400 %")
	b.run(chromedp.EmulateViewport(640, 400))
	b.run(chromedp.Evaluate("document.querySelector('#rows-part').scrollIntoView()", nil))
	if !value[bool](b, "(() => { const r = document.querySelector('#rows-h').getBoundingClientRect(); const hit = document.elementFromPoint(r.x + 4, r.y + r.height / 2); return !hit?.closest('.top'); })()") {
		t.Error("at 200 % the head of the page covers the heading that was jumped to")
	}
}

// Charts have their table, which is copied for a spreadsheet, and are saved as pictures.
func TestTablesAndPictures(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.run(chromedp.Evaluate("navigator.clipboard.writeText = async (t) => { window.copied = t; }", nil))
	b.press("document.querySelector('#rows-more .as-table summary')")
	b.await("the table of the rows", "document.querySelectorAll('#rows-more tbody tr').length >= 4")
	b.press("document.querySelector('#rows-more .as-table button')")
	b.await("rows and columns", "window.copied.split('\\n').length >= 5 && window.copied.split('\\n').every((l) => l.split('\\t').length === 11)")
	b.axe("table of the rows")
	b.run(chromedp.Evaluate("(() => { const f = URL.createObjectURL; URL.createObjectURL = (x) => { window.saved = x; return f.call(URL, x); }; })()", nil))
	b.press("document.querySelector('#sheet-acts .savers button:nth-child(2)')")
	b.await("the drawing as SVG", "window.saved?.type === 'image/svg+xml'")
	svg := value[string](b, "window.saved.text()")
	for _, part := range []string{"<svg", "3400 ft", "Check valve"} {
		if !strings.Contains(svg, part) {
			t.Errorf("the saved drawing has no %q", part)
		}
	}
	b.press("document.querySelector('#sheet-acts .savers button:nth-child(1)')")
	b.await("the drawing as PNG", "window.saved?.type === 'image/png' && window.saved.size > 5000")
}

// A link to a part of the page moves the focus there, and changes neither address nor station.
func TestSkipLinksKeepTheStation(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	before := value[string](b, "location.hash")
	b.run(chromedp.Evaluate("document.querySelector('.skips a[href=\"#rows-part\"]').focus()", nil))
	b.keys(kb.Enter)
	b.await("the focus on the valves", "document.activeElement.id === 'rows-part'")
	if after := value[string](b, "location.hash"); after != before || !value[bool](b, "!!document.querySelector('#verdict .sentence')") {
		t.Errorf("the address was %q and is %q", before, after)
	}
}
