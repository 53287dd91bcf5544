package desk

import (
	"context"
	"fmt"
	"unicode/utf8"

	"seatward/internal/curve"
	"seatward/internal/inquiry"
	"seatward/quantity"
)

// InquiryRequest brings the text of a letter or mail.
type InquiryRequest struct {
	Text string `json:"text"`
}

// InquiryReply is what was found in it. Nothing is taken by this.
type InquiryReply struct {
	Units   string        `json:"units"` // in which most of it is written
	Finds   []InquiryFind `json:"finds"`
	Missing []string      `json:"missing"` // of what decides the choice, what the text does not say
	Skipped []InquirySkip `json:"skipped"`
	File    string        `json:"file"` // a station file of what is sure, without comments
}

// InquiryFind is one find. Offsets count UTF-16 units, as text in a browser does.
type InquiryFind struct {
	Start   int             `json:"start"`
	End     int             `json:"end"`
	Phrase  string          `json:"phrase"`
	Path    string          `json:"path"`
	Field   string          `json:"field"` // in words
	Value   string          `json:"value"`
	Kind    string          `json:"kind"` // of a quantity; empty for words
	SI      *float64        `json:"si"`
	Doubt   string          `json:"doubt"` // why it is not sure; empty where it is
	Choices []InquiryChoice `json:"choices"`
}

// InquiryChoice is one meaning of a find in doubt.
type InquiryChoice struct {
	Path  string `json:"path"`
	Field string `json:"field"`
	Value string `json:"value"`
	Says  string `json:"says"`
}

// InquirySkip is a part that was not read.
type InquirySkip struct {
	Start int    `json:"start"`
	End   int    `json:"end"`
	Why   string `json:"why"`
}

// Inquiry reads a letter.
func (d *Desk) Inquiry(_ context.Context, in InquiryRequest) (*InquiryReply, error) {
	if len(in.Text) > inquiry.MostBytes {
		return nil, &Error{
			ID: "text-too-long", Text: fmt.Sprintf("the text has %d characters; at most %d are read", len(in.Text),
				inquiry.MostBytes), Mend: "paste the letter without its attachments",
		}
	}
	l := inquiry.Read(in.Text)
	at := units16(in.Text)
	out := &InquiryReply{
		Units: l.Units.String(), Finds: []InquiryFind{}, Missing: append([]string{}, l.Missing...),
		Skipped: []InquirySkip{}, File: l.File(""),
	}
	for _, f := range l.Finds {
		one := InquiryFind{
			Start: at(f.Start), End: at(f.End), Phrase: f.Phrase, Path: f.Path,
			Field: inquiry.Said(f.Path), Value: f.Value,
			Doubt: f.Doubt, Choices: []InquiryChoice{},
		}
		if f.Quantity.SI != 0 {
			one.Kind, one.SI = f.Quantity.Kind.String(), finite(f.Quantity.SI)
		}
		for _, c := range f.Choices {
			one.Choices = append(one.Choices, InquiryChoice{c.Path, inquiry.Said(c.Path), c.Value, c.Says})
		}
		out.Finds = append(out.Finds, one)
	}
	for _, s := range l.Skipped {
		out.Skipped = append(out.Skipped, InquirySkip{at(s.Start), at(s.End), s.Why})
	}
	return out, nil
}

// units16 turns offsets in bytes, asked for in any order, into offsets in UTF-16 units.
func units16(text string) func(int) int {
	to := make([]int, len(text)+1)
	n := 0
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		for k := range size {
			to[i+k] = n
		}
		i += size
		if n++; r > 0xffff {
			n++
		}
	}
	to[len(text)] = n
	return func(at int) int { return to[min(max(at, 0), len(text))] }
}

// CurveRequest brings a table as it was pasted.
type CurveRequest struct {
	Text  string `json:"text"`
	Units string `json:"units,omitempty"`                                          // of numbers without one, US or SI
	Comma string `json:"comma,omitempty" jsonschema:"enum=decimal,enum=thousands"` // what a comma means, where the table leaves it in doubt
}

// CurveReply is the table as points.
type CurveReply struct {
	Columns []CurveColumn `json:"columns"`
	Rows    []CurveRow    `json:"rows"`
	Bad     []CurveBad    `json:"bad"`
	Notes   []string      `json:"notes"`
	Curve   string        `json:"curve"`      // as a station file has it; empty where there is none
	Eta     string        `json:"efficiency"` // so
	Power   string        `json:"power"`      // so
}

// CurveColumn is one column, the flow first.
type CurveColumn struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`
	Unit  string `json:"unit"`
	Given bool   `json:"given"`
}

// CurveRow is one point, in the units of the columns.
type CurveRow struct {
	Line   int       `json:"line"`
	Values []float64 `json:"values"`
}

// CurveBad is a row that is no point.
type CurveBad struct {
	Line    int      `json:"line"`
	Text    string   `json:"text"`
	Why     string   `json:"why"`
	Choices []string `json:"choices"`
}

// Curve reads a pasted pump curve.
func (d *Desk) Curve(_ context.Context, in CurveRequest) (*CurveReply, error) {
	sys, err := quantity.SystemNamed(in.Units, quantity.US)
	if err != nil {
		return nil, &Error{ID: "units-unknown", Text: err.Error(), Mend: "write one of them, or leave it out"}
	}
	reading := quantity.For(sys)
	switch in.Comma {
	case "":
	case "decimal":
		reading.Comma = quantity.CommaDecimal
	case "thousands":
		reading.Comma = quantity.CommaThousands
	default:
		return nil, &Error{
			ID: "comma-unknown", Text: fmt.Sprintf("comma %q is not a choice", in.Comma),
			Mend: "write decimal or thousands, or leave it out",
		}
	}
	c, list := curve.Read(in.Text, reading)
	if list.Err() != nil {
		return nil, fileError(list)
	}
	out := &CurveReply{
		Columns: []CurveColumn{}, Rows: []CurveRow{}, Bad: []CurveBad{}, Notes: append([]string{}, c.Notes...),
		Curve: c.Points(quantity.Head), Eta: c.Points(quantity.Fraction), Power: c.Points(quantity.Power),
	}
	for _, k := range c.Columns {
		out.Columns = append(out.Columns, CurveColumn{k.Name, k.Kind.String(), k.Unit, k.Given})
	}
	for _, r := range c.Rows {
		out.Rows = append(out.Rows, CurveRow{r.Line, r.Values})
	}
	for _, b := range c.Bad {
		out.Bad = append(out.Bad, CurveBad{b.Line, b.Text, b.Why, append([]string{}, b.Choices...)})
	}
	return out, nil
}
