package clause

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// shown lists paragraphs as "number|text", headings with # before them.
func shown(s *Section) []string {
	var out []string
	for _, p := range s.Paragraphs {
		mark := ""
		if p.Heading {
			mark = "#"
		}
		out = append(out, mark+p.Number+"|"+p.Text)
	}
	return out
}

// TestReadText: numbers are made whole, lines are joined, rows of tables stand alone.
func TestReadText(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{
			"three parts", "SECTION 40 05 65\nPART 2 - PRODUCTS\n2.01 CHECK VALVES\nA. Rated for\n   150 psi.\n1. Coated.\n   a. Inside.\n   b. Outside.\n2. Tested.\nB. Flanged.\n2.02 TESTS\nA. Shell.\nEND OF SECTION\n",
			[]string{
				"#SECTION 40 05 65|", "#PART 2|PRODUCTS", "#2.01|CHECK VALVES", "2.01 A|Rated for 150 psi.", "2.01 A 1|Coated.",
				"2.01 A 1 a|Inside.", "2.01 A 1 b|Outside.", "2.01 A 2|Tested.", "2.01 B|Flanged.", "#2.02|TESTS", "2.02 A|Shell.",
			},
		},
		{
			"decimals", "4.3 Non-return valves\n4.3.1 The nominal diameter is DN 150.\n4.3.2 Pressure: PN 16.\n\n(a) with lever\n(b) without\n",
			[]string{
				"#4.3|Non-return valves", "4.3.1|The nominal diameter is DN 150.", "4.3.2|Pressure: PN 16.", "4.3.2 a|with lever",
				"4.3.2 b|without",
			},
		},
		{
			"prose", "The valve is of iron.\nIt is coated.\n\n2.5 in taps are not allowed.\n",
			[]string{"¶ 1|The valve is of iron. It is coated.", "¶ 2|2.5 in taps are not allowed."},
		},
		{
			"tables", "| Size | 6 in |\n|------|------|\nRating\t150 psi\tat 100 deg F\n2.1   Length     14 in\n",
			[]string{"¶ 1|Size: 6 in", "¶ 2|Rating: 150 psi; at 100 deg F", "2.1|Length: 14 in"},
		},
		{"line ends of all kinds", "A. One\r\nB. Two\rC. Three\f", []string{"A|One", "B|Two", "C|Three"}},
	} {
		s, list := Read("spec.txt", []byte(c.text))
		if list != nil {
			t.Fatalf("%s: %v", c.name, list)
		}
		if got := shown(s); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

// TestReadFaults: what is no specification is refused with its place and what helps.
func TestReadFaults(t *testing.T) {
	for _, c := range []struct{ id, data string }{
		{"clause-not-text", "A. valve\n\x01"},
		{"clause-too-long", strings.Repeat("x\n", mostLines)},
		{"clause-empty", " \n\n"},
		{"clause-pdf", "%PDF-1.7 ..."},
		{"clause-old-word", "\xd0\xcf\x11\xe0\xa1\xb1"},
		{"clause-docx-damaged", "PK\x03\x04 and no more"},
		{"clause-not-docx", string(zipped(map[string]string{"xl/workbook.xml": "<workbook/>"}))},
		{"clause-docx-damaged", string(zipped(map[string]string{"word/document.xml": "<document><p>"}))},
		{"clause-docx-damaged", string(zipped(map[string]string{"word/document.xml": strings.Repeat("<a>", mostDepth+1)}))},
		{"clause-too-long", string(document(strings.Repeat("x", mostText+1)))},
	} {
		s, list := Read("f", []byte(c.data))
		if s != nil || len(list) != 1 || list[0].ID != c.id || list[0].Mend == "" || list[0].Place.File != "f" {
			t.Errorf("%s: %v", c.id, list)
		}
	}
}

func zipped(parts map[string]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"word/styles.xml", "word/numbering.xml", "word/document.xml", "xl/workbook.xml"} {
		if text, there := parts[name]; there {
			f, err := z.Create(name)
			if err == nil {
				_, err = f.Write([]byte(text))
			}
			if err != nil {
				panic(err)
			}
		}
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

const space = ` xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"`

// styled are the styles and the list of a section in the usual form: PART 1, 1.01, A, 1, a.
var styled = map[string]string{
	"word/styles.xml": `<w:styles` + space + `><w:style w:styleId="PRT"><w:pPr><w:numPr><w:numId w:val="7"/></w:numPr></w:pPr></w:style>
<w:style w:styleId="ART"><w:pPr><w:numPr><w:ilvl w:val="1"/><w:numId w:val="7"/></w:numPr></w:pPr></w:style>
<w:style w:styleId="PR1"><w:pPr><w:numPr><w:ilvl w:val="2"/><w:numId w:val="7"/></w:numPr></w:pPr></w:style>
<w:style w:styleId="PR2"><w:basedOn w:val="Loop"/><w:pPr><w:numPr><w:numId w:val="7"/></w:numPr></w:pPr></w:style>
<w:style w:styleId="PR3"><w:basedOn w:val="PR3base"/></w:style>
<w:style w:styleId="PR3base"><w:pPr><w:numPr><w:ilvl w:val="4"/><w:numId w:val="7"/></w:numPr></w:pPr></w:style>
<w:style w:styleId="Loop"><w:basedOn w:val="Loop"/></w:style></w:styles>`,
	"word/numbering.xml": `<w:numbering` + space + `><w:abstractNum w:abstractNumId="3">` +
		lvl(0, "decimal", "PART %1") + lvl(1, "decimalZero", "%1.%2") + lvl(2, "upperLetter", "%3.") +
		strings.Replace(lvl(3, "decimal", "%4."), "<w:lvlText", `<w:pStyle w:val="PR2"/><w:lvlText`, 1) +
		lvl(4, "lowerLetter", "%5.") + `</w:abstractNum><w:num w:numId="7"><w:abstractNumId w:val="3"/></w:num></w:numbering>`,
}

func lvl(i int, format, text string) string {
	return fmt.Sprintf(`<w:lvl w:ilvl="%d"><w:start w:val="1"/><w:numFmt w:val="%s"/><w:lvlText w:val="%s"/></w:lvl>`, i,
		format, text)
}

// document makes a Word file of paragraphs "style|text"; what begins with < stands as it is.
func document(lines ...string) []byte {
	var b strings.Builder
	b.WriteString(`<w:document` + space + `><w:body>`)
	for _, l := range lines {
		if strings.HasPrefix(l, "<") {
			b.WriteString(l)
			continue
		}
		style, text, found := strings.Cut(l, "|")
		if !found {
			style, text = "", l
		}
		fmt.Fprintf(&b, `<w:p><w:pPr><w:pStyle w:val="%s"/></w:pPr><w:r><w:t>%s</w:t></w:r></w:p>`, style, text)
	}
	b.WriteString(`</w:body></w:document>`)
	parts := map[string]string{"word/document.xml": b.String()}
	for k, v := range styled {
		parts[k] = v
	}
	return zipped(parts)
}

// TestReadWord: styles number paragraphs as Word does; deleted text is left out; a row of a
// table is a paragraph.
func TestReadWord(t *testing.T) {
	data := document("TOC2|PART 1 GENERAL", "PRT|GENERAL", "PRT|PRODUCTS", "ART|CHECK VALVES", "PR1|Rated for 150 psi.", "PR2|Coated.", "PR3|Inside.",
		"PR3|Outside.", "PR1|Flanged.",
		`<w:p><w:r><w:t>Length </w:t></w:r><w:del><w:r><w:delText>12</w:delText><w:t>12</w:t></w:r></w:del><w:ins><w:r><w:t>14 in</w:t></w:r></w:ins></w:p>`,
		`<w:tbl><w:tr><w:tc><w:p><w:r><w:t>Size</w:t></w:r></w:p></w:tc><w:tc><w:p><w:r><w:t>6 in</w:t></w:r></w:p></w:tc></w:tr></w:tbl>`,
		"ART|TESTS", "PR1|Shell.", "B. Typed by hand.")
	s, list := Read("spec.docx", data)
	if list != nil {
		t.Fatal(list)
	}
	want := []string{
		"#PART 1|GENERAL", "#PART 2|PRODUCTS", "#2.01|CHECK VALVES", "2.01 A|Rated for 150 psi.", "2.01 A 1|Coated.",
		"2.01 A 1 a|Inside.", "2.01 A 1 b|Outside.", "2.01 B|Flanged.", "¶ 9|Length 14 in", "¶ 10|Size: 6 in", "#2.02|TESTS",
		"2.02 A|Shell.", "2.02 B|Typed by hand.",
	}
	if got := shown(s); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// TestFind: what each way of writing asks. The form is subject, relation, number in SI or
// words; "rest" where something is left for a person.
func TestFind(t *testing.T) {
	for text, want := range map[string]string{
		"150 psi, Cv >= 900, 14 in, 3 in sphere":                                                           "pressure rating 1 1.034e+06; flow coefficient 1 778.5; dimension 0 0.3556; clear passage 1 0.0762",
		"Valves shall be rated for a minimum working pressure of 150 psi.":                                 "pressure rating 1 1.034e+06",
		"6-inch swing check valves shall have a face-to-face length of 14 inches and pass a 3-in. sphere.": "size 0 0.1524; type 0 swing; face-to-face length 0 0.3556; clear passage 1 0.0762",
		"The valve shall not be less than 150 psi rated, length not more than 14-1/2 in.":                  "pressure rating 1 1.034e+06; face-to-face length 2 0.3683",
		"Shell test: 300 psi; seat test: 150 psi.":                                                         "shell test 1 2.068e+06; seat test 1 1.034e+06",
		"Hydrostatic test of the shell at 1.5 times the rated pressure.":                                   "shell test 1 ×1.5",
		"Seat test at 110 % of the rated pressure.":                                                        "seat test 1 ×1.1",
		"Tested at 225 psi.":                                     "pressure 1 1.551e+06",
		"Head loss shall not exceed 1.0 ft at 600 gpm.":          "head loss 2 0.3048 @0.03785",
		"DN 150, PN 16, Kv at least 800, free passage 80 mm":     "size 0 0.15; pressure rating 1 1.6e+06; flow coefficient 1 800; clear passage 1 0.08",
		"Flanges drilled PN 10.":                                 "ends 0 flange; ends 0 PN10",
		"Pressure rating: 1,6 MPa":                               "pressure rating 1 1.6e+06",
		"Cv of not less than 1,000 fully open.":                  "flow coefficient 1 865",
		"EPDM shall not be used.":                                "material 3 elastomer:EPDM",
		"Body: ductile iron or cast steel.":                      "material 0 body:ductile iron|cast steel",
		"Ductile iron body with bronze seat ring.":               "material 0 body:ductile iron; material 0 seat:bronze",
		"Coating: fusion-bonded epoxy, 8 mils.":                  "coating 0 fusion-bonded epoxy; coating thickness 1 0.0002032",
		"Furnish an external lever and limit switch.":            "option 0 external lever; option 0 limit switch",
		"Non-slam valves, painted green, 150 psi rating.":        "slam 0 no slam; pressure rating 1 1.034e+06 rest",
		"Surge pressure of 300 psi shall be withstood.":          "rest",
		"The valve should be 14 in long.":                        "advice",
		"Note: 6 in valves are usual.":                           "advice",
		"Length 14 in ± 1/16 in.":                                "face-to-face length 0 0.3556 rest",
		"Length 1'-2\" face to face.":                            "face-to-face length 0 0.3556",
		"Straight pipe of 30 in upstream of the valve.":          "rest",
		"Body and cover shall be ductile iron.":                  "material 0 cover:ductile iron; material 0 body:ductile iron",
		"Body ductile iron and seat bronze.":                     "material 0 body:ductile iron; material 0 seat:bronze",
		"Gaskets of EPDM.":                                       "material 0 gasket:EPDM",
		"Maximum working pressure of 150 psi.":                   "pressure rating 1 1.034e+06",
		"Flange bolts shall not be used to pull pipes together.": "rest",
		"Threaded plugs on drains.":                              "rest",
		"Pipe supports shall stand within 24 in of the valve.":   "rest",
		"Straight length of 5 ft.":                               "rest",
		"Boxes 12 in square for valves.":                         "rest",
		"Check valve, 6 in, with threaded ends.":                 "size 0 0.1524; ends 0 thread",
		"Reverse velocity at closing shall not exceed 0.5 ft/s":  "reverse velocity 2 0.1524",
	} {
		r := Find(text, "", nil)
		var got []string
		for _, d := range r.Demands {
			value := fmt.Sprintf("%.4g", d.SI)
			switch {
			case d.Times > 0:
				value = fmt.Sprintf("×%.4g", d.Times)
			case d.Part != "":
				value = d.Part + ":" + strings.Join(d.Words, "|")
			case d.SI == 0:
				value = strings.Join(d.Words, "|")
			}
			if d.FlowSI > 0 {
				value += fmt.Sprintf(" @%.4g", d.FlowSI)
			}
			got = append(got, fmt.Sprintf("%s %d %s", d.Subject, d.Relation, value))
		}
		line := strings.Join(got, "; ")
		if r.Rest != "" {
			line = strings.TrimSpace(line + " rest")
		}
		if r.Advice {
			line = strings.TrimSpace(line + "advice")
		}
		if line != want {
			t.Errorf("%s\n got %s\nwant %s", text, line, want)
		}
	}
}

// TestNothingIsSwallowed: a word that nobody knows leaves its sentence to a person, whatever
// else it asks.
func TestNothingIsSwallowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := strings.Fields(rapid.SampledFrom([]string{
			"Valves shall be rated for a minimum working pressure of 150 psi.", "Body: ductile iron, coating of epoxy.",
			"Cv of 900, size 6 in, sphere of 3 in.", "Shell test at 300 psi.", "Face-to-face length 14 in.",
		}).Draw(t, "text"))
		at := rapid.IntRange(0, len(words)).Draw(t, "at")
		text := strings.Join(slices.Insert(slices.Clone(words), at, rapid.StringMatching(`q[a-z]{5}x`).Draw(t, "word")), " ")
		if r := Find(text, "", nil); r.Rest == "" {
			t.Fatalf("%q: nothing is left over of it: %+v", text, r)
		}
	})
}

// TestNumber: numbers read as they are written.
func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"1,500": 1500, "1.5": 1.5, "1,5": 1.5, "0,350": 0.35, "14-3/4": 14.75, "1 1/2": 1.5, "3/4": 0.75, "1,234,567": 1234567,
	} {
		if got, ok := number(text); !ok || got != want {
			t.Errorf("%s reads %g, %v", text, got, ok)
		}
	}
	for _, text := range []string{"1/0", "3-5/4", "9999999999999"} {
		if got, ok := number(text); ok {
			t.Errorf("%s reads %g", text, got)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("PART 2\n2.01 VALVES\nA. 150 psi, Cv >= 900, 14 in, 3 in sphere\n| Size | 6 in |\n"))
	f.Add(document("PRT|GENERAL", "ART|VALVES", "PR1|6-inch swing check valves, ductile iron body or bronze"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, list := Read("f", data)
		if (s == nil) == (list == nil) {
			t.Fatalf("section %v with %v", s, list)
		}
		if s == nil {
			return
		}
		for _, p := range s.Paragraphs {
			if p.Number == "" || p.Place.Line < 1 {
				t.Fatalf("%+v", p)
			}
			r := Find(p.Text, p.Under, nil)
			for _, d := range r.Demands {
				if d.from < 0 || d.to > len(p.Text) || d.from >= d.to || d.Text == "" || math.IsNaN(d.SI) ||
					math.IsInf(d.SI, 0) || d.SI < 0 {
					t.Fatalf("%q: %+v", p.Text, d)
				}
			}
		}
	})
}
