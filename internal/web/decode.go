package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"reflect"
	"strconv"
	"unicode/utf8"
)

const (
	mediaJSON  = "application/json"
	mediaLines = "application/x-ndjson"
	mediaForm  = "application/x-www-form-urlencoded"

	// maxBodyBytes is the largest request: a station file of the largest size that is read,
	// escaped, and what goes with it.
	maxBodyBytes = 2 << 20
	// formField holds the JSON where a form of the page brings it.
	formField = "request"
)

// decode reads a request strictly: the body where the method has one, then path and query
// into the fields that carry their tags.
func decode[In any](rt *route, r *http.Request) (In, error) {
	var in In
	if rt.method == http.MethodPost || rt.method == http.MethodPut {
		if err := decodeBody(rt, r, &in); err != nil {
			return in, err
		}
	}
	return in, decodeAddress(rt, r, reflect.ValueOf(&in).Elem())
}

func decodeBody(rt *route, r *http.Request, into any) error {
	data, err := body(rt, r)
	if err != nil {
		return err
	}
	if len(data) == 0 && !hasBody(rt.in) {
		return nil
	}
	if !utf8.Valid(data) {
		return &Fault{
			Status: http.StatusBadRequest, ID: "not-utf-8", Text: "the request is not UTF-8",
			Mend: "send the text in UTF-8",
		}
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return &Fault{
			Status: http.StatusBadRequest, ID: "bad-json",
			Text: "the request is not the JSON that is expected here: " + jsonFault(err), Mend: "see /api/openapi.json",
		}
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return &Fault{
			Status: http.StatusBadRequest, ID: "bad-json", Text: "more stands behind the JSON object",
			Mend: "send one object",
		}
	}
	return nil
}

// receive reads the body to its end and leaves it in memory. Until a body is read to its
// end nobody learns that its sender has gone, and a slow one would hold a place among the
// computations. The function that comes back gives up the body's share of the memory.
func (s *Server) receive(w http.ResponseWriter, r *http.Request) (release func(), err error) {
	if r.ContentLength > maxBodyBytes {
		return nil, tooLarge()
	}
	in := http.MaxBytesReader(w, r.Body, maxBodyBytes)
	var data bytes.Buffer
	_, err = io.CopyN(&data, in, smallBodyBytes)
	release = func() {}
	if err == nil {
		more := int64(maxBodyBytes)
		if r.ContentLength >= 0 {
			more = r.ContentLength
		}
		if release, err = s.bodies.take(more); err != nil {
			return nil, err
		}
		data.Grow(int(more) - data.Len() + bytes.MinRead)
		_, err = data.ReadFrom(in)
	}
	if err != nil && !errors.Is(err, io.EOF) {
		release()
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return nil, tooLarge()
		}
		return nil, &Fault{
			Status: http.StatusBadRequest, ID: "body", Text: "the request broke off",
			Mend: "send it again",
		}
	}
	r.Body = io.NopCloser(&data)
	return release, nil
}

// body gives the JSON of a request that was received, whichever way it comes.
func body(rt *route, r *http.Request) ([]byte, error) {
	data, err := io.ReadAll(r.Body)
	if err != nil {
		return nil, err
	}
	if len(data) == 0 {
		return nil, nil
	}
	media, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case err == nil && media == mediaJSON:
		return data, nil
	case err == nil && media == mediaForm && rt.forms:
		form, err := url.ParseQuery(string(data))
		if err != nil || !form.Has(formField) {
			return nil, &Fault{
				Status: http.StatusBadRequest, ID: "bad-form",
				Text: "the form has no field " + formField, Mend: "send the JSON in it",
			}
		}
		return []byte(form.Get(formField)), nil
	}
	return nil, &Fault{
		Status: http.StatusUnsupportedMediaType, ID: "media-type",
		Text: fmt.Sprintf("the request says that it is %q", r.Header.Get("Content-Type")),
		Mend: "send JSON with Content-Type: " + mediaJSON,
	}
}

func tooLarge() *Fault {
	return &Fault{
		Status: http.StatusRequestEntityTooLarge, ID: "too-large",
		Text: fmt.Sprintf("the request is larger than %d MB", maxBodyBytes>>20),
		Mend: "keep one station in a file; a longer log or record is read by the command line: seatward log, seatward calibrate, seatward leak",
	}
}

// jsonFault words an error of the decoder without names of Go.
func jsonFault(err error) string {
	var kind *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &kind):
		return fmt.Sprintf("%s is a %s and not what is expected there", or(kind.Field, "it"), kind.Value)
	case errors.As(err, &syntax):
		return fmt.Sprintf("%s, at byte %d", syntax, syntax.Offset)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return "it ends too early"
	}
	const prefix = "json: "
	if text := err.Error(); len(text) > len(prefix) && text[:len(prefix)] == prefix {
		return text[len(prefix):]
	}
	return err.Error()
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// hasBody reports whether a request type has fields that come in the body.
func hasBody(t reflect.Type) bool {
	for _, f := range reflect.VisibleFields(t) {
		if f.IsExported() && !f.Anonymous && f.Tag.Get("json") != "-" {
			return true
		}
	}
	return false
}

// decodeAddress fills the fields that carry path or query tags.
func decodeAddress(rt *route, r *http.Request, v reflect.Value) error {
	known := map[string]bool{rt.streamBy: rt.stream != nil}
	query := r.URL.Query()
	for _, f := range reflect.VisibleFields(v.Type()) {
		for _, at := range []struct {
			name, text string
			given      bool
		}{
			{f.Tag.Get("path"), r.PathValue(f.Tag.Get("path")), true},
			{f.Tag.Get("query"), query.Get(f.Tag.Get("query")), query.Has(f.Tag.Get("query"))},
		} {
			if at.name == "" {
				continue
			}
			known[at.name] = true
			if !at.given {
				continue
			}
			if err := setText(v.FieldByIndex(f.Index), at.name, at.text); err != nil {
				return err
			}
		}
	}
	for name := range query {
		if !known[name] {
			return &Fault{
				Status: http.StatusBadRequest, ID: "bad-query",
				Text: fmt.Sprintf("the address asks for %q, which is not known here",
					name), Mend: "see /api/openapi.json",
			}
		}
	}
	return nil
}

func setText(into reflect.Value, name, text string) error {
	switch into.Kind() {
	case reflect.String:
		into.SetString(text)
		return nil
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err == nil {
			into.SetInt(int64(n))
			return nil
		}
		return &Fault{
			Status: http.StatusBadRequest, ID: "bad-query", Text: fmt.Sprintf("%s is %q", name, text),
			Mend: "write a whole number",
		}
	case reflect.Bool:
		if text == "1" || text == "0" {
			into.SetBool(text == "1")
			return nil
		}
		return &Fault{
			Status: http.StatusBadRequest, ID: "bad-query", Text: fmt.Sprintf("%s is %q", name, text),
			Mend: "write 1 or 0",
		}
	}
	return fmt.Errorf("the field for %s is of a kind that no address can fill", name)
}
