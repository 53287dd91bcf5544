package e2e

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// onDrawing presses for the film of a row, which takes the drawing's place.
func (b *tab) onDrawing(valve string) {
	b.t.Helper()
	b.press("[...document.querySelectorAll(" + quote("#rows [data-valve="+quote(valve)+"] button") +
		")].find((e) => e.textContent.trim() === 'Pump stop film')")
	b.answered()
	b.await("the film in the drawing's place", "document.querySelector('#sheet-part .pl-film.on-drawing .pl-station svg') && document.querySelector('#drawing').hidden")
	b.await("its events", "document.querySelector('.pl-head select').options.length > 1")
	b.tripReady()
}

const (
	chipsReady = "document.querySelectorAll('.pl-chip').length > 4"
	chip       = "[...document.querySelectorAll('.pl-chip')].find((e) => e.textContent.startsWith('Flywheel'))"
)

// The film plays on the station's drawing, opens at the row's stop, and a click on an event or
// on a mark goes there.
func TestFilmOnTheDrawing(t *testing.T) {
	for _, s := range []size{{1280, 800}, {768, 1024}, {390, 844}} {
		b := newTab(t, s)
		b.open(serve(t))
		b.onDrawing("swing/6in")
		b.await("the remedies", chipsReady)
		b.run(chromedp.Evaluate("document.querySelector('#sheet-part').scrollIntoView()", nil))
		name := jsNumber(float64(s.w))
		b.shot("stage-begin-" + name)
		b.press("[...document.querySelectorAll('.pl-moment')].find((e) => e.textContent.includes('closes'))")
		b.await("the valve closes", "document.querySelector('.pl-caption').textContent.includes('closes')")
		b.run(chromedp.Evaluate("document.querySelector('#sheet-part').scrollIntoView()", nil))
		b.shot("stage-closes-" + name)
		if over := value[int](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
			t.Errorf("%d px wide: the page is %d px wider", s.w, over)
		}
		b.axe("film on the drawing, " + name)
		b.press(chip)
		b.await("before and after", "document.querySelectorAll('.pl-cure tbody tr').length === 3")
		b.tripReady()
		b.run(chromedp.Evaluate("document.querySelector('.pl-cures').scrollIntoView({block: 'end'})", nil))
		b.shot("stage-cure-" + name)
		b.press(named("Back to the numbers"))
		b.await("the numbers", "!document.querySelector('#drawing').hidden && !document.querySelector('#sheet-part .pl-film')")
	}
}
