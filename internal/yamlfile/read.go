package yamlfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
)

// Limits on what is read, so that a hostile file costs nothing.
const (
	MaxBytes  = 1 << 20
	maxDepth  = 24
	maxNodes  = 200_000
	maxFaults = 100
)

// Decode reads data into the struct that into points to and returns every fault
// found, up to a hundred. Keys that the struct does not have, keys written twice,
// references, a second document and files that are too large, too deep or no text
// are faults. What was written without fault is set all the same.
func Decode(file string, data []byte, into any) diag.List {
	d := &decoder{file: file}
	if root := d.parse(data); root != nil {
		d.read(root, reflect.TypeOf(into).Elem())
		d.value(root, "", reflect.ValueOf(into).Elem(), "", 0)
	}
	d.list.Sort()
	return d.list
}

// parse gives the root of the file's tree, or nil with its fault told.
func (d *decoder) parse(data []byte) *yaml.Node {
	doc := d.document(data)
	if doc == nil {
		return nil
	}
	return doc.Content[0]
}

// document is the file with the comments round its root.
func (d *decoder) document(data []byte) *yaml.Node {
	if len(data) > MaxBytes {
		d.add(nil, "", diag.Message{
			ID: "file-too-large", Text: "the file is too large",
			Found: fmt.Sprintf("%d bytes", len(data)), Expected: fmt.Sprintf("at most %d",
				MaxBytes), Mend: "keep one station or one product family in a file; put long tables in a CSV",
		})
		return nil
	}
	if at := notText(data); at >= 0 {
		d.addAt(position(d.file, data, at), "",
			diag.Message{
				ID: "file-not-text", Text: "the file is not plain text",
				Found: fmt.Sprintf("byte 0x%02x", data[at]), Expected: "UTF-8 text", Mend: "save it from a text editor as UTF-8, not from a word processor or a spreadsheet",
			})
		return nil
	}
	if depth := nesting(data); depth > 4*maxDepth {
		d.add(nil, "", diag.Message{
			ID: "file-too-deep", Text: "the file is nested too deeply",
			Found: fmt.Sprintf("about %d levels", depth), Expected: fmt.Sprintf("at most %d",
				maxDepth), Mend: "remove the brackets or the indentation that open level in level",
		})
		return nil
	}
	loader, err := yaml.NewLoader(bytes.NewReader(data))
	if err != nil {
		d.syntax(err)
		return nil
	}
	var doc, second yaml.Node
	if err = loader.Load(&doc); errors.Is(err, io.EOF) || err == nil &&
		(len(doc.Content) == 0 || isNull(doc.Content[0])) {
		d.add(nil, "", diag.Message{
			ID: "file-empty", Text: "the file says nothing", Expected: "keys and values",
			Mend: "start from: seatward new",
		})
		return nil
	}
	if err == nil {
		if err = loader.Load(&second); errors.Is(err, io.EOF) {
			return &doc
		}
	}
	if err != nil {
		d.syntax(err)
		return nil
	}
	d.add(&second, "", diag.Message{
		ID:   "file-second-document",
		Text: "a second document begins here, and would not be read", Found: "--- or ...", Expected: "one document in a file", Mend: "remove the line, or put what follows in a file of its own",
	})
	return &doc
}

// notText gives the index of the first byte that no text holds, or -1.
func notText(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 || r < ' ' && r != '\n' && r != '\r' && r != '\t' || r == 0x7f {
			return i
		}
		i += n
	}
	return -1
}

// position is the place of a byte.
func position(file string, data []byte, at int) diag.Place {
	before := data[:at]
	line := before[bytes.LastIndexByte(before, '\n')+1:]
	return diag.Place{File: file, Line: bytes.Count(before, []byte("\n")) + 1, Col: utf8.RuneCount(line) + 1}
}

// nesting bounds the depth of flow brackets before the parser sees them.
func nesting(data []byte) int {
	depth, deepest := 0, 0
	for _, b := range data {
		switch b {
		case '[', '{':
			depth++
			deepest = max(deepest, depth)
		case ']', '}':
			depth--
		}
	}
	return deepest
}

// syntax tells what the YAML library could not read.
func (d *decoder) syntax(err error) {
	place := diag.Place{File: d.file, Line: 1, Col: 1}
	m := diag.Message{
		ID: "yaml-syntax", Text: "the file is not readable YAML", Found: err.Error(),
		Expected: "key: value lines, indented with spaces", Mend: "look at this line and the one above it for a missing colon, quote or bracket, or a tab",
	}
	var fault *yaml.LoadError
	if errors.As(err, &fault) {
		if fault.Mark.Line > 0 {
			place.Line, place.Col = fault.Mark.Line, max(fault.Mark.Column, 1)
		}
		m.Found = strings.TrimPrefix(fault.Message, "found ")
		if fault.ContextMsg != "" {
			m.Found += ", " + fault.ContextMsg
		}
		if strings.Contains(fault.Message, "anchor") {
			m = aliasMessage
		}
	}
	d.addAt(place, "", m)
}

var aliasMessage = diag.Message{ID: "yaml-alias", Text: "references (*name) are not read", Mend: "write the value out"}
