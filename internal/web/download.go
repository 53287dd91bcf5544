package web

import (
	"fmt"
	"mime"
	"net/http"
)

// download is an answer that is a file.
type download struct {
	media string
	name  string // of the file to be saved; "" to show it
	data  []byte
	paper bool // a document of its own in a frame: it may nothing but show itself
}

func (d *download) write(w http.ResponseWriter, status int) error {
	h := w.Header()
	if d.name != "" {
		h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": d.name}))
	}
	if d.paper {
		h.Set("Content-Security-Policy", paperPolicy)
	}
	h.Set("Content-Type", d.media)
	h.Set("Cache-Control", "no-store")
	h.Set("Content-Length", fmt.Sprint(len(d.data)))
	w.WriteHeader(status)
	_, _ = w.Write(d.data) // a client that has gone gets nothing
	return nil
}
