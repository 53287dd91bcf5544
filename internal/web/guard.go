package web

import (
	"net"
	"net/http"
	"net/netip"
	"path"
	"strconv"
	"strings"
)

// pagePolicy is what a page of ours may do: nothing but what comes from here, no script in
// the text of the page, no frame around it.
const pagePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; font-src 'self'; " +
	"frame-src 'self' blob:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// paperPolicy is what a document in a frame may do: show itself. It runs nothing, asks
// nothing and stands for no origin.
const paperPolicy = "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'"

// guarded turns away what no honest page sends.
func (s *Server) guarded(next http.Handler) http.Handler {
	same := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", pagePolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		switch {
		case s.Loopback && !IsLoopback(r.Host):
			s.refuse(w, r, &Fault{
				Status: http.StatusMisdirectedRequest, ID: "host",
				Text: "this server does not go by the name that was asked for", Mend: "open it as http://localhost or http://127.0.0.1 with its port",
			})
		case !plainPath(r.URL.Path):
			s.refuse(w, r, notFound())
		case same.Check(r) != nil || foreignRead(r):
			s.refuse(w, r, &Fault{
				Status: http.StatusForbidden, ID: "cross-site",
				Text: "the request comes from another site", Mend: "ask from the page itself",
			})
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// foreignRead reports a read of the interface that another site has its visitor make. To
// follow a link to the page is fine.
func foreignRead(r *http.Request) bool {
	site := r.Header.Get("Sec-Fetch-Site")
	return strings.HasPrefix(r.URL.Path, "/api/") && (site == "cross-site" || site == "same-site")
}

// plainPath is true for a path without tricks.
func plainPath(p string) bool {
	return strings.HasPrefix(p, "/") && path.Clean(p) == p && !strings.ContainsAny(p, "\\\x00")
}

// IsLoopback is true for names and addresses of this machine itself, with a port or without.
func IsLoopback(host string) bool {
	name := host
	if h, port, err := net.SplitHostPort(host); err == nil {
		if _, err := strconv.ParseUint(port, 10, 16); err != nil {
			return false
		}
		name = h
	}
	name = strings.TrimSuffix(strings.TrimPrefix(name, "["), "]")
	if strings.EqualFold(name, "localhost") {
		return true
	}
	ip, err := netip.ParseAddr(name)
	return err == nil && ip.Unmap().IsLoopback()
}

// remote is the address that asks, without its port.
func remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

func notFound() *Fault {
	return &Fault{
		Status: http.StatusNotFound, ID: "not-found", Text: "nothing stands at this address",
		Mend: "see / for the page and /api/openapi.json for the interface",
	}
}
