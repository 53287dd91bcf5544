// Package sample holds documents with every kind of block and with texts that formats
// trip over, for the tests of all formats.
package sample

import (
	"fmt"
	"math"
	"strings"

	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/internal/figure"
)

// Nasty are texts that formats trip over.
var Nasty = []string{
	"Δp ≤ ½ · 3 × 10⁻³ °C, CO₂", "=1+2", "+3", "-4", "@sum", "a & b < c > d \"e\" 'f'",
	"tab\there\nnew line\r\nand another",
	"\x00\x01\x1b[31m control \x7f", "\xff\xfe not UTF-8", "שלום עולם 123", "مرحبا", "🚰 emoji 👩‍🔧",
	"_x0041_ is no letter",
	strings.Repeat("verylongword", 30), "", " leading and trailing ", "]]> <!-- -->",
	"| pipe * star _ under ` tick # hash [x](y)", "\uFFFE \uFFFF", "{row}", "007", "1/2",
}

// chart is a small figure.
func chart(title string) *figure.Figure {
	x := []float64{0, 1, 2, 3, 4}
	return &figure.Figure{Title: title, Note: "invented", Panels: []figure.Panel{{
		Title: "Head over flow", XLabel: "flow, gpm", YLabel: "head, ft",
		Series: []figure.Series{
			{Name: "pump", X: x, Y: []float64{5, 4.8, 4.2, 3, 1}},
			{Name: "system", X: x, Y: []float64{1, 1.2, 1.8, 2.8, 4.2}, Style: figure.Water, Dash: true},
		},
	}}}
}

// words are those of the frame.
var words = document.Words{
	Contents: "Contents", Page: "Page {n} of {total}", Figure: "Figure {n}. {caption}",
	Foot: "no. {number}  ·  revision {revision}  ·  {date}",
}

// Full is a document with every kind of block, as a maker would send it.
func Full() *document.Document {
	d := &document.Document{
		Kind: "sample", Title: "Check valve 8 in, Marram Ness", Subject: "Lift station 3, three pumps on one header",
		Language: "en-US",
		Paper:    document.Letter, Number: "CALC-117", Revision: "", Date: "2026-03-04", Company: "Demonstration Works",
		Author:  "A. Engineer",
		Program: "seatward 0.1", Hash: "sha256:0123abcd", Mark: "Preliminary calculation for review", Words: words,
		Missing: []string{"revision"},
	}
	long := strings.Repeat("The disc follows the water as it slows; what is left of the reverse flow when it seats is what the pipe hears. ", 27)
	d.Blocks = []document.Block{
		document.Contents{},
		document.Heading{Level: 1, Text: "What was found"},
		document.Paragraph{
			Tone: document.Lead,
			Text: "The 8 in swing valve with a counterweight closes at 1.2 ft/s and stays in its limit.",
		},
		document.Paragraph{
			Label: "Basis",
			Text:  "Every number below follows from the station file. Δp ≤ ½ ft, 3 × 10⁻³ m²/s, CO₂ at 20 °C.",
		},
		document.Paragraph{
			Tone: document.Warning,
			Text: "Lock out the pump and drain the pipe before the cover is lifted.",
		},
		document.Paragraph{Tone: document.Advice, Text: "Take out what does not apply."},
		document.Paragraph{Tone: document.Good, Text: "Complies with the limit of the owner."},
		document.Paragraph{Tone: document.Bad, Label: "Lining", Text: "deviates from 3.2."},
		document.Paragraph{Tone: document.Open, Text: "Flange drilling is not known."},
		document.Paragraph{Tone: document.Source, Text: "From the pump curve of the station file, line 12."},
		document.Heading{Level: 2, Text: "Data"},
		forms(), results(), bigTable(),
		document.Table{
			ID: "none", Caption: "Spare parts",
			Columns: []document.Column{{Title: "Part"}, {Title: "Material"}},
		},
		document.Heading{Level: 2, Text: "Figure & lists"},
		document.Figure{
			Figure: chart("Operating point"), Caption: "Where the pump and the system meet",
			Text: "The curves meet at 3.1 gpm and 2.9 ft.",
		},
		document.List{Items: []string{"first", "second with\na line end"}, Numbered: true},
		document.List{Items: []string{"a bullet", "another"}},
		document.List{Items: []string{"gasket in place", "bolts tightened crosswise"}, Boxes: true},
		document.List{Items: []string{"counts from one again"}, Numbered: true},
		document.Listing{Lines: []string{
			"loss = K v²/2g", "  K = 1.8  (catalog)", "  v = 6.1 ft/s",
			"    Q = 960 gpm",
		}},
		document.Code{Text: "https://example.com/valve?tag=CV-3", Caption: "The maintenance sheet of CV-3"},
		document.Space{
			Title: "Signature and seal",
			Lines: []string{"Signed by the engineer in charge", "Not valid without a date"}, HeightMM: 40,
		},
		document.Break{},
		document.Heading{Level: 1, Text: "SECTION 40 05 65 - CHECK VALVES"},
	}
	d.Blocks = append(d.Blocks, Clauses()...)
	d.Blocks = append(d.Blocks, document.Heading{Level: 3, Text: "A long note"}, document.Paragraph{Text: long})
	for _, n := range Nasty {
		d.Blocks = append(d.Blocks, document.Paragraph{Label: "Text", Text: n})
	}
	return d
}

// Clauses is a section whose numbers run, skip, and begin again.
func Clauses() []document.Block {
	var all []document.Block
	add := func(level int, number, text string) {
		all = append(all, document.Clause{Level: level, Number: number, Text: text})
	}
	add(0, "PART 1", "GENERAL")
	add(1, "1.1", "SUMMARY")
	add(2, "A.", "Section includes [swing] [tilting disc] check valves.")
	add(2, "B.", "Related work:")
	add(3, "1.", "Section 40 05 13, process piping.")
	add(3, "2.", "Section 43 21 00, pumps:")
	add(4, "a.", "Lift pumps.")
	add(4, "b.", "Drain pumps [where there are [two] of them].")
	add(3, "3.", "An open [ bracket stays text.")
	add(1, "1.2", "SUBMITTALS")
	add(2, "A.", "Data sheets.")
	add(0, "PART 2", "PRODUCTS")
	add(1, "2.1", "VALVES")
	for i := range 28 {
		letters := string(rune('A'+i%26)) + "."
		if i >= 26 {
			letters = string(rune('A'+i-26)) + letters
		}
		if i == 26 {
			letters = "AA."
		} else if i == 27 {
			letters = "BB."
		}
		add(2, letters, fmt.Sprintf("Requirement %d.", i+1))
	}
	add(1, "2.4", "TWO ARTICLES ARE LEFT OUT")
	add(2, "A.", "Text.")
	add(0, "PART 4", "A PART IS LEFT OUT")
	add(1, "4.1", "ARTICLE")
	add(1, "Annex", "A number that is none")
	add(1, "4.2", "GOES ON")
	add(0, "PART 1", "ANOTHER SECTION")
	add(1, "1.1", "BEGINS AGAIN")
	add(2, "A.", "Text.")
	return all
}

func forms() document.Table {
	row := func(id, name, text string, n float64, unit string) document.Row {
		return document.Row{ID: id, Cells: []document.Cell{
			{Text: name},
			{Text: text, Number: n, Unit: unit, Numeric: true},
			{Text: "station file", Tone: document.Source},
		}}
	}
	return document.Table{
		ID: "data", Caption: "Design data", Form: true, Columns: []document.Column{{}, {}, {}},
		Rows: []document.Row{
			{Cells: []document.Cell{{Text: "Valve"}}, Group: true},
			row("flow", "Flow", "960 gpm", 960, "gpm"),
			row("velocity", "Velocity", "6.13 ft/s", 6.1275, "ft/s"),
			row("k", "Loss coefficient", "1.8", 1.8, ""),
			{Cells: []document.Cell{{Text: "Tag"}, {Blank: true}, {Text: "to be filled in", Tone: document.Open}}},
			{Cells: []document.Cell{{Text: "Liquid"}, {Text: "=raw sewage"}, {Text: "+ a note"}}},
		},
	}
}

func results() document.Table {
	n := func(text string, v float64) document.Cell {
		return document.Cell{Text: text, Number: v, Numeric: true}
	}
	const v = 6.1275
	loss := 1.8 * v * v / 2 / 32.174
	return document.Table{
		ID: "losses", Caption: "Losses: valve/pipe [all]",
		Columns: []document.Column{
			{Title: "What"},
			{Title: "Loss", Unit: "ft", Right: true},
			{Title: "Limit", Unit: "ft", Right: true},
			{Title: "Verdict"},
		},
		Rows: []document.Row{
			{ID: "valve", Cells: []document.Cell{
				{Text: "Valve"},
				{Text: "1.05", Number: loss, Numeric: true, Formula: "{data.k}*{data.velocity}^2/2/32.174"},
				n("2.0", 2),
				{Text: "complies", Tone: document.Good},
			}},
			{ID: "pipe", Cells: []document.Cell{
				{Text: "Pipe"},
				n("3.50", 3.5), n("3.0", 3),
				{Text: "deviates", Tone: document.Bad},
			}},
			{Cells: []document.Cell{{Text: "Together"}}, Group: true},
			{ID: "sum", Cells: []document.Cell{
				{Text: "Sum", Bold: true},
				{Text: "4.55", Number: loss + 3.5, Numeric: true, Formula: "{valve}+{pipe}", Bold: true},
				{},
				{Text: "open", Tone: document.Open},
			}},
			{Cells: []document.Cell{{Text: "By hand"}, {Blank: true}, {Blank: true}, {Blank: true}}},
		},
	}
}

func bigTable() document.Table {
	t := document.Table{
		ID: "run", Caption: "Run",
		Columns: []document.Column{
			{Title: "Time", Unit: "s", Right: true},
			{Title: "Head", Unit: "ft", Right: true},
			{Title: "Remark", Width: 0.5},
		},
	}
	for i := range 500 {
		time, head := float64(i)/10, 40-float64(i%37)/3
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{
			{
				Text: fmt.Sprintf("%.1f", time), Number: time,
				Numeric: true,
			},
			{Text: fmt.Sprintf("%.2f", head), Number: head, Numeric: true},
			{Text: Nasty[i%len(Nasty)]},
		}})
	}
	return t
}

// Text draws a text that people and machines may hand in.
func Text(t *rapid.T) string {
	return rapid.OneOf(rapid.SampledFrom(Nasty), rapid.Just(strings.Repeat("many words ", 20)), rapid.String()).Draw(t,
		"text")
}

// Random draws a document of any blocks in any order, with nasty texts.
func Random(t *rapid.T) *document.Document {
	s := func() string { return Text(t) }
	d := &document.Document{
		Kind: s(), Title: s(), Subject: s(),
		Language: rapid.SampledFrom([]string{"", "en-US", "<x>"}).Draw(t, "language"),
		Paper:    document.Paper(rapid.IntRange(0, 1).Draw(t, "paper")),
		Large:    rapid.Bool().Draw(t, "large"), Number: s(), Revision: s(), Date: s(), Company: s(), Author: s(),
		Program: s(), Hash: s(), Mark: s(), Words: words,
	}
	for range rapid.IntRange(0, 8).Draw(t, "blocks") {
		d.Blocks = append(d.Blocks, block(t, s))
	}
	return d
}

func block(t *rapid.T, s func() string) document.Block {
	tone := document.Tone(rapid.IntRange(0, int(document.Open)).Draw(t, "tone"))
	switch rapid.IntRange(0, 10).Draw(t, "kind") {
	case 0:
		return document.Heading{Level: rapid.IntRange(1, 3).Draw(t, "level"), Text: s()}
	case 1:
		return document.Paragraph{Label: s(), Text: s(), Tone: tone}
	case 2:
		return document.List{
			Items: []string{s(), s()}, Numbered: rapid.Bool().Draw(t, "numbered"),
			Boxes: rapid.Bool().Draw(t, "boxes"),
		}
	case 3:
		return document.Clause{
			Level: rapid.IntRange(0, 4).Draw(t, "level"),
			Number: rapid.SampledFrom([]string{
				"PART 1", "PART 7", "1.1", "3.9", "A.", "AA.", "AB.", "1.", "12.", "b.",
				"", "x",
			}).Draw(t, "number"), Text: s(),
		}
	case 4:
		return document.Listing{Lines: []string{s(), s()}}
	case 5:
		return document.Space{Title: s(), Lines: []string{s()}, HeightMM: rapid.Float64Range(1, 100).Draw(t, "height")}
	case 6:
		return document.Contents{}
	case 7:
		return document.Break{}
	case 8:
		return document.Code{Text: s(), Caption: s()}
	case 9:
		x := []float64{1, 2, math.NaN(), 4}
		panel := figure.Panel{Title: s(), Series: []figure.Series{{Name: s(), X: x, Y: x}}}
		return document.Figure{Figure: &figure.Figure{
			Title: s(), Width: 200, Panels: []figure.Panel{panel},
			PanelHeight: rapid.SampledFrom([]int{80, 1200}).Draw(t, "height"),
		}, Caption: s(), Text: s()}
	}
	table := document.Table{ID: s(), Caption: s(), Form: rapid.Bool().Draw(t, "form")}
	for range rapid.IntRange(0, 12).Draw(t, "columns") {
		table.Columns = append(table.Columns,
			document.Column{
				Title: s(), Unit: s(), Width: rapid.SampledFrom([]float64{0, 0.1, 0.3, 2}).Draw(t, "width"),
				Right: rapid.Bool().Draw(t, "right"),
			})
	}
	for range rapid.IntRange(0, 4).Draw(t, "rows") {
		r := document.Row{Group: rapid.Bool().Draw(t, "group")}
		for range rapid.IntRange(0, min(len(table.Columns), map[bool]int{true: 1, false: 12}[r.Group])).Draw(t,
			"cells") {
			r.Cells = append(r.Cells, document.Cell{
				Text: s(), Number: rapid.Float64Range(-1e9, 1e9).Draw(t, "number"),
				Unit: s(), Numeric: rapid.Bool().Draw(t, "numeric"), Blank: rapid.Bool().Draw(t,
					"blank"), Bold: rapid.Bool().Draw(t, "bold"), Tone: tone,
			})
		}
		table.Rows = append(table.Rows, r)
	}
	return table
}
