package web

import (
	"context"
	"errors"
	"fmt"
	"html"
	"net/http"
	"strconv"
	"strings"
	"time"

	"seatward/internal/desk"
	"seatward/internal/store"
)

// Fault is why a request has no answer.
type Fault struct {
	Status     int           `json:"-"`
	RetryAfter time.Duration `json:"-"` // where not zero, the client is asked to come again
	ID         string        `json:"id" jsonschema_description:"Stable name of the fault"`
	Text       string        `json:"text" jsonschema_description:"What is wrong, in a sentence"`
	Mend       string        `json:"mend,omitempty" jsonschema_description:"How to mend it"`
	Messages   []Message     `json:"messages,omitempty" jsonschema_description:"Every fault of the file, with its place"`
}

// Error is the fault in one line.
func (f *Fault) Error() string { return f.ID + ": " + f.Text }

// Message is one fault of a file or of a field.
type Message = desk.Message

// problem is the body of an answer that is none.
type problem struct {
	Error Fault `json:"error"`
}

// conflict is the body of 409 after a save.
type conflict struct {
	Error  Fault    `json:"error"`
	Yours  Draft    `json:"yours" jsonschema_description:"What was refused"`
	Newest Revision `json:"newest" jsonschema_description:"What is kept"`
}

// conflictFault carries both sides of a refused save.
type conflictFault struct {
	*Fault
	yours  Draft
	newest Revision
}

// faultOf finds what an error is to the client: one of the interface, of the time that it had
// or of the store, or what the desk makes of it. What nobody knows is a fault of the program,
// whose text stays in the log.
func faultOf(err error) *Fault {
	var f *Fault
	var both *conflictFault
	switch {
	case errors.As(err, &both):
		return both.Fault
	case errors.As(err, &f):
		return f
	case errors.Is(err, context.DeadlineExceeded):
		return &Fault{
			Status: http.StatusServiceUnavailable, ID: "too-long",
			Text: "the computation took too long and was given up", Mend: "ask for one valve at a time, or a shorter main",
		}
	case errors.Is(err, context.Canceled):
		return &Fault{
			Status: http.StatusServiceUnavailable, ID: "canceled", Text: "the request was given up",
			RetryAfter: retryAfter,
		}
	}
	if e := desk.Told(err); e != nil {
		return &Fault{
			Status: http.StatusUnprocessableEntity, ID: e.ID, Text: e.Text, Mend: e.Mend,
			Messages: e.Messages,
		}
	}
	return storeFault(err)
}

// storeFault words what the store says.
func storeFault(err error) *Fault {
	var invalid *store.InvalidError
	if errors.As(err, &invalid) {
		m := Message{
			ID: "draft-" + invalid.Part, Path: invalid.Part, Text: invalid.Error(), Found: invalid.Found,
			Expected: invalid.Expected,
		}
		return &Fault{Status: http.StatusUnprocessableEntity, ID: m.ID, Text: m.Text, Messages: []Message{m}}
	}
	for _, known := range []struct {
		is     error
		status int
		id     string
		again  bool
	}{
		{store.ErrNotFound, http.StatusNotFound, "not-kept", false},
		{store.ErrRemoved, http.StatusGone, "removed", false},
		{store.ErrFull, http.StatusInsufficientStorage, "disk-full", false},
		{store.ErrBusy, http.StatusServiceUnavailable, "store-busy", true},
		{store.ErrNotWritable, http.StatusServiceUnavailable, "store-not-writable", false},
		{store.ErrGone, http.StatusServiceUnavailable, "store-gone", false},
		{store.ErrDisk, http.StatusServiceUnavailable, "disk", false},
		{store.ErrDamaged, http.StatusServiceUnavailable, "store-damaged", false},
	} {
		if errors.Is(err, known.is) {
			out := &Fault{Status: known.status, ID: known.id, Text: known.is.Error()}
			if known.again {
				out.RetryAfter = retryAfter
			}
			return out
		}
	}
	return nil
}

// internalFault is what a client reads of a fault of the program.
func internalFault(request string) *Fault {
	return &Fault{
		Status: http.StatusInternalServerError, ID: "internal",
		Text: "a fault of the program, not of your request; it stands in the log as " +
			request, Mend: "send the log and what you asked to who keeps the program",
	}
}

// retryAfter is when a client may come again, where the server is busy.
const retryAfter = 2 * time.Second

// writeFault answers with a fault: JSON, or a page where a frame waits for one.
func writeFault(w http.ResponseWriter, r *http.Request, f *Fault, err error) {
	if f.RetryAfter > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(int(f.RetryAfter.Seconds()+0.5)))
	}
	if strings.HasPrefix(r.Header.Get("Content-Type"), mediaForm) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.WriteHeader(f.Status)
		fmt.Fprintf(w, "<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>No answer</title>\n<p>%s</p>\n<p>%s</p>\n", html.EscapeString(f.Text), html.EscapeString(f.Mend))
		return
	}
	var both *conflictFault
	if errors.As(err, &both) {
		_ = writeJSON(w, f.Status, conflict{*f, both.yours, both.newest}) // a client that has gone gets nothing
		return
	}
	_ = writeJSON(w, f.Status, problem{*f}) // as above
}

// writeJSON answers with JSON. An answer that cannot be written as JSON is a fault of the
// program, and nothing has been sent then.
func writeJSON(w http.ResponseWriter, status int, v any) error {
	data, err := marshal(v)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", mediaJSON)
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(append(data, '\n')) // a client that has gone gets nothing
	return nil
}
