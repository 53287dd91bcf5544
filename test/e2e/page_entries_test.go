package e2e

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// A run of pipe is parted, a group of pumps added, and both are removed again: in the file
// too, which keeps its remarks.
func TestAddAndRemove(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press("document.querySelector('#facts-summary')")
	for _, tt := range []struct{ place, add, path string }{
		{"main", "Split the last run in two", "main.runs[1].length"},
		{"branch", "Split the last run in two", "branch.runs[1].length"},
		{"pump", "Add a group of pumps like the last", "pumps[1].count"},
	} {
		group := "#facts-" + tt.place
		b.press("[...document.querySelectorAll('" + group + " button')].find((e) => e.textContent === " +
			quote(tt.add) + ")")
		b.await("two entries of "+tt.place, "document.querySelectorAll('"+group+" .entry').length === 2")
		b.await("the new one among the facts",
			"document.querySelector('"+group+" [data-path=\""+tt.path+"\"]')?.classList.contains('given')")
		b.await("the focus on it", "document.activeElement.textContent.startsWith('Remove')")
		b.answered()
	}
	b.await("both halves as long",
		"['0', '1'].every((i) => document.querySelector(`#facts-main [data-path=\"main.runs[${i}].length\"]`).textContent.includes('1700 ft'))")
	b.run(chromedp.Evaluate("window.scrollTo(0, 0)", nil)) // what the head of the page covers is no target
	b.shot("entries")
	b.axe("entries")
	const text = "JSON.parse(sessionStorage.getItem('seatward.work')).text"
	b.await("remarks and entries in the file",
		text+".includes('# elevations above one datum') && "+text+".includes('count: 1')")
	for _, place := range []string{"pump", "branch"} {
		group := "#facts-" + place
		b.press("[...document.querySelectorAll('" + group +
			" .entry button')].filter((e) => e.textContent.startsWith('Remove')).at(-1)")
		b.await("one entry of "+place, "document.querySelectorAll('"+group+" .entry').length === 1")
		b.answered()
	}
	b.press(query("#m-undo"))
	b.settled()
	b.await("the run is back", "document.querySelectorAll('#facts-branch .entry').length === 2")
}
