package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

const secret = "0123456789abcdef0123456789abcdef"

// guardedFixture is a server that others can reach, with a clock of its own.
func guardedFixture(t *testing.T) (*fixture, *time.Time) {
	now := time.Unix(2e9, 0)
	return newFixture(t, func(c *Config) {
		c.Loopback, c.Token, c.Now = false, secret, func() time.Time { return now }
	}), &now
}

// login sends the form.
func (f *fixture) login(token string) *http.Response {
	r := request("POST", "/login", "token="+url.QueryEscape(token))
	r.Header.Set("Content-Type", mediaForm)
	return f.do(r)
}

// TestToken: without the token nothing of the interface answers; with it, all does.
func TestToken(t *testing.T) {
	f, _ := guardedFixture(t)
	var cookie *http.Cookie
	for _, c := range f.login(secret).Cookies() {
		cookie = c
	}
	if cookie == nil || !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode ||
		strings.Contains(cookie.Value, secret) {
		t.Fatalf("cookie %+v", cookie)
	}
	for name, s := range f.samples() {
		method, _, _ := strings.Cut(name, " ")
		status, answer := f.asked(method, s.path, s.body)
		if s.path == "/healthz" {
			if status != http.StatusOK {
				t.Errorf("%s: %d", name, status)
			}
			continue
		}
		if status != http.StatusUnauthorized || fault(t, answer) != "token" {
			t.Errorf("%s without the token: %d %.200s", name, status, answer)
		}
	}
	for _, tt := range []struct {
		name   string
		with   func(*http.Request)
		status int
	}{
		{"cookie", func(r *http.Request) { r.AddCookie(cookie) }, 200},
		{"bearer", func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+secret) }, 200},
		{"another name of the host", func(r *http.Request) { r.Host = "station.example"; r.AddCookie(cookie) }, 200},
		{
			"no cookie of ours", func(r *http.Request) { r.AddCookie(&http.Cookie{Name: sessionCookie, Value: secret}) },
			401,
		},
		{"wrong token", func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+secret[:31]) }, 401},
		{"in the address", func(r *http.Request) { r.URL.RawQuery = "token=" + secret }, 401},
		{
			"another site", func(r *http.Request) { r.AddCookie(cookie); r.Header.Set("Sec-Fetch-Site", "cross-site") },
			403,
		},
	} {
		r := request("GET", "/api/studies", "")
		tt.with(r)
		if status, answer := read(t, f.do(r)); status != tt.status {
			t.Errorf("%s: %d, want %d: %s", tt.name, status, tt.status, answer)
		}
	}
	if log := f.lg.String(); strings.Contains(log, secret) || strings.Contains(log, cookie.Value) {
		t.Error("the log holds the token")
	}
}

// TestLogin: the page leads to the form; the form to the page.
func TestLogin(t *testing.T) {
	f, _ := guardedFixture(t)
	res := f.do(request("GET", "/", ""))
	if res.StatusCode != http.StatusSeeOther || res.Header.Get("Location") != "/login" {
		t.Errorf("%d %v", res.StatusCode, res.Header)
	}
	if status, answer := f.asked("GET", "/login", ""); status != http.StatusOK ||
		!strings.Contains(answer, `name="token"`) || strings.Contains(answer, "<script") {
		t.Errorf("%d %s", status, answer)
	}
	if res = f.login(secret); res.StatusCode != http.StatusSeeOther || res.Header.Get("Location") != "/" {
		t.Errorf("%d %v", res.StatusCode, res.Header)
	}
	r := request("GET", "/", "")
	r.AddCookie(res.Cookies()[0])
	if res = f.do(r); res.StatusCode != http.StatusOK {
		t.Errorf("the page after the form: %d", res.StatusCode)
	}
	if status, _ := f.asked("PUT", "/login", ""); status != http.StatusMethodNotAllowed {
		t.Errorf("PUT: %d", status)
	}
	r = request("POST", "/login", "token="+secret)
	r.Header.Set("Content-Type", mediaForm)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if res = f.do(r); res.StatusCode != http.StatusForbidden || len(res.Cookies()) != 0 {
		t.Errorf("from another site: %d %v", res.StatusCode, res.Cookies())
	}
}

// TestGuesses: so many wrong tokens a minute, whichever way they come, then not even the
// right one; another address is free to try, and so is the same one after the minute.
func TestGuesses(t *testing.T) {
	f, now := guardedFixture(t)
	bearer := func(token, from string) int {
		r := request("GET", "/api/examples", "")
		r.Header.Set("Authorization", "Bearer "+token)
		r.RemoteAddr = from
		return f.do(r).StatusCode
	}
	for i := range mostGuesses {
		status := bearer("wrong", "192.0.2.1:7")
		if i%2 == 1 {
			status = f.login("wrong").StatusCode // from 192.0.2.1 as well
		}
		if status != http.StatusUnauthorized && i < mostGuesses/2 {
			t.Fatalf("guess %d: %d", i, status)
		}
	}
	if got := bearer(secret, "192.0.2.1:8"); got != http.StatusTooManyRequests {
		t.Errorf("the right token after too many wrong ones: %d", got)
	}
	if res := f.login(secret); res.StatusCode != http.StatusTooManyRequests || res.Header.Get("Retry-After") != "60" ||
		len(res.Cookies()) != 0 {
		t.Errorf("the form: %d", res.StatusCode)
	}
	if got := bearer(secret, "192.0.2.2:7"); got != http.StatusOK {
		t.Errorf("another address: %d", got)
	}
	*now = now.Add(guessTime + time.Second)
	if got := bearer(secret, "192.0.2.1:9"); got != http.StatusOK {
		t.Errorf("after a minute: %d", got)
	}
}

// TestGuessesBounded: no flood of addresses fills the memory, and one person has one row.
func TestGuessesBounded(t *testing.T) {
	g, now := newGuesses(), time.Unix(2e9, 0)
	for i := range mostAddresses + 10 {
		if a := "192.0.2." + time.Duration(i).String(); g.mayTry(a, now) {
			g.wrong(a, now)
		}
	}
	if len(g.from) > mostAddresses {
		t.Errorf("%d addresses are remembered", len(g.from))
	}
	if later := now.Add(2 * guessTime); !g.mayTry("198.51.100.1", later) || len(g.from) != 0 {
		t.Errorf("after it is over %d are remembered", len(g.from))
	}
	if network("2001:db8::1") != network("2001:db8::ffff") || network("2001:db8::1") == network("2001:db8:0:1::1") ||
		network("::ffff:192.0.2.1") == network("::ffff:192.0.2.2") {
		t.Error("networks")
	}
}

// TestTokenNeeded: a server that others can reach is not made without a token.
func TestTokenNeeded(t *testing.T) {
	c := config(t)
	c.Loopback = false
	for _, token := range []string{"", secret[:31]} {
		c.Token = token
		if _, err := New(c); err == nil {
			t.Errorf("token %q is taken", token)
		}
	}
}
