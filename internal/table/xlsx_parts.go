package table

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
)

type (
	// richXML is a text that may be cut into runs of different format. What is spoken
	// of in phonetic runs is no part of it.
	richXML struct {
		Text []string `xml:"t"`
		Runs []struct {
			Text []string `xml:"t"`
		} `xml:"r"`
	}
	stylesXML struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
)

func (x richXML) text() string {
	var b strings.Builder
	for _, t := range x.Text {
		b.WriteString(unescape(t))
	}
	for _, run := range x.Runs {
		for _, t := range run.Text {
			b.WriteString(unescape(t)) // an escape does not reach over runs
		}
	}
	return breaks(b.String())
}

var escape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// unescape resolves the escapes of characters that XML cannot hold, such as _x000D_.
func unescape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	return escape.ReplaceAllStringFunc(s, func(e string) string {
		n, err := strconv.ParseUint(e[2:6], 16, 16)
		if err != nil {
			return e
		}
		return string(rune(n))
	})
}

// loadStrings reads the texts that cells refer to by number.
func (w *workbook) loadStrings(book string) error {
	name, err := w.target(book, "sharedStrings")
	if err != nil || name == "" {
		return err
	}
	in, err := w.open(name)
	if err != nil {
		return err
	}
	defer func() { _ = in.Close() }() // nothing is written
	d := newParser(in)
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "si" {
			continue
		}
		var rich richXML
		if err := d.element(&rich, &start); err != nil {
			return err
		}
		if w.strings = append(w.strings, rich.text()); len(w.strings) > maxCells {
			return fmt.Errorf("more than %d texts", maxCells)
		}
	}
}

// loadStyles finds which cell styles show a number as a date.
func (w *workbook) loadStyles(book string) error {
	name, err := w.target(book, "styles")
	if err != nil || name == "" {
		return err
	}
	var x stylesXML
	if err := w.decode(name, &x); err != nil {
		return err
	}
	codes := map[int]string{}
	for _, f := range x.Formats {
		codes[f.ID] = f.Code
	}
	for _, c := range x.Cells {
		code, own := codes[c.Format]
		w.dates = append(w.dates, own && isDateCode(code) || !own && isDateFormat(c.Format))
	}
	return nil
}

// isDateFormat knows the built-in number formats that show a day, also those of the
// East Asian editions. Formats that show the time alone are none.
func isDateFormat(id int) bool {
	return id >= 14 && id <= 17 || id == 22 || id >= 27 && id <= 31 || id == 36 || id >= 50 && id <= 54 || id == 57 ||
		id == 58
}

// notDate is what in a format code only looks like letters of a date: quoted and
// escaped text, fill characters, colors and conditions.
var notDate = regexp.MustCompile(`"[^"]*"|\\.|_.|\*.|\[[^\]]*\]`)

// isDateCode reports a format code whose first section shows a year or a day.
func isDateCode(code string) bool {
	code = notDate.ReplaceAllString(code, "")
	code, _, _ = strings.Cut(code, ";")
	return strings.ContainsAny(strings.ToLower(code), "yd")
}
