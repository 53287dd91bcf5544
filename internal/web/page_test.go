package web

import (
	"compress/gzip"
	"io"
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// TestPage: every file of the page comes with its type, plain and packed, and is not sent
// again to who has it.
func TestPage(t *testing.T) {
	f := newFixture(t, nil)
	names := []string{"/", "/login.css"}
	err := fs.WalkDir(pageFiles, "page", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, "/"+name)
		}
		return err
	})
	if err != nil || len(names) < 3 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		res := f.do(request("GET", name, ""))
		tag := res.Header.Get("ETag")
		status, plain := read(t, res)
		if status != http.StatusOK || res.Header.Get("Content-Type") == "" || tag == "" || plain == "" ||
			!strings.Contains(res.Header.Get("Content-Security-Policy"), "script-src 'self';") {
			t.Errorf("%s: %d %v", name, status, res.Header)
		}
		r := request("GET", name, "")
		r.Header.Set("Accept-Encoding", "br, gzip")
		res = f.do(r)
		if res.Header.Get("Content-Encoding") == "gzip" {
			z, err := gzip.NewReader(res.Body)
			if err != nil {
				t.Fatal(err)
			}
			if data, err := io.ReadAll(z); err != nil || string(data) != plain || res.Header.Get("ETag") == tag ||
				res.Header.Get("Vary") != "Accept-Encoding" {
				t.Errorf("%s packed: %v, %v", name, err, res.Header)
			}
		}
		r.Header.Set("If-None-Match", `"x", W/`+res.Header.Get("ETag"))
		if res = f.do(r); res.StatusCode != http.StatusNotModified {
			t.Errorf("%s again: %d", name, res.StatusCode)
		}
		if status, body := read(t, f.do(request("HEAD", name, ""))); status != http.StatusOK || body != "" {
			t.Errorf("HEAD %s: %d, %d bytes", name, status, len(body))
		}
		if status, _ := f.asked("POST", name, ""); status != http.StatusMethodNotAllowed {
			t.Errorf("POST %s: %d", name, status)
		}
	}
}

// TestPageKeepsPolicy: the page has nothing that its policy bars.
func TestPageKeepsPolicy(t *testing.T) {
	data, err := pageFiles.ReadFile("page/index.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{`<script>`, `<style`, ` style="`, ` on[a-z]+="`, `(src|href)="(https?:)?//`} {
		if found := regexp.MustCompile(bad).Find(data); found != nil {
			t.Errorf("index.html has %q, which the policy bars", found)
		}
	}
}

// TestTakesGzip reads the header as browsers and others write it.
func TestTakesGzip(t *testing.T) {
	for accept, want := range map[string]bool{
		"": false, "gzip": true, "deflate, gzip;q=1.0": true, "gzip;q=0": false,
		"GZIP": true, "br": false, "gzip; q=0.5": true,
	} {
		if got := takesGzip(accept); got != want {
			t.Errorf("%q: %v", accept, got)
		}
	}
}

// TestLoopbackNames: only names of this machine pass.
func TestLoopbackNames(t *testing.T) {
	for host, want := range map[string]bool{
		"localhost": true, "localhost:8173": true, "LOCALHOST:1": true, "127.0.0.1:8173": true, "127.9.9.9": true,
		"[::1]:8173": true, "[::1]": true, "[::ffff:127.0.0.1]:1": true,
		"": false, "localhost.example": false, "127.0.0.1.example:8173": false, "192.0.2.1": false,
		"example:8173": false, "0.0.0.0:8173": false, "[::]:8173": false, "localhost:8173@x": false,
	} {
		if got := IsLoopback(host); got != want {
			t.Errorf("%q: %v", host, got)
		}
	}
}
