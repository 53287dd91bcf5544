package e2e

import (
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// The page of a log opens without a server; an event is jumped to, and wheel and keys zoom.
func TestPageOfALog(t *testing.T) {
	file := filepath.Join(t.TempDir(), "stop.html")
	out, err := exec.Command(program, "log", "../../examples/stop.log.csv", "--station",
		"../../examples/layout.station.yaml", "--page", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for name, s := range map[string]size{"log": {1280, 800}, "log-phone": phone} {
		b := newTab(t, s)
		b.visit("file://" + file)
		const shown = "document.querySelector('#shown').textContent"
		b.await("the whole log", shown+".includes('69.96 s')")
		b.press("[...document.querySelectorAll('#events button')].find((e) => e.textContent.includes('slam'))")
		b.await("ten seconds around the slam", shown+".endsWith(', 10 s')")
		b.await("peaks in words", "/highest 41|highest 2\\d/.test(document.querySelector('canvas').getAttribute('aria-label'))")
		b.shot(name)
		b.axe(name)
		b.run(chromedp.Evaluate("document.querySelector('canvas').focus()", nil))
		b.keys("+")
		b.await("nearer", shown+".endsWith(', 5 s')")
		b.keys("0")
		b.await("the whole again", shown+".includes('69.96 s')")
	}
}
