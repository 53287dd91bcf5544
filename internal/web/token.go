package web

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	_ "embed"
	"encoding/hex"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"time"
)

// MinTokenLength is the length from which on a token is taken, in characters.
const MinTokenLength = 32

// sessionCookie carries what shows that the token was given.
const sessionCookie = "seatward"

// sessionAge is how long a browser need not be asked again.
const sessionAge = 30 * 24 * time.Hour

// Wrong tokens from one address: so many in this time, and so many addresses remembered.
const (
	mostGuesses   = 10
	guessTime     = time.Minute
	mostAddresses = 10_000
)

//go:embed login.html
var loginPage []byte

//go:embed login.css
var loginStyle []byte

// session is what the cookie holds: made from the token, which cannot be read from it, and
// worthless as soon as the token is another one.
func (s *Server) session() string {
	mac := hmac.New(sha256.New, []byte(s.Token))
	mac.Write([]byte("seatward session"))
	return hex.EncodeToString(mac.Sum(nil))
}

// admitted reports whether a request shows the token, where one is needed.
func (s *Server) admitted(r *http.Request) bool {
	if s.Token == "" {
		return true
	}
	if c, err := r.Cookie(sessionCookie); err == nil && equal(c.Value, s.session()) {
		return true
	}
	given, bearer := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	return bearer && s.guesses.mayTry(remote(r), s.Now()) && s.right(r, given)
}

// right compares a token, and remembers who was wrong.
func (s *Server) right(r *http.Request, given string) bool {
	if equal(given, s.Token) {
		return true
	}
	s.guesses.wrong(remote(r), s.Now())
	s.count.wrongTokens.Add(1)
	return false
}

// equal takes the same time whatever the difference is.
func equal(a, b string) bool {
	x, y := sha256.Sum256([]byte(a)), sha256.Sum256([]byte(b))
	return subtle.ConstantTimeCompare(x[:], y[:]) == 1
}

// unknown is the fault of who has not shown the token.
func (s *Server) unknown(r *http.Request) error {
	if !s.guesses.mayTry(remote(r), s.Now()) {
		return tooManyGuesses()
	}
	return &Fault{
		Status: http.StatusUnauthorized, ID: "token", Text: "the server asks for its token",
		Mend: "log in at /login, or send Authorization: Bearer TOKEN",
	}
}

func tooManyGuesses() *Fault {
	return &Fault{
		Status: http.StatusTooManyRequests, ID: "too-many-tries", RetryAfter: guessTime,
		Text: "too many wrong tokens came from your address", Mend: "wait a minute",
	}
}

// login serves the form and takes the token.
func (s *Server) login(w http.ResponseWriter, r *http.Request) {
	noted(r.Context()).route = "/login"
	switch r.Method {
	case http.MethodGet, http.MethodHead:
		writeLogin(w, http.StatusOK, "")
	case http.MethodPost:
		r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
		switch {
		case !s.guesses.mayTry(remote(r), s.Now()):
			writeLogin(w, http.StatusTooManyRequests, "Too many wrong tokens came from your address: wait a minute.")
		case s.Token == "" || !s.right(r, strings.TrimSpace(r.PostFormValue("token"))):
			writeLogin(w, http.StatusUnauthorized, "That is not the token.")
		default:
			http.SetCookie(w, s.cookie(r, s.session(), sessionAge))
			http.Redirect(w, r, "/", http.StatusSeeOther)
		}
	default:
		w.Header().Set("Allow", "GET, HEAD, POST")
		s.refuse(w, r, &Fault{
			Status: http.StatusMethodNotAllowed, ID: "method",
			Text: "the method " + r.Method + " is not known at this address", Mend: "there are: GET, HEAD, POST",
		})
	}
}

func (s *Server) cookie(r *http.Request, value string, age time.Duration) *http.Cookie {
	return &http.Cookie{
		Name: sessionCookie, Value: value, Path: "/", MaxAge: int(age.Seconds()), HttpOnly: true,
		SameSite: http.SameSiteStrictMode,
		Secure:   r.TLS != nil || r.Header.Get("X-Forwarded-Proto") == "https",
	}
}

func writeLogin(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	if status == http.StatusTooManyRequests {
		w.Header().Set("Retry-After", "60")
	}
	w.WriteHeader(status)
	_, _ = w.Write([]byte(strings.Replace(string(loginPage), "<!-- said -->", text,
		1))) // a client that has gone gets nothing
}

// guesses remembers who gave wrong tokens.
type guesses struct {
	mu   sync.Mutex
	from map[string]*tries
}

type tries struct {
	since time.Time
	n     int
}

func newGuesses() *guesses { return &guesses{from: map[string]*tries{}} }

// mayTry reports whether an address may show a token now.
func (g *guesses) mayTry(address string, now time.Time) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	t := g.from[network(address)]
	switch {
	case t == nil:
		return len(g.from) < mostAddresses || g.forget(now)
	case now.Sub(t.since) > guessTime:
		delete(g.from, network(address))
		return true
	}
	return t.n < mostGuesses
}

// wrong counts a wrong token.
func (g *guesses) wrong(address string, now time.Time) {
	g.mu.Lock()
	defer g.mu.Unlock()
	key := network(address)
	if g.from[key] == nil {
		g.from[key] = &tries{since: now}
	}
	g.from[key].n++
}

// forget drops what is over, and reports whether there is room again.
func (g *guesses) forget(now time.Time) bool {
	for a, t := range g.from {
		if now.Sub(t.since) > guessTime {
			delete(g.from, a)
		}
	}
	return len(g.from) < mostAddresses
}

// network is the part of an address that one person has: all of IPv4, half of IPv6.
func network(address string) string {
	ip, err := netip.ParseAddr(address)
	if err != nil || ip.Unmap().Is4() {
		return address
	}
	p, err := ip.WithZone("").Prefix(64)
	if err != nil {
		return address
	}
	return p.String()
}
