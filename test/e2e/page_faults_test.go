package e2e

import (
	"encoding/base64"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/fetch"
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
	b.unheard = "net::ERR_"
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
	b.await("what is the matter",
		"document.querySelector('.editor .fault').textContent.includes('server does not answer') && document.querySelector('.editor .fault').textContent.includes('Nothing is lost')")
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

// A server that has no time for pump trips: the rows are shown without slam, the page
// says why, and the trips can be asked for again.
func TestServerHasNoTime(t *testing.T) {
	b := newTab(t, desktop)
	b.mu.Lock()
	b.unheard = "503"
	b.mu.Unlock()
	held := make(chan fetch.RequestID, 1)
	chromedp.ListenTarget(b.ctx, func(ev any) {
		if e, ok := ev.(*fetch.EventRequestPaused); ok {
			held <- e.RequestID
		}
	})
	b.run(fetch.Enable().WithPatterns([]*fetch.RequestPattern{{URLPattern: "*/api/answer"}}))
	b.visit(serve(t) + layout)
	id := <-held
	b.await("rows meanwhile", "document.querySelector('#verdict')?.textContent.includes('Its pump stops are being run …') && document.querySelectorAll('#rows > li').length >= 4")
	b.shot("trips-to-come")
	b.axe("trips to come")
	refusal := base64.StdEncoding.EncodeToString([]byte(`{"error": {"id": "busy", "text": "the server computes as much as it may at once", "mend": "ask again in a moment"}}`))
	b.run(fetch.FulfillRequest(id, 503).WithResponseHeaders([]*fetch.HeaderEntry{{
		Name:  "Content-Type",
		Value: "application/json",
	}}).WithBody(refusal), fetch.Disable())
	b.await("what the rows are",
		"document.querySelector('#verdict').textContent.includes('The server had no time for its pump stops')")
	b.shot("trips-refused")
	b.axe("trips refused")
	b.press(named("Run them"))
	b.answered()
	b.await("the whole answer", throughAll)
}
