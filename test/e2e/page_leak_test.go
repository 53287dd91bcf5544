package e2e

import (
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// leakField is a field of the leak test.
func leakField(id string) string { return "document.querySelector('#leak-" + id + "')" }

// into writes into a field as a person does.
func (b *tab) into(field, text string) {
	b.t.Helper()
	b.press(field)
	b.run(chromedp.Evaluate(field+".focus()", nil))
	b.write(text)
}

// leakNumber is what stands in the answer beside a name.
func (b *tab) leakNumber(name string) string {
	b.t.Helper()
	return value[string](b, "[...document.querySelectorAll('.leak-numbers tr')].find((r) => r.querySelector('th')?.textContent === "+
		quote(name)+")?.querySelector('td').textContent || ''")
}

// narrow holds that nothing is scrolled sideways to be read.
func (b *tab) narrow(state string) {
	b.t.Helper()
	if over := value[string](b, "(() => { const w = document.documentElement.clientWidth; const d = document.querySelector('#dialog-body');"+
		" return d.scrollWidth > d.clientWidth + 1 || document.documentElement.scrollWidth > w + 1 ?"+
		" [...d.querySelectorAll('*')].filter((e) => e.getBoundingClientRect().right > w && !e.closest('.wide-table')).slice(0, 3).map((e) => e.outerHTML.slice(0, 120)).join(' ') || 'all' : ''; })()"); over != "" {
		b.t.Errorf("%s is wider than the window: %s", state, over)
	}
}

// A crew leader whose next test is the leak test goes from it to the form, reads the leak as the
// command line reads it, and gives it back to the diagnosis.
func TestLeakTest(t *testing.T) {
	out, err := exec.Command(program, "leak", "../../examples/layout.station.yaml", "--diameter", "8 ft", "--step", "0.1 in",
		"--shut", "2.4 in in 10 min", "--open", "3.5 in in 10 min", "--shut", "2.5 in in 10 min").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.press(query("#m-trouble"))
	b.await("the signs", "document.querySelectorAll('.asked-signs input').length > 20")
	b.press(sign("starts-up"))
	b.press(named("Other tests"))
	b.press("[...document.querySelectorAll('.other-test summary')].find((e) => e.textContent.includes('Fill of the well with the isolating valve'))")
	b.press("document.querySelector('.other-test[open] > button')")
	b.await("the cautions", "document.querySelectorAll('.field-cautions li').length === 4")
	b.shot("leak-form")
	b.axe("leak test")
	b.press(named("Work out the leak"))
	b.await("what is missing, at its field", leakField("area-fault")+".textContent.includes('is missing') && document.activeElement === "+leakField("area"))
	b.into(leakField("diameter"), "8")
	b.into(leakField("step"), "0.1")
	b.into(leakField("before"), "2.4 in in 10 min")
	b.into(leakField("open"), "3.5 in / 10 min")
	b.into(leakField("after"), "2.5 in in 10 min")
	b.keys("\r")
	b.await("the message at its field", leakField("open-fault")+".textContent.includes('such as') && "+leakField("diameter")+".value === '8'")
	b.shot("leak-fault")
	b.axe("leak test with a fault")
	b.into(leakField("open"), "3.5 in in 10 min")
	b.keys("\r")
	b.await("the answer", "document.querySelector('.leak-answer h3')?.textContent === 'Leak-back: leak through the check valve'")
	for _, name := range []string{
		"Inflow", "Leak-back", "Least leak that this test could show", "Hole that would leak as much",
		"Starts per day at this inflow", "Starts per day without the leak",
	} {
		shown := b.leakNumber(name)
		if shown == "" || !regexp.MustCompile(`(?m)^  `+regexp.QuoteMeta(name)+` +`+regexp.QuoteMeta(shown)+` `).Match(out) {
			t.Errorf("%s: the page has %q, the command line\n%s", name, shown, out)
		}
	}
	b.shot("leak-answer")
	b.axe("leak test with its answer")
	b.press(named("Give this reading to the diagnosis"))
	b.await("the reading in the diagnosis", "[...document.querySelectorAll('.causes li')].some((e) => e.textContent.includes('Take back'))")
	b.shot("leak-given-back")
	b.press(named("Leak test"))
	b.await("what was written is still there", leakField("before")+"?.value === '2.4 in in 10 min'")
}

// On a phone a table of levels is pasted and drawn, with no station on the sheet.
func TestLeakRecordOnAPhone(t *testing.T) {
	record, err := os.ReadFile("../../examples/levels.csv")
	if err != nil {
		t.Fatal(err)
	}
	b := newTab(t, phone)
	b.visit(serve(t))
	b.press(named("It bangs or leaks"))
	b.press(named("Leak test"))
	b.into(leakField("diameter"), "8 ft")
	b.narrow("the form")
	b.shot("leak-form-phone")
	b.press("document.querySelector('input[name=leak-way][value=record]')")
	b.press(leakField("record"))
	b.run(chromedp.Evaluate("(() => { const e = "+leakField("record")+"; e.value = "+quote(strings.Replace(string(record), "30.2", "x", 1))+
		"; e.dispatchEvent(new Event('input')); })()", nil))
	b.press(named("Work out the leak"))
	b.await("the bad cell", leakField("record-fault")+".textContent.includes('Row 4, column 2')")
	b.shot("leak-record-fault-phone")
	b.run(chromedp.Evaluate("(() => { const e = "+leakField("record")+"; e.value = "+quote(string(record))+
		"; e.dispatchEvent(new Event('input')); })()", nil))
	b.press(named("Work out the leak"))
	b.await("the chart", "document.querySelector('.line-chart .lc-line')")
	b.shot("leak-record-phone")
	b.press("document.querySelector('.leak-answer .as-table summary')")
	b.await("its table", "document.querySelectorAll('.leak-answer .as-table tbody tr').length === "+
		jsNumber(float64(strings.Count(strings.TrimSpace(string(record)), "\n"))))
	b.narrow("the answer")
	b.axe("leak record on a phone")
	b.run(chromedp.Evaluate("document.querySelector('.line-chart').scrollIntoView()", nil))
	b.shot("leak-chart-phone")
}
