package e2e

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The server is killed while somebody works: the page says so, keeps what it has, and goes
// on with the same studies once a server is there again.
func TestServerKilled(t *testing.T) {
	b := newTab(t, desktop)
	store := filepath.Join(t.TempDir(), "studies.db")
	address, server := serveAt(t, "127.0.0.1:0", store)
	b.open(address)
	b.saveAs("Before the crash")
	b.edit("levels.outlet", "52 ft")
	b.keys("s", chromedp.KeyModifiers(2))
	b.await("revision 2", "document.querySelector('#station-name').textContent.includes('revision 2')")

	b.mu.Lock()
	b.unheard = "ERR_CONNECTION"
	b.mu.Unlock()
	if err := server.Kill(); err != nil {
		t.Fatal(err)
	}
	if _, err := server.Wait(); err != nil {
		t.Fatal(err)
	}
	b.press(at("levels.outlet"))
	b.await("the editor", "document.activeElement.closest('.editor')")
	b.write("53 ft")
	b.keys(kb.Enter)
	b.await("what is the matter", "document.querySelector('.editor .fault').textContent.includes('server does not answer') && document.querySelector('.editor .fault').textContent.includes('Nothing is lost')")
	b.shot("server-gone")
	b.axe("server gone")

	again, _ := serveAt(t, strings.TrimPrefix(address, "http://"), store)
	if again != address {
		t.Fatalf("the server is at %s now, before at %s", again, address)
	}
	b.keys(kb.Enter)
	b.await("the new number", at("levels.outlet")+"?.textContent.includes('53 ft')")
	b.answered()
	b.keys("s", chromedp.KeyModifiers(2))
	b.await("revision 3", "document.querySelector('#station-name').textContent.includes('revision 3')")
	b.press(query("#m-studies"))
	b.press(named("Revisions"))
	b.await("all revisions", "document.querySelectorAll('.kept li').length === 3")
}
