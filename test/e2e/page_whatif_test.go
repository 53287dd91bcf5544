package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const (
	result  = "document.querySelector('.pl-result').textContent"
	openIf  = "[...document.querySelectorAll('.pl-details summary')].find((e) => e.textContent === 'What if')"
	goBack  = "[...document.querySelectorAll('.pl-whatif button')].find((e) => e.textContent.startsWith('Back'))"
	ballRow = "[...document.querySelectorAll('#rows [data-valve=\"ball-cage/6in/sinking\"] button')].find((e) => e.textContent.trim() === 'Pump stop film')"
)

// slider is the expression for the slider whose label has the words.
func slider(words string) string {
	return "[...document.querySelectorAll('.pl-slider')].find((e) => e.querySelector('label').textContent.includes(" +
		quote(words) + "))?.querySelector('input')"
}

// ballStops opens the what-ifs of a ball check.
func (b *tab) ballStops() {
	b.t.Helper()
	b.press("[...document.querySelectorAll('#rows [data-valve=\"ball-cage/6in/sinking\"] .row-head')][0]")
	b.press(ballRow)
	b.await("its name over the film", "document.querySelector('.pl-name')?.textContent.includes('sinking ball')")
	b.tripReady()
	b.press(openIf)
	b.await("sliders", "document.querySelectorAll('.pl-slider input').length > 2")
}

// Every slider runs the stop again while it is dragged, and by the keys; it needs no edit
// of the file, and going back gives what was there.
func TestEverySlider(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.ballStops()
	as := value[string](b, result)
	const event = "document.querySelector('.pl-head select')"
	for _, words := range []string{
		"density of the ball", "elevation of the outlet", "inertia", "wave speed",
		"flywheel", "ramp",
	} {
		if words == "ramp" { // normal stops alone follow it
			b.run(chromedp.Evaluate("(() => { const s = "+event+
				"; s.value = [...s.options].find((o) => o.value.startsWith('stop')).value; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil))
			b.tripReady()
			as = value[string](b, result)
		}
		b.await("a slider for the "+words, slider(words))
		id := "#" + value[string](b, slider(words)+".id")
		b.run(chromedp.Evaluate("("+slider(words)+").scrollIntoView({block: 'center'})", nil))
		drag := slide(id, 0.5, 0.8).(chromedp.Tasks)
		b.run(drag[:len(drag)-1]) // the hand is still on it
		b.await("another run while the "+words+" is dragged", result+" !== "+quote(as))
		if busy := value[string](b, "document.querySelector('.pl-busy').textContent"); busy != "" {
			t.Errorf("%s: a long run began before the hand let go", words)
		}
		b.run(drag[len(drag)-1])
		b.tripReady()
		if words != "flywheel" && words != "ramp" {
			b.await("what was tried, in words",
				"document.querySelector('.pl-tried')?.textContent.includes("+quote(words)+")")
		}
		b.press(goBack)
		b.await("the run as it is, after the "+words, result+" === "+quote(as))
		b.tripReady()
		b.run(chromedp.Focus(id))
		said := value[string](b, "document.activeElement.getAttribute('aria-valuetext')")
		b.keys(kb.PageUp)
		b.keys(kb.PageUp)
		b.await("another number by keys, of the "+words,
			"document.activeElement.getAttribute('aria-valuetext') !== "+quote(said))
		b.await("another run by keys, of the "+words, result+" !== "+quote(as))
		b.tripReady()
		b.press(goBack)
		b.await("the run as it is again", result+" === "+quote(as))
		b.tripReady()
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, r := range b.requests {
		if strings.HasSuffix(r, "/api/edit") {
			t.Error("a slider has edited the station file")
		}
	}
}

// Another size or variant and another position are tried beside the sliders. The ball comes in
// two variants here; the other families in the pipe's size alone.
func TestSizeAndPositionTried(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.ballStops()
	for _, which := range []string{"size", "position"} {
		as := value[string](b, result)
		sel := "[...document.querySelectorAll('.pl-choices .pl-choice')].find((e) => e.textContent.startsWith(" +
			quote(which) + ")).querySelector('select')"
		b.run(chromedp.Evaluate("(() => { const s = "+sel+
			"; s.selectedIndex = (s.selectedIndex + 1) % s.options.length; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil))
		b.await("another run for another "+which, result+" !== "+quote(as))
		b.tripReady()
		b.press(goBack)
		b.await("back", result+" === "+quote(as))
		b.tripReady()
	}
}
