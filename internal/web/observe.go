package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// note is what is kept of a request for the log. Nothing of a station goes into it.
type note struct {
	id      string
	route   string // pattern, so that there are few
	refused string // ID of the fault
	fault   error  // of the program
}

type noteKey struct{}

// noted is the note of a request, or one that nobody reads.
func noted(ctx context.Context) *note {
	if n, ok := ctx.Value(noteKey{}).(*note); ok {
		return n
	}
	return &note{}
}

func requestID(ctx context.Context) string { return noted(ctx).id }

// recorder sees status and size of an answer.
type recorder struct {
	http.ResponseWriter
	status int
	bytes  int64
}

// WriteHeader notes the status.
func (w *recorder) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write counts bytes.
func (w *recorder) Write(p []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	n, err := w.ResponseWriter.Write(p)
	w.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController through.
func (w *recorder) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// observed counts and logs every request, and turns a panic into an answer.
func (s *Server) observed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		began := time.Now()
		n := &note{id: fmt.Sprintf("%s-%d", s.name, s.number.Add(1)), route: "other"}
		rec := &recorder{ResponseWriter: w}
		r = r.WithContext(context.WithValue(r.Context(), noteKey{}, n))
		defer func() {
			took := time.Since(began)
			s.count.request(n.route, r.Method, rec.status, took)
			s.log(r, n, rec, took)
		}()
		defer s.recovered(rec, r, n)
		next.ServeHTTP(rec, r)
	})
}

// recovered answers 500 after a panic, where nothing has been sent yet.
func (s *Server) recovered(w *recorder, r *http.Request, n *note) {
	cause := recover()
	if cause == nil {
		return
	}
	if err, ok := cause.(error); ok && errors.Is(err, http.ErrAbortHandler) {
		panic(cause) // the client is gone: net/http ends the connection
	}
	s.count.panics.Add(1)
	s.Log.Error("panic", "request", n.id, "route", n.route, "cause", fmt.Sprint(cause), "stack", string(debug.Stack()))
	if w.status != 0 {
		panic(http.ErrAbortHandler) // half an answer must not look like a whole one
	}
	f := internalFault(n.id)
	n.refused = f.ID
	writeFault(w, r, f, nil)
}

func (s *Server) log(r *http.Request, n *note, w *recorder, took time.Duration) {
	level := slog.LevelInfo
	attrs := []slog.Attr{
		slog.String("request", n.id), slog.String("method", methodName(r.Method)), slog.String("route", n.route),
		slog.Int("status", w.status),
		slog.Int64("bytes", w.bytes), slog.Float64("seconds", took.Seconds()), slog.String("from", remote(r)),
	}
	if n.refused != "" {
		attrs = append(attrs, slog.String("refused", n.refused))
	}
	if n.fault != nil {
		level = slog.LevelError
		attrs = append(attrs, slog.String("fault", n.fault.Error()))
	}
	s.Log.LogAttrs(r.Context(), level, "request", attrs...)
}

// methodName keeps the names of methods few.
func methodName(m string) string {
	if slices.Contains([]string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete},
		m) {
		return m
	}
	return "other"
}

// allowed lists the methods of an address.
func allowed(methods map[string]*route) string {
	var out []string
	for m := range methods {
		out = append(out, m)
		if m == http.MethodGet {
			out = append(out, http.MethodHead)
		}
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}
