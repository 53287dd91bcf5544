package web

import (
	"context"
	"crypto/rand"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync/atomic"
	"time"

	"seatward/catalog"
	"seatward/internal/desk"
	"seatward/internal/store"
	"seatward/rules"
)

// Limits of a connection.
const (
	headerTimeout = 10 * time.Second
	readTimeout   = time.Minute
	writeTimeout  = queueTime + computeTimeout + time.Minute
	idleTimeout   = 2 * time.Minute
	maxHeader     = 32 << 10
	// stopTimeout is what a request under way has when the server stops; then its work is
	// given up, and it has closeTimeout to say so.
	stopTimeout  = 5 * time.Second
	closeTimeout = 5 * time.Second
)

// Config says what is served, and to whom.
type Config struct {
	Store        *store.Store // nil where no studies are kept
	Catalogs     []*catalog.Catalog
	Rules        *rules.Book
	Token        string // whoever asks must show it; empty on loopback only
	Loopback     bool   // only this machine can ask: the Host must be a name of it
	Computations int    // at once
	Program      string // name and version, for documents
	Log          *slog.Logger
	Now          func() time.Time // nil for the clock
	Longest      time.Duration    // of one computation; zero for two minutes
}

// Server answers the page and whoever asks as it does.
type Server struct {
	Config
	desk    *desk.Desk
	table   []route
	handler http.Handler
	places  *places
	bodies  bodies
	count   *counters
	guesses *guesses
	spec    []byte // OpenAPI
	name    string // begins the IDs of requests
	number  atomic.Int64
}

// New makes a server. The errors are those of a page or table that cannot be served.
func New(c Config) (*Server, error) { return newServer(c) }

func newServer(c Config, more ...route) (*Server, error) {
	if !c.Loopback && len(c.Token) < MinTokenLength {
		return nil, errors.New("a server that others can reach needs a token")
	}
	if c.Longest == 0 {
		c.Longest = computeTimeout
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	s := &Server{
		Config: c, desk: desk.New(c.Catalogs, c.Rules), places: newPlaces(max(1, c.Computations)),
		count: newCounters(), guesses: newGuesses(), name: rand.Text()[:8],
	}
	files, err := newPages()
	if err != nil {
		return nil, err
	}
	s.table = append(s.routes(), more...)
	if s.spec, err = openAPI(s.table, c.Program); err != nil {
		return nil, err
	}
	s.handler = s.observed(s.guarded(s.mux(s.pages(files))))
	return s, nil
}

// Serve answers at a listener until ctx ends; then requests under way may finish, and work
// that takes longer is given up.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	work, giveUp := context.WithCancel(context.WithoutCancel(ctx))
	defer giveUp()
	h := &http.Server{
		Handler: s.handler, ReadHeaderTimeout: headerTimeout, ReadTimeout: readTimeout, WriteTimeout: writeTimeout,
		IdleTimeout:    idleTimeout,
		MaxHeaderBytes: maxHeader, ErrorLog: slog.NewLogLogger(s.Log.Handler(), slog.LevelWarn),
		BaseContext: func(net.Listener) context.Context { return work },
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	s.Log.Info("stopping")
	patience, stop := context.WithTimeout(work, stopTimeout)
	defer stop()
	err := h.Shutdown(patience)
	if errors.Is(err, context.DeadlineExceeded) {
		giveUp()
		last, stop := context.WithTimeout(context.WithoutCancel(ctx), closeTimeout)
		defer stop()
		err = h.Shutdown(last)
	}
	<-failed // h.Serve has ended
	return errors.Join(err, h.Close())
}

// mux leads to the routes and the page.
func (s *Server) mux(pages http.Handler) http.Handler {
	byPath := map[string]map[string]*route{}
	for i := range s.table {
		rt := &s.table[i]
		if byPath[rt.path] == nil {
			byPath[rt.path] = map[string]*route{}
		}
		byPath[rt.path][rt.method] = rt
	}
	mux := http.NewServeMux()
	for path, methods := range byPath {
		mux.Handle(path, s.dispatch(path, methods))
	}
	mux.Handle("/", pages)
	return mux
}

// dispatch picks the route of a path by the method.
func (s *Server) dispatch(path string, methods map[string]*route) http.Handler {
	allow := allowed(methods)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		method := r.Method
		if method == http.MethodHead {
			method = http.MethodGet
		}
		rt := methods[method]
		if rt == nil {
			noted(r.Context()).route = path
			w.Header().Set("Allow", allow)
			s.refuse(w, r, &Fault{
				Status: http.StatusMethodNotAllowed, ID: "method",
				Text: "the method " + r.Method + " is not known at this address", Mend: "there are: " + allow,
			})
			return
		}
		noted(r.Context()).route = path
		if err := s.ask(rt, w, r); err != nil {
			s.refuse(w, r, err)
		}
	})
}

// ask lets a route answer, in its place among the computations where it needs one.
func (s *Server) ask(rt *route, w http.ResponseWriter, r *http.Request) error {
	if !rt.open && !s.admitted(r) {
		return s.unknown(r)
	}
	release, err := s.receive(w, r)
	if err != nil {
		return err
	}
	defer release()
	if rt.computes {
		leave, err := s.places.take(r.Context(), rt.length)
		if err != nil {
			return err
		}
		defer leave()
		ctx, stop := context.WithTimeout(r.Context(), s.Longest)
		defer stop()
		r = r.WithContext(ctx)
	}
	if rt.stream != nil && r.URL.Query().Get(rt.streamBy) == "1" {
		return rt.stream(rt, w, r)
	}
	return rt.serve(rt, w, r)
}

// refuse answers with the fault of an error.
func (s *Server) refuse(w http.ResponseWriter, r *http.Request, err error) {
	n := noted(r.Context())
	f := faultOf(err)
	if f == nil {
		f, n.fault = internalFault(n.id), err
	}
	n.refused = f.ID
	writeFault(w, r, f, err)
}
