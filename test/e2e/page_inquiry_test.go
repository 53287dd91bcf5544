package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const letter = `Subject: Heron Flats lift station, Project No. 24-0117

Two submersible pumps, duty/standby, 350 gpm @ 62' TDH each, raw sewage with rags. 6-inch ductile iron
force main, 2,400 LF, static lift 41 ft. The valve goes on a vertical riser. The existing swing check slams.

Thanks,
Dana
Phone (555) 014-2277`

// letter puts a text into the field that has the focus, as pasting does.
func (b *tab) letter(text string) {
	b.t.Helper()
	b.run(input.InsertText(text))
}

// An inquiry is pasted, looked at, taken click by click, and is then on the sheet as given.
func TestInquiry(t *testing.T) {
	for name, s := range map[string]size{"inquiry": {1280, 800}, "inquiry-phone": phone} {
		t.Run(name, func(t *testing.T) {
			b := newTab(t, s)
			b.open(serve(t))
			b.press("document.querySelector('#m-station')")
			b.press(query(`[data-door="inquiry"]`))
			b.await("the field", "document.activeElement.id === 'inq-text'")
			b.letter(letter)
			b.shot(name + "-text")
			b.press(named("Read it"))
			b.await("the finds", "document.querySelectorAll('.inq-finds li').length > 9")
			b.shot(name + "-finds")
			b.axe(name)
			if n := value[int](b, "document.querySelectorAll('.inq-finds [aria-pressed=true]').length"); n != 0 {
				t.Errorf("%d finds are taken before any click", n)
			}
			for _, text := range []string{"24-0117", "2277"} {
				if value[bool](b, "[...document.querySelectorAll('.inq-text mark')].some((e) => e.textContent.includes("+quote(text)+"))") {
					t.Errorf("%q is marked", text)
				}
			}
			b.press(named("Take the"))
			b.press("[...document.querySelectorAll('.inq-finds li.doubt')].find((e) => e.textContent.includes('rags')).querySelector('button')")
			size := "[...document.querySelectorAll('.inq-finds li.doubt')].find((e) => e.textContent.includes('size at the valve')).querySelector('button')"
			b.press(size)
			b.await("what was taken", size+".getAttribute('aria-pressed') === 'true'")
			b.shot(name + "-taken")
			b.press(named("Start a station with"))
			b.await("the dialog closed", "!document.querySelector('#dialog').open")
			b.await("the file", kept+".includes('From an inquiry')")
			file := value[string](b, kept)
			for _, line := range []string{
				"flow: 350 gpm", "static_head: 41 ft", "size: 6 in", "kind: raw sewage", "rags: heavy", "position: flow up",
				"material: ductile iron", "count: 2", "standby: 1", "length: 2,400 ft",
			} {
				if !strings.Contains(strings.ReplaceAll(file, `"`, ""), line) {
					t.Errorf("the station has no %q:\n%s", line, file)
				}
			}
			b.await("an answer", "document.querySelector('#rows').children.length > 2")
			b.shot(name + "-station")
		})
	}
}

// Fields read what people write, and ask where it may mean two things.
func TestTypedForms(t *testing.T) {
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	for _, c := range [][2]string{{"52", "52 ft"}, {"46' 6\"", "46' 6\""}, {"14,5 m", "47.6 ft"}, {"52 ± 2", "52 ft ± 2 ft"}} {
		b.press(at("levels.outlet"))
		b.await("the editor", "document.activeElement.closest('.editor')")
		b.write(c[0])
		b.keys(kb.Enter)
		b.await("the field reads "+c[0], "!document.querySelector('.editor') && "+at("levels.outlet")+"?.textContent.includes("+quote(c[1])+")")
	}
	b.press(at("levels.outlet"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write("0,0155 km")
	b.keys(kb.Enter)
	b.await("no doubt about a leading zero", "!document.querySelector('.editor')")
	b.press(at("main.runs[0].length"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write("1,046 m")
	b.keys(kb.Enter)
	b.await("both meanings", "[...document.querySelectorAll('.asked button')].map((e) => e.textContent).join() === '1.046 m,1046 m'")
	b.shot("typed-doubt")
	b.press(named("1046 m"))
	b.await("the chosen one", at("main.runs[0].length")+"?.textContent.includes('3430 ft')")
}

// A curve is pasted from a spreadsheet, a point is dragged, and the station has it.
func TestPastedCurve(t *testing.T) {
	for name, s := range map[string]size{"curve": {1280, 800}, "curve-phone": phone} {
		t.Run(name, func(t *testing.T) {
			b := newTab(t, s)
			b.open(serve(t))
			b.press(query(`[data-path="pumps[0].curve"]`))
			b.press(named("Table and plot"))
			b.await("the points that stand there", "document.querySelectorAll('.cv-dot').length > 2")
			b.press("document.querySelector('#cv-paste')")
			b.letter("Flow (gpm)\tHead (ft)\n0\t95\n200\t84\nn/a\t80\n450\t62\n700\t34\n")
			b.press(named("Read"))
			b.await("four points and one bad row", "document.querySelectorAll('.cv-dot').length === 4 && document.querySelector('.cv-bad').textContent.includes('Line 4')")
			b.shot(name)
			b.axe(name)
			before := value[string](b, "document.querySelectorAll('.cv-table input')[5].value")
			type spot struct{ X, Y float64 }
			dot := value[spot](b, "(() => { const e = document.querySelectorAll('.cv-dot')[2]; e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return {X: r.x + r.width / 2, Y: r.y + r.height / 2}; })()")
			b.run(chromedp.MouseEvent(input.MousePressed, dot.X, dot.Y, chromedp.ButtonLeft),
				chromedp.MouseEvent(input.MouseMoved, dot.X+3, dot.Y-20, chromedp.ButtonLeft),
				chromedp.MouseEvent(input.MouseReleased, dot.X+3, dot.Y-20, chromedp.ButtonLeft))
			b.await("the dragged point in the table", fmt.Sprintf("Number(document.querySelectorAll('.cv-table input')[5].value) > Number(%q)", before))
			b.press(named("Put the curve into the station"))
			b.await("the dialog closed", "!document.querySelector('#dialog').open")
			b.await("the curve in the file", kept+".includes('[700 gpm, 34 ft]')")
		})
	}
}
