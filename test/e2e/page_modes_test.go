package e2e

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// printed is the page as it comes out of the printer.
func (b *tab) printed() []byte {
	b.t.Helper()
	var out []byte
	b.run(chromedp.ActionFunc(func(ctx context.Context) (err error) {
		out, _, err = page.PrintToPDF().WithPrintBackground(false).Do(ctx)
		return err
	}))
	return out
}

// pick chooses the next option of a select, as a person would.
func pick(sel string) chromedp.Action {
	return chromedp.Evaluate("(() => { const s = document.querySelector("+quote(sel)+
		"); s.selectedIndex = (s.selectedIndex + 1) % s.options.length; s.dispatchEvent(new Event('change', {bubbles: true})); })()", nil)
}

// Class mode is a lesson: a question is voted on, its film played, its answer shown, by keys
// alone; what is right is what the row says, and the cure is shown.
func TestClass(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press("[...document.querySelectorAll('#rows [data-valve=\"swing/6in\"] button')].find((e) => e.textContent.trim() === 'Draw it')")
	b.answered()
	b.press(query("#m-class"))
	b.await("the first question", "document.querySelector('#lesson[open] h2')")
	b.await("its answer is hidden", "document.querySelector('.lesson-answer').hidden")
	const asked, told = "document.querySelector('#lesson h2').textContent", "!document.querySelector('.lesson-answer').hidden"
	seen := map[string]bool{}
	for range 20 {
		q := value[string](b, asked)
		if seen[q] {
			break
		}
		seen[q] = true
		film := strings.Contains(q, "slam") || strings.Contains(q, "column")
		if strings.Contains(q, "slam") {
			b.keys("3")
			b.keys("3")
			b.keys("1")
			b.await("three hands", "[...document.querySelectorAll('.lesson-votes')].map((e) => Number.parseInt(e.textContent) || 0).join() === '1,0,2'")
			b.shot("class-vote")
		}
		b.keys(kb.ArrowDown)
		if film {
			b.await("the film of "+q, "document.querySelector('#lesson .pl-station svg') && !document.querySelector('#lesson .pl-body').hidden")
			b.await("its answer is still hidden", "document.querySelector('.lesson-answer').hidden")
			b.shot("class-film")
			b.keys(kb.ArrowDown)
		}
		b.await("the answer to "+q, told+" && document.querySelector('.lesson-answer').textContent.length > 5")
		switch {
		case strings.Contains(q, "slam"):
			row := value[string](b, "document.querySelector('#rows [data-valve=\"swing/6in\"] .slam').textContent")
			says := value[string](b, "document.querySelector('.lesson-answer .big').textContent")
			if !strings.EqualFold(row, says) {
				t.Errorf("the lesson says %q, the row %q", says, row)
			}
			b.await("who was right", "document.querySelector('.lesson-choice.right') && document.querySelector('.lesson-did').textContent.includes('of 3 hands were right')")
			b.shot("class")
			b.axe("class")
		case strings.Contains(q, "better"):
			b.await("the cure", "document.querySelectorAll('.lesson-cure tbody tr').length === 3")
			b.shot("class-cure")
			b.axe("class, cure")
		}
		if over := value[int](b, "document.querySelector('#lesson').scrollWidth - innerWidth"); over > 0 {
			t.Errorf("%s: the class is %d px wider than the window", q, over)
		}
		if strings.Contains(q, "static") || strings.Contains(q, "full open") {
			b.await("the remedies have come", "document.querySelector('#lesson .lesson-top').textContent.includes('of 11')")
		}
		b.keys(kb.ArrowRight)
	}
	if len(seen) < 8 {
		t.Errorf("the class has only the questions %v", seen)
	}
	b.keys(kb.ArrowLeft)
	b.await("one question back, hidden", "document.querySelector('.lesson-answer').hidden")
	b.keys(kb.Escape)
	b.await("the class is over", "!document.querySelector('#lesson[open]')")
}

// On a phone nothing is cut off, and everything is large enough to be touched.
func TestPhone(t *testing.T) {
	b := newTab(t, phone)
	address := serve(t)
	b.open(address)
	check := func(state string) {
		t.Helper()
		if over := value[int](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
			wide := value[string](b, "[...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 5).map((e) => e.tagName + '.' + e.className).join(', ')")
			t.Errorf("%s: the page is %d px wider than the phone (%s)", state, over, wide)
		}
		small := value[[]string](b, "[...document.querySelectorAll('button, a.button, input, select, summary')].filter((e) => { const r = e.getBoundingClientRect(); return r.width > 0 && getComputedStyle(e).clipPath === 'none' && (r.width < 24 || r.height < 24); }).slice(0, 8).map((e) => `${e.tagName}.${e.className} ${e.textContent.slice(0, 20)} ${Math.round(e.getBoundingClientRect().width)}x${Math.round(e.getBoundingClientRect().height)}`)")
		if len(small) > 0 {
			t.Errorf("%s: too small to touch: %q", state, small)
		}
	}
	b.shot("phone-top")
	b.whole("phone")
	check("phone")
	b.axe("phone")
	b.tripReady()
	for what, part := range map[string]string{
		"the verdict": query("#verdict .sentence"), "the film": query(".pl-station"), "the field card": named("Field card"),
		"why": "[...document.querySelectorAll('h3')].find((e) => e.textContent === 'What decides').nextElementSibling",
	} {
		bottom := value[int](b, "Math.round("+part+".getBoundingClientRect().bottom + scrollY)")
		t.Logf("%s ends at %d px of a phone %d px high", what, bottom, phone.h)
		if int64(bottom) > 2*phone.h {
			t.Errorf("%s is not within two screens: it ends at %d px", what, bottom)
		}
	}
	b.press(at("levels.outlet"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.shot("phone-editor")
	check("phone editor")
	b.keys(kb.Escape)
	b.edit("levels.outlet", "49 ft")
	b.press("document.querySelector('#rows .row-head')")
	b.await("findings", "document.querySelectorAll('#rows .finding').length > 5")
	b.shot("phone-findings")
	check("phone findings")
	b.media("prefers-color-scheme", "dark")
	b.await("dark colors", "document.documentElement.dataset.theme === 'dark'")
	b.shot("phone-dark")
	b.axe("phone dark")
	b.run(chromedp.EmulateViewport(320, 700))
	check("the narrowest window")
}

// tabTo presses Tab until the element has the focus.
func (b *tab) tabTo(what, js string) {
	b.t.Helper()
	for range 400 {
		b.keys(kb.Tab)
		if value[bool](b, "(() => { const e = document.activeElement; return !!("+js+"); })()") {
			if !value[bool](b, "(() => { const s = getComputedStyle(document.activeElement); return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2; })()") {
				b.t.Errorf("the focus cannot be seen on %s", what)
			}
			return
		}
	}
	b.t.Fatalf("Tab does not reach %s", what)
}

// The whole way by keyboard: skip, edit, open a row, its calculation, and back.
func TestKeyboardAlone(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.keys(kb.Tab)
	b.await("the first stop is a skip link", "document.activeElement.textContent.startsWith('Skip')")
	b.shot("skip")
	b.keys(kb.Enter)
	b.await("the station has the focus", "document.activeElement.id === 'sheet-part'")
	b.tabTo("the outlet", "e.dataset.path === 'levels.outlet'")
	b.keys(kb.Enter)
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write("51 ft")
	b.keys(kb.Enter)
	b.answered()
	b.await("the focus is back on the number",
		"document.activeElement.dataset.path === 'levels.outlet' && document.activeElement.textContent.includes('51 ft')")
	b.await("the verdict is spoken", "document.querySelector('#live').textContent.length > 10")
	b.tabTo("a row", "e.matches('#rows .row-head')")
	b.keys(kb.Enter)
	b.await("findings", "document.querySelector('#rows .finding')")
	b.keys(kb.ArrowDown)
	b.await("the next row", "document.activeElement === document.querySelectorAll('#rows .row-head')[1]")
	b.keys(kb.ArrowUp)
	b.tabTo("a number", "e.matches('#rows .num')")
	b.keys(kb.Enter)
	b.await("the calculation", "document.querySelector('#explain[open] .ex-value')")
	b.shot("keyboard")
	b.keys(kb.Escape)
	b.await("back on the number", "document.activeElement.matches('#rows .num')")
}
