package web

import (
	"net/http"
	"strings"
	"testing"
)

// TestRoutes asks every route well, and in every way that it must refuse.
func TestRoutes(t *testing.T) {
	f := newFixture(t, nil)
	spec := compiled(t, f)
	samples := f.samples()
	for i := range f.table {
		rt := &f.table[i]
		name := rt.method + " " + rt.path
		s, found := samples[name]
		if !found {
			t.Errorf("%s has no sample: add one, so that it is tested", name)
			continue
		}
		delete(samples, name)
		t.Run(name, func(t *testing.T) {
			f.t = t
			res := f.do(request(rt.method, s.path, s.body))
			media := res.Header.Get("Content-Type")
			status, answer := read(t, res)
			if status != rt.status {
				t.Fatalf("status %d, want %d: %.500s", status, rt.status, answer)
			}
			spec.holds(t, rt, status, media, answer)
			if res.Header.Get("Content-Security-Policy") == "" ||
				res.Header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("headers %v", res.Header)
			}
			f.refuses(t, spec, rt, s)
		})
	}
	for name := range samples {
		t.Errorf("the sample of %s belongs to no route", name)
	}
}

// refuses sends what a route must turn away, and wants the documented fault.
func (f *fixture) refuses(t *testing.T, spec *specification, rt *route, s sample) {
	type wrong struct {
		name   string
		r      *http.Request
		status int
		id     string
	}
	other := func(change func(*http.Request)) *http.Request {
		r := request(rt.method, s.path, s.body)
		change(r)
		return r
	}
	all := []wrong{
		{"method", request("PATCH", s.path, ""), http.StatusMethodNotAllowed, "method"},
		{
			"host", other(func(r *http.Request) { r.Host = "rebound.example:8173" }), http.StatusMisdirectedRequest,
			"host",
		},
		{"query", request(rt.method, s.path+"?more=1", s.body), http.StatusBadRequest, "bad-query"},
	}
	if rt.method == http.MethodGet {
		if strings.HasPrefix(rt.path, "/api/") {
			all = append(all, wrong{
				"read from another site",
				other(func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }), http.StatusForbidden, "cross-site",
			})
		}
	} else {
		all = append(
			all, wrong{
				"another site", other(func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }),
				http.StatusForbidden, "cross-site",
			},
			wrong{
				"another origin", other(func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") }),
				http.StatusForbidden, "cross-site",
			},
			wrong{
				"another port of this machine",
				other(func(r *http.Request) { r.Header.Set("Origin", "http://localhost:9000") }), http.StatusForbidden,
				"cross-site",
			},
		)
	}
	if rt.method == http.MethodPost || rt.method == http.MethodPut {
		all = append(
			all, wrong{"no JSON", request(rt.method, s.path, "{"), http.StatusBadRequest, "bad-json"},
			wrong{"unknown field", request(rt.method, s.path, `{"frobnicate": 1}`), http.StatusBadRequest, "bad-json"},
			wrong{"two objects", request(rt.method, s.path, `{} {}`), http.StatusBadRequest, "bad-json"},
			wrong{"bad UTF-8", request(rt.method, s.path, "{\"text\": \"\xff\"}"), http.StatusBadRequest, "not-utf-8"},
			wrong{
				"too large", request(rt.method, s.path, `{"text": "`+strings.Repeat("x", maxBodyBytes)+`"}`),
				http.StatusRequestEntityTooLarge, "too-large",
			},
			wrong{"media type", other(func(r *http.Request) {
				*r = *request(rt.method, s.path, "{}")
				r.Header.Set("Content-Type", "text/plain")
			}), http.StatusUnsupportedMediaType, "media-type"},
		)
		if hasBody(rt.in) {
			all = append(all, wrong{"nothing", request(rt.method, s.path, ""), http.StatusBadRequest, "bad-json"})
		}
	}
	for _, x := range all {
		res := f.do(x.r)
		media := res.Header.Get("Content-Type")
		status, answer := read(t, res)
		if status != x.status || fault(t, answer) != x.id {
			t.Errorf("%s: status %d, want %d: %s", x.name, status, x.status, answer)
		}
		spec.holds(t, rt, status, media, answer)
	}
}

// TestTricks: no path leads elsewhere.
func TestTricks(t *testing.T) {
	f := newFixture(t, nil)
	for _, p := range []string{
		"/page/../server.go", "/page/%2e%2e/server.go", "/page/..%2fserver.go", "/page//index.html",
		"//elsewhere.example", "/page/", "/page", "/page/.git",
		"/api/../page/index.html", "/page/index.html%00.js", "/page/..%5cserver.go", "/etc/passwd", "/api/nothing",
		"/api/studies/", "/login", "/%2e%2e/%2e%2e/etc/passwd",
	} {
		status, answer := f.asked("GET", p, "")
		if status != http.StatusNotFound || fault(t, answer) != "not-found" {
			t.Errorf("%s: status %d: %.200s", p, status, answer)
		}
	}
	for _, id := range []string{"none", "..", "%2e%2e", "a%2fb", "'%20OR%201=1"} {
		if status, answer := f.asked("GET", "/api/studies/"+id, ""); status != http.StatusNotFound {
			t.Errorf("study %s: status %d: %.200s", id, status, answer)
		}
	}
}

// TestPlainWords: a fault of the JSON is worded without the names of Go.
func TestPlainWords(t *testing.T) {
	f := newFixture(t, nil)
	for _, tt := range []struct{ body, want string }{
		{`{"name": 3}`, "name is a number"},
		{`{"nmae": "x"}`, `unknown field \"nmae\"`},
		{`[]`, "it is a array"},
		{`{"name": "x`, "ends too early"},
		{`{"name" "x"}`, "at byte"},
	} {
		status, answer := f.asked("POST", "/api/studies", tt.body)
		if status != http.StatusBadRequest || !strings.Contains(answer, tt.want) || strings.Contains(answer, "Go ") ||
			strings.Contains(answer, "web.") {
			t.Errorf("%s: %d %s, want %q", tt.body, status, answer, tt.want)
		}
	}
}
