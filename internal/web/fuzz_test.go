package web

import (
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"seatward/examples"
)

// quickBody keeps requests to routes that compute short, so that no whole station stands in
// them: a fuzz run would do nothing but compute. What reads stations has fuzz targets of its
// own.
func quickBody(rt *route, body string) string {
	if rt.computes && len(body) > 200 {
		return body[:200]
	}
	return body
}

// FuzzAPI: whatever is sent to whichever address, the server answers with valid JSON or a
// file, without a fault of the program.
func FuzzAPI(f *testing.F) {
	x := newFixture(f, func(c *Config) { c.Log, c.Catalogs = slog.New(slog.NewJSONHandler(io.Discard, nil)), nil })
	samples := x.samples()
	for i := range x.table {
		rt := &x.table[i]
		s := samples[rt.method+" "+rt.path]
		f.Add(uint8(i), s.path, quickBody(rt, s.body), mediaJSON)
	}
	for i, rt := range x.table {
		if rt.method == http.MethodPost {
			f.Add(uint8(i), "/login", "token=x", mediaForm)
			f.Add(uint8(i), rt.path+"?preview=1", `request={"text":"`, mediaForm)
			f.Add(uint8(i), rt.path, `{"text":"`+strings.ReplaceAll(string(examples.Stations()[0].Data[:100]), "\n",
				`\n`)+`","kind":"all"}`, mediaJSON)
		}
	}
	f.Fuzz(func(t *testing.T, n uint8, path, body, media string) {
		rt := &x.table[int(n)%len(x.table)]
		r := httptest.NewRequest(rt.method, "http://localhost/", strings.NewReader(quickBody(rt, body)))
		u, err := r.URL.Parse(path)
		if err != nil {
			return // net/http would not pass it on
		}
		r.URL = u
		r.Header.Set("Content-Type", media)
		w := httptest.NewRecorder()
		x.handler.ServeHTTP(w, r)
		if w.Code >= 500 && w.Code != http.StatusServiceUnavailable {
			t.Errorf("%s %q %q: %d %s", rt.method, path, body, w.Code, w.Body)
		}
		if strings.HasPrefix(w.Header().Get("Content-Type"), mediaJSON) && w.Code != http.StatusNotModified &&
			!json.Valid(w.Body.Bytes()) {
			t.Errorf("%s %q %q: no JSON: %s", rt.method, path, body, w.Body)
		}
	})
	if n := x.count.panics.Load(); n != 0 {
		f.Errorf("%d panics", n)
	}
}
