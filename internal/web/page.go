package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
)

//go:embed page
var pageFiles embed.FS

// mediaTypes are those of files of the page. Others are not served.
var mediaTypes = map[string]string{
	".html": "text/html; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".ico":  "image/x-icon",
	".json": mediaJSON,
	".txt":  "text/plain; charset=utf-8",
}

// asset is a file of the page, ready to be sent.
type asset struct {
	media, tag    string
	plain, zipped []byte // zipped is nil where it is not smaller
}

// newPages reads the files of the page once: index.html at /, all at /page/.
func newPages() (map[string]*asset, error) {
	out := map[string]*asset{}
	err := fs.WalkDir(pageFiles, "page", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := pageFiles.ReadFile(name)
		if err != nil {
			return err
		}
		media := mediaTypes[path.Ext(name)]
		if media == "" {
			return fmt.Errorf("the page holds %s, whose type is not known here: add it to mediaTypes", name)
		}
		out["/"+name], err = newAsset(media, data)
		return err
	})
	if err != nil {
		return nil, err
	}
	if out["/"] = out["/page/index.html"]; out["/"] == nil {
		return nil, fmt.Errorf("the page has no index.html")
	}
	if icon := out["/page/favicon.svg"]; icon != nil {
		out["/favicon.ico"] = icon
	}
	out["/login.css"], err = newAsset(mediaTypes[".css"], loginStyle)
	return out, err
}

func newAsset(media string, data []byte) (*asset, error) {
	sum := sha256.Sum256(data)
	out := &asset{media: media, tag: hex.EncodeToString(sum[:8]), plain: data}
	var buf bytes.Buffer
	z, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	if buf.Len() < len(data) {
		out.zipped = buf.Bytes()
	}
	return out, nil
}

// pages serves the page, and the log-in before it where a token is needed.
func (s *Server) pages(files map[string]*asset) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/login" && s.Token != "" {
			s.login(w, r)
			return
		}
		a := files[r.URL.Path]
		if a == nil {
			s.refuse(w, r, notFound())
			return
		}
		noted(r.Context()).route = "/page"
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			s.refuse(w, r, &Fault{
				Status: http.StatusMethodNotAllowed, ID: "method",
				Text: "the method " + methodName(r.Method) +
					" is not known at this address", Mend: "there are: GET, HEAD",
			})
			return
		}
		if r.URL.Path == "/" && !s.admitted(r) {
			http.Redirect(w, r, "/login", http.StatusSeeOther)
			return
		}
		a.write(w, r)
	})
}

func (a *asset) write(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	data, tag := a.plain, `"`+a.tag+`"`
	if a.zipped != nil {
		h.Set("Vary", "Accept-Encoding")
		if takesGzip(r.Header.Get("Accept-Encoding")) {
			data, tag = a.zipped, `"`+a.tag+`-gz"`
			h.Set("Content-Encoding", "gzip")
		}
	}
	h.Set("ETag", tag)
	h.Set("Cache-Control", "no-cache")
	if matches(r.Header.Get("If-None-Match"), tag) {
		h.Del("Content-Encoding")
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Type", a.media)
	h.Set("Content-Length", fmt.Sprint(len(data)))
	if r.Method == http.MethodHead {
		return
	}
	_, _ = w.Write(data) // a client that has gone gets nothing
}

// takesGzip reads Accept-Encoding: gzip, unless it is given no weight.
func takesGzip(accept string) bool {
	for _, part := range strings.Split(accept, ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(part, " ", ""), ";")
		if strings.EqualFold(name, "gzip") {
			return weight != "q=0" && !strings.HasPrefix(weight, "q=0.0")
		}
	}
	return false
}

// matches reports whether a tag is among those that the browser has.
func matches(have, tag string) bool {
	for _, part := range strings.Split(have, ",") {
		if part = strings.TrimPrefix(strings.TrimSpace(part), "W/"); part == tag || part == "*" {
			return true
		}
	}
	return false
}
