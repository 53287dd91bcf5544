package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// fits fails where the page is wider than the window.
func (b *tab) fits(state string) {
	b.t.Helper()
	if over := value[int](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
		wide := value[string](b, "[...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 5).map((e) => e.tagName + '.' + (e.className.baseVal ?? e.className)).join(', ')")
		b.t.Errorf("%s: the page is %d px wider than the window (%s)", state, over, wide)
	}
}

// apart fails where a tag of the drawing covers the valve, or another tag.
func (b *tab) apart(state string) {
	b.t.Helper()
	covered := value[[]string](b, `(() => {
		const box = (e) => e.getBoundingClientRect();
		const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 3 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3;
		const tags = [...document.querySelectorAll('#drawing > .tag')];
		const spot = document.querySelector('#drawing .spot');
		const out = tags.filter((t) => meet(box(t), box(spot))).map((t) => t.getAttribute('aria-label') + ' over the valve');
		tags.forEach((t, i) => tags.slice(i + 1).forEach((o) => meet(box(t), box(o)) && out.push(t.getAttribute('aria-label') + ' over ' + o.getAttribute('aria-label'))));
		return out;
	})()`)
	if len(covered) > 0 {
		b.t.Errorf("%s: on the drawing: %s", state, strings.Join(covered, "; "))
	}
}

// The page stands at every width, and on its drawing nothing covers the valve, however it
// stands in the line.
func TestWidths(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	wide := func(w int64) {
		b.run(chromedp.EmulateViewport(w, 900))
		b.await("the drawing as wide as there is room", "innerWidth === "+jsNumber(float64(w))+
			" && Math.abs(document.querySelector('#drawing svg').viewBox.baseVal.width - document.querySelector('#drawing').clientWidth) < 2")
	}
	for _, position := range []string{"flow up", "horizontal", "flow down"} {
		if position != "flow up" {
			wide(1280) // room for the editor
			b.edit("valve.position", position)
		}
		for _, w := range []int64{360, 390, 640, 768, 860, 930, 960, 1000, 1100, 1280, 1600} {
			wide(w)
			state := position + " at " + jsNumber(float64(w))
			b.fits(state)
			b.apart(state)
		}
	}
}

// States that no other test looks at: zoomed, a first call, two valves, the trip in words,
// a file with an error, in the colors that a system forces, in the dark.
func TestStates(t *testing.T) {
	b := newTab(t, size{640, 450}) // a window of 1280 px at 200 %
	address := serve(t)
	b.open(address)
	b.tripReady()
	look := func(state string) {
		t.Helper()
		b.run(chromedp.Evaluate("window.scrollTo(0, 0)", nil))
		b.fits(state)
		b.whole("state-" + strings.ReplaceAll(state, " ", "-"))
		b.axe(state)
	}
	look("zoom")
	b.run(chromedp.EmulateViewport(1280, 900))
	b.run(chromedp.Evaluate("(() => { const s = document.querySelectorAll('.pl-head select')[1]; s.selectedIndex = 2; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil))
	b.await("two valves", "document.querySelectorAll('.pl-lane').length === 2")
	b.tripReady()
	for _, name := range []string{"What if", "The trip in words"} {
		b.press("[...document.querySelectorAll('.pl-details summary')].find((e) => e.textContent === " + quote(name) +
			")")
	}
	b.press("document.querySelector('#facts-summary')")
	look("two valves in words")
	b.media("forced-colors", "active")
	look("forced colors")
	b.media("prefers-reduced-motion", "reduce")
	b.press("[...document.querySelectorAll('#menu button')].find((e) => e.textContent === 'Dark')")
	look("dark film")
	b.press(query("#m-station"))
	b.press("[...document.querySelectorAll('#dialog .card')].find((e) => e.textContent.includes('two minutes'))")
	b.answered()
	b.tripReady()
	look("first call")
	b.run(chromedp.Evaluate("(() => { const w = JSON.parse(sessionStorage.getItem('seatward.work')); w.text = w.text.replace(/6 in/, '6 inn').replace('gpm', 'gmp'); sessionStorage.setItem('seatward.work', JSON.stringify(w)); })()", nil),
		chromedp.Navigate("about:blank"), chromedp.Navigate(address))
	b.await("the faults of the file", "document.querySelectorAll('#fault li').length > 0")
	b.await("that there is no answer",
		"document.querySelector('#fault').textContent.includes('no answer until it is mended')")
	look("faulty file")
}
