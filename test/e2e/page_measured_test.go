package e2e

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A logger's file, made by the program, is dropped into the panel, its stops are fitted, and what
// was measured is on the sheet as the command line writes it. Undo takes it out again.
func TestMeasuredStop(t *testing.T) {
	station := filepath.Join(t.TempDir(), "mine.station.yaml")
	data, err := os.ReadFile("../../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(station, data, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "calibrate", station, "../../examples/stops.log.csv", "--valve", "swing/6in", "--stop", "2", "--save").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	saved, err := os.ReadFile(station)
	if err != nil {
		t.Fatal(err)
	}
	inertia := regexp.MustCompile(`(?m)^ *inertia: (.*?) lb ft²  # measured 2026-05-12, stops.log.csv$`).FindSubmatch(saved)
	if inertia == nil {
		t.Fatalf("the command line saved no inertia:\n%s", saved)
	}
	b := newTab(t, size{1280, 800})
	b.open(serve(t))
	b.press(query("#m-trouble"))
	b.press(named("Measured stop"))
	b.await("the cautions", "document.querySelectorAll('.field-cautions li').length === 5")
	b.shot("stop-form")
	b.axe("measured stop")
	log, err := os.ReadFile("../../examples/stops.log.csv")
	if err != nil {
		t.Fatal(err)
	}
	b.drop("stops.log.csv", log)
	b.await("its stops", "document.querySelectorAll('.log-form .log-stops input[value=\"2\"]').length === 1")
	b.await("its slam", "[...document.querySelectorAll('.log-answer li')].some((e) => e.textContent.includes('Slam: step 37.2 ft'))")
	b.shot("stop-read")
	b.axe("a log")
	b.run(chromedp.Evaluate("document.querySelector('.line-chart').scrollIntoView()", nil))
	b.shot("stop-chart")
	b.press(named("Fit the station to these stops"))
	b.await("which valve is asked at its field", "document.querySelector('#log-valve-fault').textContent.includes('not known')")
	b.shot("stop-valve-missing")
	b.into("document.querySelector('#log-valve')", "swing/6in")
	b.press("document.querySelector('.log-form .log-stops input[value=\"1\"]')")
	b.press(named("Fit the station to these stops"))
	b.await("the progress", "/\\d+ runs of the station/.test(document.querySelector('.log-form').textContent)")
	b.shot("stop-fitting")
	b.press("[...document.querySelectorAll('.log-form button')].find((e) => e.textContent === 'Stop')")
	b.await("it is stopped", "!document.querySelector('.log-form progress') && !document.querySelector('.log-form .fault:not(:empty)')")
	b.press(named("Fit the station to these stops"))
	b.await("the fit", "[...document.querySelectorAll('.log-answer h3')].some((e) => e.textContent === 'The station fitted to the stops')")
	b.shot("stop-fit")
	b.axe("a fit")
	b.press(named("Take it into the station"))
	b.await("it is taken", "document.querySelector('#dialog-body').textContent.includes('Undo takes it out again')")
	b.shot("stop-taken")
	if got := value[string](b, kept); got != string(saved) {
		t.Errorf("the page wrote\n%s\nand the command line\n%s", got, saved)
	}
	b.press("document.querySelector('#dialog .close')")
	b.settled()
	b.press(query("#m-undo"))
	b.await("as before", "!("+kept+").includes('# measured')")
}

// On a phone, without a station: the log is read, and nothing is wider than the window. A file that is
// too large is refused with the command that reads it.
func TestMeasuredStopOnAPhone(t *testing.T) {
	b := newTab(t, phone)
	b.visit(serve(t))
	b.press(named("It bangs or leaks"))
	b.press(named("Measured stop"))
	large := filepath.Join(t.TempDir(), "large.csv")
	if err := os.WriteFile(large, []byte("time (s),head at valve (m)\n"+strings.Repeat("0,1\n", 400_000)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.run(chromedp.SetUploadFiles("#log-file", []string{large}, chromedp.ByQuery))
	b.await("the refusal", "document.querySelector('#log-fault').textContent.includes('seatward log large.csv')")
	b.narrow("the refusal")
	b.run(chromedp.SetUploadFiles("#log-file", []string{absolute(t, "../../examples/stop.log.csv")}, chromedp.ByQuery))
	b.await("the chart", "document.querySelector('.line-chart .lc-line') && document.querySelector('#log-fault').textContent === ''")
	b.narrow("the log")
	b.axe("a log on a phone")
	b.run(chromedp.Evaluate("[...document.querySelectorAll('.log-answer h3')][0].scrollIntoView()", nil))
	b.shot("stop-read-phone")
	b.run(chromedp.Evaluate("document.querySelector('.line-chart').scrollIntoView()", nil))
	b.shot("stop-chart-phone")
}

// absolute is the whole path of a file.
func absolute(t *testing.T, name string) string {
	t.Helper()
	out, err := filepath.Abs(name)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
