package web

import (
	"archive/zip"
	"bytes"
	"image"
	"image/png"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"seatward/internal/document"
	"seatward/internal/render"
)

// paperRequest is a request for a data sheet, changed.
func paperRequest(change map[string]any) string {
	in := map[string]any{"text": text, "kind": "fieldcard", "valve": valve, "date": "2026-11-25"}
	for k, v := range change {
		in[k] = v
	}
	return asJSON(in)
}

// TestDocument: a paper comes as a file of a fixed name, the same bytes each time.
func TestDocument(t *testing.T) {
	f := newFixture(t, nil)
	res := f.do(request("POST", "/api/document", paperRequest(nil)))
	_, first := read(t, res)
	if got := res.Header.Get("Content-Disposition"); !strings.HasPrefix(got, "attachment; filename=fieldcard-") ||
		!strings.HasSuffix(got, "-flap-6in.pdf") {
		t.Errorf("name %q", got)
	}
	if res.Header.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(first, "%PDF-") ||
		!strings.HasPrefix(res.Header.Get("Content-Security-Policy"), "sandbox;") {
		t.Errorf("%v %.20q", res.Header, first)
	}
	if second := f.good("POST", "/api/document", paperRequest(nil)); second != first {
		t.Error("the same request gives other bytes")
	}
	if other := f.good("POST", "/api/document", paperRequest(map[string]any{"date": "2026-11-26"})); other == first {
		t.Error("the date does not come into the paper")
	}
}

// TestDocumentFaults: what is wrong is reported at its field.
func TestDocumentFaults(t *testing.T) {
	f := newFixture(t, nil)
	for _, tt := range []struct {
		change map[string]any
		id     string
	}{
		{map[string]any{"kind": "datashet"}, "kind"},
		{map[string]any{"format": "doc"}, "format"},
		{map[string]any{"date": "25.11.2026"}, "date"},
		{map[string]any{"units": "furlongs"}, "units-unknown"},
		{map[string]any{"valve": "flapp/6in"}, "valve-unknown"},
		{map[string]any{"picks": []map[string]string{{"option": "rubber", "choice": "EPDM"}}}, "picks"},
		{map[string]any{"text": "valve: {size: 6 furlongs}"}, "file"},
		{map[string]any{"profile": "company: [x]"}, "wrong-shape"},
		{map[string]any{"profile": map[string]any{"logo": "/etc/passwd"}}, "logo"},
		{map[string]any{"profile": 3}, "wrong-shape"},
		{map[string]any{"logo": []byte("no picture")}, "logo"},
	} {
		status, answer := f.asked("POST", "/api/document", paperRequest(tt.change))
		if id := fault(t, answer); status != http.StatusUnprocessableEntity || tt.id != "wrong-shape" && tt.id != id {
			t.Errorf("%v: %d %s", tt.change, status, answer)
		}
	}
}

// TestProfile: a profile comes as a text or as an object, with its logo beside it.
func TestProfile(t *testing.T) {
	var logo bytes.Buffer
	if err := png.Encode(&logo, image.NewGray(image.Rect(0, 0, 2, 2))); err != nil {
		t.Fatal(err)
	}
	for _, profile := range []string{`"company: Works\npaper: A4\n"`, `{"company": "Works", "paper": "A4"}`} {
		in := DocumentRequest{Profile: []byte(profile), Logo: logo.Bytes(), Date: "2026-11-25", Number: "7"}
		out, err := in.request("x")
		if err != nil || out.Profile.Company.Text != "Works" || out.Paper != document.A4 || out.Logo == nil ||
			out.Profile.Date.Text != "2026-11-25" || out.Profile.Number.Text != "7" {
			t.Errorf("%s: %+v, %v", profile, out, err)
		}
	}
}

// TestPreview: a form fills a frame with a document that may nothing; a fault is a page
// that holds nothing of what was sent as markup.
func TestPreview(t *testing.T) {
	f := newFixture(t, nil)
	if _, err := render.Named(previewFormat); err == nil {
		res := f.form(paperRequest(nil))
		status, answer := read(t, res)
		if status != http.StatusOK || !strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") ||
			res.Header.Get("Content-Security-Policy") != paperPolicy || res.Header.Get("Content-Disposition") != "" ||
			strings.Contains(answer, "<script") {
			t.Errorf("%d %v", status, res.Header)
		}
	}
	res := f.form(paperRequest(map[string]any{"kind": "<script>alert(1)</script>"}))
	status, answer := read(t, res)
	if status != http.StatusUnprocessableEntity || !strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") ||
		strings.Contains(answer, "<script") || !strings.Contains(answer, "&lt;script&gt;") {
		t.Errorf("%d %v %s", status, res.Header, answer)
	}
	r := request("POST", "/api/studies", "request="+url.QueryEscape(asJSON(Draft{Name: "x", Text: "y"})))
	r.Header.Set("Content-Type", mediaForm)
	if status, _ := read(t, f.do(r)); status != http.StatusUnsupportedMediaType {
		t.Errorf("a form reaches the studies: %d", status)
	}
}

// form sends a request as the form of a frame does.
func (f *fixture) form(in string) *http.Response {
	r := request("POST", "/api/document?preview=1", "request="+url.QueryEscape(in))
	r.Header.Set("Content-Type", mediaForm)
	return f.do(r)
}

// TestArchiveOfPapers: all kinds come as one archive, with the options that were chosen in them,
// and the same bytes each time.
func TestArchiveOfPapers(t *testing.T) {
	f := newFixture(t, nil)
	ask := paperRequest(map[string]any{
		"kind": "all", "format": "md", "picks": []map[string]string{{"option": "elastomer", "choice": "EPDM"}},
		"profile": map[string]string{"company": "Harbor Street Works"},
	})
	res := f.do(request("POST", "/api/document", ask))
	_, data := read(t, res)
	if got := res.Header.Get("Content-Disposition"); !strings.Contains(got, "filename=papers-") ||
		!strings.HasSuffix(got, ".zip") {
		t.Errorf("name %q", got)
	}
	z, err := zip.NewReader(strings.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, file := range z.File {
		r, err := file.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		kind, _, _ := strings.Cut(file.Name, "-dune-road")
		found[kind] += string(text)
	}
	for _, k := range document.Kinds() {
		if !strings.Contains(found[k.ID], "Harbor Street Works") {
			t.Errorf("%s: not there, or not of the firm", k.ID)
		}
	}
	if !strings.Contains(found["datasheet"], "elastomer: EPDM") {
		t.Errorf("the data sheet has not the rubber that was chosen:\n%.2000s", found["datasheet"])
	}
	if again := f.good("POST", "/api/document", ask); again != data {
		t.Error("the same request gives other bytes")
	}
}
