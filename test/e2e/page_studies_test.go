package e2e

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// edit changes a fact on the drawing.
func (b *tab) edit(path, text string) {
	b.t.Helper()
	b.press(at(path))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write(text)
	b.keys(kb.Enter)
	b.await(text+" on the drawing", at(path)+"?.textContent.includes("+quote(text)+")")
	b.await("the editor is gone", "!document.querySelector('.editor')")
	b.answered()
}

// saveAs keeps the sheet as a study.
func (b *tab) saveAs(name string) {
	b.t.Helper()
	b.press(query("#m-studies"))
	b.await("the form", "document.querySelector('#s-name')")
	b.run(chromedp.Evaluate("document.querySelector('#s-name').focus()", nil))
	b.write(name)
	b.keys(kb.Enter)
	b.await("the study in the list",
		"[...document.querySelectorAll('.kept strong')].some((e) => e.textContent === "+quote(name)+")")
	b.keys(kb.Escape)
}

// A study is kept with its revisions, taken up again, compared, removed and brought back.
func TestStudies(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	b.open(address)
	b.saveAs("Dune Road <b>first</b>")
	b.edit("levels.outlet", "60 ft")
	b.await("it says that it changed", "document.querySelector('#station-name').textContent.includes('changed since')")
	b.keys("s", chromedp.KeyModifiers(2))
	b.await("revision 2", "document.querySelector('#station-name').textContent.includes('revision 2')")

	b.run(chromedp.Reload())
	b.answered()
	b.await("the same study", "document.querySelector('#station-name').textContent.includes('revision 2')")
	b.await("the saved number", at("levels.outlet")+".textContent.includes('60 ft')")

	b.press(query("#m-studies"))
	b.await("the list", "document.querySelectorAll('.kept li').length === 1")
	b.shot("studies")
	b.axe("studies")
	b.press(named("Revisions"))
	b.await("two revisions", "document.querySelectorAll('.kept li').length === 2")
	b.press("document.querySelector('.line-form button.main')")
	b.await("what moved", "document.querySelector('#s-moves table, #s-moves .diff + h3 + p')")
	b.await("the change in the file", "document.querySelector('#s-moves .d-in')?.textContent.includes('60 ft')")
	b.shot("revisions")
	b.axe("revisions")
	b.press("document.querySelectorAll('.kept li')[1].querySelector('button')")
	b.await("the first revision on the sheet", at("levels.outlet")+"?.textContent.includes('46 ft')")
	b.answered()

	b.press(query("#m-studies"))
	b.press(named("Remove"))
	b.await("none is kept", "document.querySelectorAll('#dialog-body > section .kept li').length === 0")
	b.press("[...document.querySelectorAll('#dialog details summary')].find((e) => e.textContent.includes('removed'))")
	b.press("[...document.querySelectorAll('#dialog details button')].find((e) => e.textContent === 'Bring it back')")
	b.await("it is back", "document.querySelectorAll('#dialog-body > section .kept li').length === 1")
}

// Two tabs save the same study: the second gets a message, sees both, and nothing is lost.
func TestConflict(t *testing.T) {
	one := newTab(t, desktop)
	address := serve(t)
	one.open(address)
	one.saveAs("Shared")
	two := one.beside(desktop)
	two.open(value[string](one, "location.href"))
	two.await("the same study", "document.querySelector('#station-name').textContent.includes('Shared, revision 1')")
	one.edit("levels.outlet", "58 ft")
	one.keys("s", chromedp.KeyModifiers(2))
	one.await("revision 2", "document.querySelector('#station-name').textContent.includes('revision 2')")
	two.edit("levels.outlet", "62 ft")
	two.keys("s", chromedp.KeyModifiers(2))
	two.await("both versions", "document.querySelectorAll('#dialog[open] .two pre').length === 2")
	two.await("the difference", "document.querySelector('.d-in').textContent.includes('62 ft') && document.querySelector('.d-out').textContent.includes('58 ft')")
	two.shot("conflict")
	two.axe("conflict")
	two.press(named("Save mine as revision 3"))
	two.await("revision 3", "document.querySelector('#station-name').textContent.includes('revision 3')")
	two.await("mine on the sheet", at("levels.outlet")+".textContent.includes('62 ft')")
}
