package web

import (
	"net/http"
	"sync"
	"time"
)

// lineWriter writes an answer that comes in lines, each a JSON object. The head goes out
// with the first line: until then a fault is an answer of its own.
type lineWriter struct {
	mu      sync.Mutex // progress comes from many goroutines
	w       http.ResponseWriter
	started bool
}

// progress tells how far the work has come.
func (l *lineWriter) progress(done, total int) {
	_ = l.write(map[string]int{
		"done":  done,
		"total": total,
	}) // numbers can be written; who does not listen ends the work by the context
}

// write sends one line at once.
func (l *lineWriter) write(v any) error {
	data, err := marshal(v)
	if err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.started {
		l.started = true
		l.w.Header().Set("Content-Type", mediaLines)
		l.w.Header().Set("Cache-Control", "no-store")
		l.w.WriteHeader(http.StatusOK)
	}
	control := http.NewResponseController(l.w)
	_ = control.SetWriteDeadline(time.Now().Add(writeTimeout)) // not every writer has one
	_, _ = l.w.Write(append(data, '\n'))                       // a client that has gone gets nothing
	_ = control.Flush()                                        // as above
	return nil
}

// fault ends the lines with a fault; where no line is out yet, the caller answers.
func (l *lineWriter) fault(r *http.Request, err error) error {
	l.mu.Lock()
	started := l.started
	l.mu.Unlock()
	if !started {
		return err
	}
	f := faultOf(err)
	if f == nil {
		f = internalFault(requestID(r.Context()))
		noted(r.Context()).fault = err
	}
	return l.write(problem{*f})
}
