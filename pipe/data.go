package pipe

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed data/*.csv
var dataFiles embed.FS

// record is one row of a data file, read by the names of its columns. The
// first fault is kept in err.
type record struct {
	file   string
	line   int
	fields map[string]string
	err    error
}

// readData reads a data file with a header line; lines that start with # are
// comments.
func readData(file string) ([]*record, error) {
	f, err := dataFiles.Open("data/" + file)
	if err != nil {
		return nil, err
	}
	defer f.Close() // reading only: nothing is lost
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(rows) < 2 {
		return nil, fmt.Errorf("%s: no rows", file)
	}
	var out []*record
	for i, row := range rows[1:] {
		rec := &record{file: file, line: i + 1, fields: map[string]string{}}
		for k, column := range rows[0] {
			rec.fields[column] = row[k]
		}
		out = append(out, rec)
	}
	return out, nil
}

func (r *record) fault(column, text, expected string) {
	if r.err == nil {
		r.err = fmt.Errorf("%s row %d: %s %q: expected %s", r.file, r.line, column, text, expected)
	}
}

// text reads a column that must not be empty.
func (r *record) text(column string) string {
	if r.fields[column] == "" {
		r.fault(column, "", "a text")
	}
	return r.fields[column]
}

// number reads a number, 0 where the field is empty.
func (r *record) number(column string) float64 {
	text := r.fields[column]
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= 0) {
		r.fault(column, text, "a number that is not negative")
		return 0
	}
	return v
}

// whole reads a whole number, 0 where the field is empty.
func (r *record) whole(column string) int {
	text := r.fields[column]
	if text == "" {
		return 0
	}
	v, err := strconv.Atoi(text)
	if err != nil {
		r.fault(column, text, "a whole number")
	}
	return v
}

// span reads the columns name, name_low and name_high and scales them.
func (r *record) span(name string, by float64) Span {
	s := Span{r.number(name), r.number(name + "_low"), r.number(name + "_high")}
	if s.Known() && !(s.Low <= s.Best && s.Best <= s.High) {
		r.fault(name, fmt.Sprint(s), "low, best and high in this order")
	}
	return s.scaled(by)
}

// names lists the proper name and the aliases of a row.
func (r *record) names(column string) []string {
	list := []string{r.text(column)}
	for alias := range strings.SplitSeq(r.fields["aliases"], ";") {
		if alias != "" {
			list = append(list, alias)
		}
	}
	return list
}
