package e2e

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// slide moves a slider as a person would: many small steps, each with its event.
func slide(sel string, from, to float64) chromedp.Action {
	const steps = 20
	var all chromedp.Tasks
	for i := range steps + 1 {
		share := from + (to-from)*float64(i)/steps
		all = append(all, chromedp.Evaluate("(() => { const s = document.querySelector("+quote(sel)+
			"); const lo = Number(s.min), hi = Number(s.max); s.value = String(lo + (hi - lo) * "+jsNumber(share)+
			"); s.dispatchEvent(new Event('input', {bubbles: true})); })()", nil), chromedp.Sleep(30*time.Millisecond))
	}
	return append(all, chromedp.Evaluate("document.querySelector("+quote(sel)+
		").dispatchEvent(new Event('change', {bubbles: true}))", nil))
}

// tripReady waits for a film that is whole.
func (b *tab) tripReady() {
	b.t.Helper()
	b.await("the film of the pump stop",
		"document.querySelector('.pl-body') && !document.querySelector('.pl-body').hidden && document.querySelector('.pl-busy').textContent === ''")
}

const clock = "document.querySelector('.pl-clock').textContent"

// The pump stop is looked at by scrubbing, stepping and its moments; the readings follow.
func TestPumpStop(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.tripReady()
	b.run(chromedp.Evaluate("document.querySelector('#player-part').scrollIntoView()", nil))
	b.shot("trip-begin")
	b.axe("pump stop")
	before := value[string](b, "document.querySelector('.pl-now').textContent")
	b.run(slide(".pl-scrub", 0, 0.5))
	b.await("other readings", "document.querySelector('.pl-now').textContent !== "+quote(before))
	at := value[string](b, clock)
	b.run(chromedp.Focus(".pl-stage"))
	b.keys(kb.ArrowRight)
	b.await("one step on", clock+" !== "+quote(at))
	b.keys(kb.Home)
	b.await("the beginning", "Number.parseFloat("+clock+") === 0")
	b.press("[...document.querySelectorAll('.pl-moment')].find((e) => e.textContent.includes('closes'))")
	b.await("the valve closes", "document.querySelector('.pl-caption').textContent.includes('closes')")
	b.shot("trip-seats")
}

// What if: a flywheel is dragged, and the water runs back more slowly.
func TestWhatIf(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.tripReady()
	b.press("[...document.querySelectorAll('.pl-details summary')].find((e) => e.textContent === 'What if')")
	b.await("sliders", "document.querySelectorAll('.pl-slider input').length > 2")
	wheel := "#" + value[string](b,
		"[...document.querySelectorAll('.pl-slider')].find((e) => e.textContent.toLowerCase().includes('flywheel')).querySelector('input').id")
	b.run(slide(wheel, 0, 0.8))
	b.await("what it does", "document.querySelector('.pl-result').textContent.length > 10")
	b.tripReady()
	b.run(chromedp.Evaluate("document.querySelector('#player-part').scrollIntoView()", nil))
	b.shot("what-if")
	b.axe("what if")
}

// The way of somebody who has never seen it: a station of their own, the valve for it, one
// pump that stops and the ball that slams, the remedy, the paper. Its pictures are
// the film strip of docs/workbench.md.
func TestWalk(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.shot("walk-1-station")
	b.press(at("levels.outlet"))
	b.write("45 ft")
	b.shot("walk-2-edit")
	b.keys(kb.Enter)
	b.await("the new number", at("levels.outlet")+".textContent.includes('45 ft')")
	b.answered()
	b.run(chromedp.Evaluate("document.querySelector('#verdict-part').scrollIntoView()", nil))
	b.shot("walk-3-answer")
	b.press("[...document.querySelectorAll('#rows .row-head')].find((e) => e.textContent.includes('sinking ball'))")
	b.await("why not", "document.querySelector('#rows .finding')")
	b.shot("walk-4-why-not")
	b.press("[...document.querySelectorAll('#rows [data-valve=\"ball-cage/6in/sinking\"] button')].find((e) => e.textContent.trim() === 'Pump stop film')")
	b.await("its name over the film", "document.querySelector('.pl-name').textContent.includes('sinking ball')")
	b.tripReady()
	b.await("it is heard", "/: (audible|harmful)/.test(document.querySelector('.pl-words').textContent)")
	b.press("[...document.querySelectorAll('.pl-moment')].find((e) => e.textContent.includes('closes'))")
	b.run(chromedp.Evaluate("document.querySelector('.pl-film').scrollIntoView()", nil))
	b.shot("walk-5-slam")
	b.press("[...document.querySelectorAll('.pl-details summary')].find((e) => e.textContent === 'What if')")
	wheel := "#" + value[string](b,
		"[...document.querySelectorAll('.pl-slider')].find((e) => e.textContent.toLowerCase().includes('flywheel')).querySelector('input').id")
	b.run(slide(wheel, 0, 0.8))
	b.await("what it does", "document.querySelector('.pl-result').textContent.includes('(quiet)')")
	b.tripReady()
	b.run(chromedp.Evaluate("document.querySelector('.pl-film').scrollIntoView()", nil))
	b.shot("walk-6-remedy")
	b.run(chromedp.Evaluate("window.scrollTo(0, 0)", nil))
	b.press(query("#m-papers"))
	b.await("the papers", "document.querySelector('#dialog[open] select')")
	b.await("a preview", "document.querySelector('#dialog iframe')")
	b.run(chromedp.Sleep(4 * time.Second))
	b.shot("walk-7-paper")
}
