package web

import (
	"context"
	"net/http"
	"reflect"
	"strings"
)

// route is one thing that can be asked.
type route struct {
	method, path, summary string
	in, out               reflect.Type // out is nil where the answer is a file
	media                 string       // of the answer
	status                int          // of a good answer
	computes              bool         // takes one of the places for computations
	length                length       // of them
	conflicts             bool         // may answer 409 with yours and newest
	forms                 bool         // takes the JSON as the field of a form as well, and answers a browser's frame
	open                  bool         // needs no token
	serve                 serving
	stream                serving // progress, then the answer, where not nil
	streamBy              string  // what in the query asks for it
}

// serving answers one request, or says why not before anything has been written.
type serving func(rt *route, w http.ResponseWriter, r *http.Request) error

// answer is a route whose function turns one JSON object into another.
func answer[In, Out any](pattern, summary string, fn func(context.Context, In) (Out, error)) route {
	out := row[In](pattern, summary)
	out.out, out.media = reflect.TypeFor[Out](), mediaJSON
	out.serve = func(rt *route, w http.ResponseWriter, r *http.Request) error {
		in, err := decode[In](rt, r)
		if err != nil {
			return err
		}
		reply, err := fn(r.Context(), in)
		if err != nil {
			return err
		}
		return writeJSON(w, rt.status, reply)
	}
	return out
}

// file is a route whose answer is a file.
func file[In any](pattern, summary, media string, fn func(context.Context, In) (*download, error)) route {
	out := row[In](pattern, summary)
	out.media = media
	out.serve = func(rt *route, w http.ResponseWriter, r *http.Request) error {
		in, err := decode[In](rt, r)
		if err != nil {
			return err
		}
		d, err := fn(r.Context(), in)
		if err != nil {
			return err
		}
		return d.write(w, rt.status)
	}
	return out
}

// withProgress adds to a route what it answers where the query has the name, =1: lines of
// progress and, at the end, one with the answer. A client that goes away ends the work by
// its context.
func withProgress[In, Out any](rt route, name string,
	fn func(context.Context, In, func(done, total int)) (Out, error),
) route {
	rt.streamBy = name
	rt.stream = func(rt *route, w http.ResponseWriter, r *http.Request) error {
		in, err := decode[In](rt, r)
		if err != nil {
			return err
		}
		lines := &lineWriter{w: w}
		reply, err := fn(r.Context(), in, lines.progress)
		if err != nil {
			return lines.fault(r, err)
		}
		return lines.write(map[string]any{"answer": reply})
	}
	return rt
}

func row[In any](pattern, summary string) route {
	method, path, _ := strings.Cut(pattern, " ")
	return route{method: method, path: path, summary: summary, in: reflect.TypeFor[In](), status: http.StatusOK}
}

// computing marks a route that takes a place among the computations.
func (rt route) computing(l length) route {
	rt.computes, rt.length = true, l
	return rt
}

// creating marks a route whose good answer is 201.
func (rt route) creating() route {
	rt.status = http.StatusCreated
	return rt
}

// conflicting marks a route that may answer 409.
func (rt route) conflicting() route {
	rt.conflicts = true
	return rt
}

// framed marks a route whose answer may be shown in a frame of the page, which a form fills.
func (rt route) framed() route {
	rt.forms = true
	return rt
}

// public marks a route that needs no token.
func (rt route) public() route {
	rt.open = true
	return rt
}
