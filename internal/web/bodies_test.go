package web

import (
	"net/http"
	"strings"
	"testing"
)

// TestBodiesShareAMemory: large requests that are under way hold no more than a limit; the
// next is asked to come again, a small one is answered all the same, and what was held is
// given back.
func TestBodiesShareAMemory(t *testing.T) {
	f := newFixture(t, nil)
	large := asJSON(map[string]string{"text": strings.Repeat("# remark\n", 30_000)})
	var held []func()
	for {
		release, err := f.Server.bodies.take(maxBodyBytes)
		if err != nil {
			break
		}
		held = append(held, release)
	}
	if len(held) != mostBodyBytes/maxBodyBytes {
		t.Fatalf("%d bodies of the largest size at once", len(held))
	}
	if code, _ := f.asked(http.MethodPost, "/api/sheet", large); code != http.StatusServiceUnavailable {
		t.Errorf("a large body more gives %d", code)
	}
	if code, _ := f.asked(http.MethodPost, "/api/sheet",
		`{"text": "station: x"}`); code == http.StatusServiceUnavailable {
		t.Error("a small body is refused")
	}
	for _, release := range held {
		release()
	}
	if code, _ := f.asked(http.MethodPost, "/api/sheet", large); code == http.StatusServiceUnavailable {
		t.Error("a large body is refused though nobody holds any")
	}
	if f.Server.bodies.held != 0 {
		t.Errorf("%d bytes are still held", f.Server.bodies.held)
	}
}
