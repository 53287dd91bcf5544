package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// drop lets go of files over the page, as a person would who brings them from elsewhere.
func (b *tab) drop(name string, data []byte) {
	b.t.Helper()
	path := filepath.Join(b.t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		b.t.Fatal(err)
	}
	what := &input.DragData{Items: []*input.DragDataItem{}, Files: []string{path}, DragOperationsMask: 1}
	for _, kind := range []input.DispatchDragEventType{input.DragEnter, input.DragOver, input.Drop} {
		b.run(input.DispatchDragEvent(kind, 300, 300, what))
	}
}

const kept = "JSON.parse(sessionStorage.getItem('seatward.work'))?.text || ''"

// A station file that is dropped comes on the sheet, and Undo brings back the one before.
func TestDropAStation(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	good, err := os.ReadFile("../../examples/study.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	b.drop("mine.station.yaml", []byte(strings.Replace(string(good), "units: US", "units: SI", 1)))
	b.await("the dropped station",
		"[...document.querySelectorAll('.toast')].some((e) => e.textContent.includes('mine.station.yaml is on the sheet'))")
	b.answered()
	b.press("document.querySelector('#facts-summary')")
	b.await("its units", "document.querySelector('#sheet-part').textContent.includes(' m³/h') || document.querySelector('#sheet-part').textContent.includes(' L/s')")
	b.press(query("#m-undo"))
	b.settled()
	b.await("the station before", at("levels.outlet")+".textContent.includes('46 ft')")
}

// A faulty file changes nothing: it opens as text at the line of its first fault, and comes
// on the sheet once it is mended.
func TestDropAFaultyStation(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	before := value[string](b, kept)
	good, err := os.ReadFile("../../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	bad := strings.Replace(strings.Replace(string(good), "outlet: 46 ft", "outlet: 46 gpm", 1), "size: 6 in",
		"size: 7 in", 1)
	b.drop("bad.station.yaml", []byte(bad))
	b.await("both faults with line and column",
		"document.querySelectorAll('#file-faults li').length === 2 && [...document.querySelectorAll('#file-faults li')].every((e) => /Line \\d+, column \\d+/.test(e.textContent))")
	line := 1 + strings.Count(bad[:strings.Index(bad, "size: 7 in")], "\n")
	if got := value[string](b, "(() => { const a = document.activeElement; return a.value.slice(a.selectionStart, a.selectionEnd); })()"); got != strings.Split(bad, "\n")[line-1] {
		t.Errorf("the line %q is marked, not the first with an error", got)
	}
	if !value[bool](b, "(() => { const a = document.activeElement; const y = a.scrollHeight * "+jsNumber(float64(line))+
		" / a.value.split('\\n').length; return y > a.scrollTop && y < a.scrollTop + a.clientHeight; })()") {
		t.Error("the line with the error is out of sight")
	}
	b.shot("drop-fault")
	b.axe("faulty file dropped")
	if value[string](b, kept) != before || !value[bool](b, at("levels.outlet")+".textContent.includes('46 ft')") {
		t.Error("a faulty file has changed the work")
	}
	b.write(strings.Replace(string(good), "outlet: 46 ft", "outlet: 41 ft", 1))
	b.press(named("Put on the sheet"))
	b.answered()
	b.await("the mended station", at("levels.outlet")+".textContent.includes('41 ft')")
}

// What is too large, or no text, is refused in words and changes nothing.
func TestDropWhatIsNoStation(t *testing.T) {
	b := newTab(t, desktop)
	b.open(serve(t))
	before := value[string](b, kept)
	b.drop("huge.yaml", []byte(strings.Repeat("# nothing\n", 300_000)))
	b.await("that it is too large",
		"[...document.querySelectorAll('.toast')].some((e) => e.textContent.includes('huge.yaml') && e.textContent.includes('1024 kB') && e.textContent.includes('Nothing was changed'))")
	b.shot("drop-huge")
	b.drop("picture.png", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"))
	b.await("that it is no station",
		"document.querySelector('#file-faults li') && document.querySelector('#dialog-body').textContent.includes('nothing was changed')")
	if value[string](b, kept) != before {
		t.Error("the work has changed")
	}
}
