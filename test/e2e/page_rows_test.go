package e2e

import (
	"encoding/json"
	"os/exec"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A row opens to what was found, with reason and source, and every number to its calculation.
func TestFindingsAndCalculation(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press("document.querySelector('#rows .row-head')")
	b.await("findings", "document.querySelectorAll('#rows .finding').length > 5")
	b.await("their sources", "document.querySelectorAll('#rows .finding .source').length > 3")
	b.shot("findings")
	b.axe("findings")
	for _, name := range []string{
		"Head loss", "Velocity", "Opening", "Full-open velocity", "Cracking head",
		"Minimum back head to seal", "Reverse velocity", "Head rise", "Energy per year", "Life-cycle cost",
	} {
		b.press("[...document.querySelectorAll('#rows .sources .num')].find((e) => e.getAttribute('aria-label').startsWith(" + quote(name) + "))")
		b.await("the calculation of "+name, "document.querySelector('#explain[open] #explain-body .ex-value')")
		if name == "Head loss" {
			b.shot("calculation")
			b.axe("calculation")
		}
		b.keys(kb.Escape)
		b.await("the dialog is closed", "!document.querySelector('#explain[open]')")
	}
	b.press(query("#rows .cells .num"))
	b.await("the calculation of a number in the row",
		"document.querySelector('#explain[open] #explain-body .ex-value')")
}

// Two or three valves stand side by side, not more.
func TestCompare(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	for i := range 3 {
		b.press("document.querySelectorAll('#rows .pick input')[" + string(rune('0'+i)) + "]")
	}
	b.press("document.querySelectorAll('#rows .pick input')[3]")
	b.await("the fourth is refused",
		"!document.querySelectorAll('#rows .pick input')[3].checked && document.querySelector('.toast')")
	b.press(named("Compare 3"))
	b.await("three columns", "document.querySelectorAll('table.compare thead th').length === 4")
	b.await("their findings", "document.querySelectorAll('table.compare tbody tr').length > 12")
	b.shot("compare")
	b.axe("compare")
}

// Another valve on the drawing, by one click.
func TestPutOnTheDrawing(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	first := value[string](b, "document.querySelector('#drawing .spot .valve').getAttribute('class')")
	other := "[...document.querySelectorAll('#rows > li:not(.on)')].find((e) => e.dataset.valve.startsWith('flap')).querySelector('.row-acts button')"
	b.press(other)
	b.answered()
	b.await("another picture", "document.querySelector('#drawing .spot .valve').getAttribute('class') !== "+
		quote(first))
}

// Every valve is run through on request: it tells how far it is, can be stopped, and gives
// the answer of the command line.
func TestEveryValve(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	// It begins by itself, and is stopped at its first sign: a fast machine is through soon.
	b.run(chromedp.Evaluate(`new MutationObserver((_, o) => {
		const stop = [...document.querySelectorAll("#all-runs button")].find((e) => e.textContent === "Stop");
		if (stop && document.querySelector("#all-runs progress")) { o.disconnect(); stop.click(); window.stopped = true; }
	}).observe(document.querySelector("#all-runs"), { childList: true, subtree: true })`, nil))
	b.press(at("main.runs[0].length"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write("3500 ft")
	b.keys(kb.Enter)
	b.await("it can be asked for", "window.stopped && "+named("Run the pump stops of every valve"))
	b.press(named("Run the pump stops of every valve"))
	b.shot("every-valve-running")
	b.await("all valves run", throughAll)
	b.keys("z", chromedp.KeyModifiers(2))
	b.answered()
	b.await("all valves run by themselves", throughAll)
	b.run(chromedp.Evaluate("window.scrollTo(0, 0)", nil)) // what the head of the page covers is no target
	b.shot("every-valve")
	b.axe("every valve")
	out, err := exec.Command(program, "select", "--json", "../../examples/layout.station.yaml").Output()
	if err != nil {
		t.Fatal(err)
	}
	var study struct {
		Candidates []struct {
			ID   string
			Rank int
		}
	}
	if err := json.Unmarshal(out, &study); err != nil {
		t.Fatal(err)
	}
	for _, c := range study.Candidates {
		if c.Rank == 1 && value[string](b, "document.querySelector('#rows [data-valve]').dataset.valve") != c.ID {
			t.Errorf("the page has another first valve than the command line, which has %s", c.ID)
		}
	}
}

// throughAll is true once the answer is of all valves run through.
const throughAll = "document.querySelector('#all-runs').childElementCount === 0 && !document.querySelector('#verdict .sentence').textContent.includes('still to be run')"

// The options of a valve: what goes together, what is barred and why.
func TestConfigure(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	b.press("document.querySelector('#rows .row-head')")
	b.press(named("Choose its options"))
	b.await("options", "document.querySelectorAll('#dialog .option select').length > 3")
	b.await("the code", "document.querySelector('#dialog .bill code')?.textContent.length > 5")
	b.shot("options")
	b.axe("options")
	code := value[string](b, "document.querySelector('#dialog .bill code').textContent")
	b.run(pick("#" + value[string](b,
		"[...document.querySelectorAll('#dialog .option select')].find((s) => s.options.length > 1).id")))
	b.await("another code", "document.querySelector('#dialog .bill code').textContent !== "+quote(code))
}

// Every paper can be had; a preview stands in a frame that may run nothing.
func TestPapers(t *testing.T) {
	b := newTab(t, desktop)
	address := serve(t)
	b.open(address)
	b.press(query("#m-papers"))
	b.await("the kinds", "document.querySelectorAll('#p-kind option').length > 5")
	b.await("a frame that is barred from all", "document.querySelector('iframe.paper')?.getAttribute('sandbox') === ''")
	b.await("the preview", "document.querySelector('.paper-view [role=status]').textContent === ''")
	b.mu.Lock()
	status := b.answers[address+"/api/document?preview=1"]
	b.mu.Unlock()
	if status != 200 {
		t.Errorf("the preview came with status %d", status)
	}
	b.shot("papers")
	b.axe("papers")
	b.press("[...document.querySelectorAll('#dialog button.main')].find((e) => e.textContent === 'Download')")
	b.await("the file", "[...document.querySelectorAll('.toast')].some((e) => e.textContent.includes('in your downloads'))")

	// Whose papers they are is asked in fields, is remembered, and all come as one archive.
	b.press("document.querySelector('#dialog details.whose summary')")
	b.press(query("#p-company"))
	b.write("Harbor Street Works")
	b.run(pickValue("#p-kind", "all"))
	b.await("no preview of an archive", "document.querySelector('.paper-view').textContent.includes('no preview')")
	b.shot("papers-all")
	b.axe("papers-all")
	b.press("[...document.querySelectorAll('#dialog button.main')].find((e) => e.textContent === 'Download')")
	b.await("the archive", "[...document.querySelectorAll('.toast')].some((e) => e.textContent.startsWith('papers-'))")
	if got := value[string](b, "JSON.parse(localStorage.getItem('seatward.whose')).company"); got != "Harbor Street Works" {
		t.Errorf("the firm that is remembered is %q", got)
	}
}
