package document_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"seatward/internal/clause"
	"seatward/internal/document"
	"seatward/quantity"
)

// wordFile is a Word file of the paragraphs; rows of a table have their cells apart by |.
func wordFile(t *testing.T, lines ...string) []byte {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>`)
	for _, l := range lines {
		run := func(text string) string { return `<w:p><w:r><w:t xml:space="preserve">` + text + `</w:t></w:r></w:p>` }
		style, text, styled := strings.Cut(l, "~")
		switch {
		case styled:
			fmt.Fprintf(&b, `<w:p><w:pPr><w:numPr><w:ilvl w:val="%s"/><w:numId w:val="1"/></w:numPr></w:pPr><w:r><w:t>%s</w:t></w:r></w:p>`,
				style, text)
		case strings.Contains(l, "|"):
			b.WriteString(`<w:tbl><w:tr>`)
			for c := range strings.SplitSeq(l, "|") {
				b.WriteString(`<w:tc>` + run(c) + `</w:tc>`)
			}
			b.WriteString(`</w:tr></w:tbl>`)
		default:
			b.WriteString(run(l))
		}
	}
	b.WriteString(`</w:body></w:document>`)
	levels := ""
	for i, f := range []string{"decimal|PART %1", "decimalZero|%1.%2", "upperLetter|%3.", "decimal|%4.", "lowerLetter|%5."} {
		format, text, _ := strings.Cut(f, "|")
		levels += fmt.Sprintf(`<w:lvl w:ilvl="%d"><w:start w:val="1"/><w:numFmt w:val="%s"/><w:lvlText w:val="%s"/></w:lvl>`, i, format,
			text)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for name, text := range map[string]string{
		"word/document.xml": b.String(),
		"word/numbering.xml": `<w:numbering xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:abstractNum w:abstractNumId="0">` +
			levels + `</w:abstractNum><w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num></w:numbering>`,
	} {
		f, err := z.Create(name)
		if err == nil {
			_, err = f.Write([]byte(text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// answered is the matrix of a submittal of the flap as "number status", and the texts.
func answered(
	t *testing.T, d *document.Dossier, files ...[]byte,
) (rows []string, offered map[string]string, listed []string) {
	t.Helper()
	with := *d
	for i, data := range files {
		s, list := clause.Read(fmt.Sprintf("spec%d", i), data)
		if list != nil {
			t.Fatal(list)
		}
		if with.Clause == nil {
			with.Clause = s
		} else {
			with.Clause.Join(s)
		}
	}
	k, err := document.KindNamed("submittal")
	if err != nil {
		t.Fatal(err)
	}
	offered = map[string]string{}
	for _, b := range with.Make(k).Blocks {
		x, ok := b.(document.Table)
		if !ok {
			continue
		}
		for _, r := range x.Rows {
			switch {
			case x.ID == "matrix" && !r.Group:
				rows = append(rows, r.Cells[0].Text+" "+r.Cells[2].Text)
				offered[r.Cells[0].Text] = r.Cells[3].Text
			case x.ID == "deviations":
				listed = append(listed, r.Cells[0].Text)
			}
		}
	}
	return rows, offered, listed
}

// tenClauses are specifications of different make, with what the matrix of the rubber flap
// (6 in, 200 psi, Cv 1024, 14 in, 5.67 in sphere, B16.42 Class 150 flanges) must say.
var tenClauses = []struct {
	name  string
	files func(t *testing.T) [][]byte
	rows  []string
	says  map[string]string // part of what is offered
}{
	{
		name: "three-part section",
		files: text(`SECTION 40 05 65
PART 2 PRODUCTS
2.01 FLAP CHECK VALVES
A. Rubber flapper check valves, 6-inch.
B. Rated for not less than 250 psi working pressure.
   1. Body: ductile iron, ASTM A536.
      a. Coating: fusion-bonded epoxy, 8 mils, AWWA C550.
      b. Coating: fusion-bonded epoxy, 16 mils.
   2. Bolting: type 304 stainless steel.
C. Face-to-face length 14 inches per ASME B16.10.
END OF SECTION`),
		rows: []string{
			"2.01 A complies", "2.01 B deviates", "2.01 B 1 complies", "2.01 B 1 a complies", "2.01 B 1 b deviates",
			"2.01 B 2 deviates", "2.01 C complies",
		},
		says: map[string]string{
			"2.01 B": "at least 250 psi asked, 200 psi offered", "2.01 B 2": "can be had: Cover bolting: stainless steel 304",
			"2.01 C": "14 in offered",
		},
	},
	{
		name:  "a list without words",
		files: text("150 psi, Cv >= 900, 14 in, 3 in sphere\n\n150 psi, Cv >= 900, face-to-face 14 in, 3 in sphere\n\n250 psi, Cv >= 1100\n"),
		rows:  []string{"¶ 1 open", "¶ 2 complies", "¶ 3 deviates"},
		says: map[string]string{
			"¶ 1": "14 in: the text does not say of what", "¶ 2": "Cv >= 900 asked, 1020 Cv offered", "¶ 3": "200 psi offered",
		},
	},
	{
		name: "metric decimals",
		files: text(`5.2 Non-return valves
5.2.1 Nominal diameter DN 150, pressure rating PN 16.
5.2.2 Nominal diameter DN 200.
5.2.3 Free passage: sphere of not less than 80 mm.
5.2.4 Kv at least 800.
5.2.5 Face-to-face length 356 mm.
5.2.6 Seat test at 1.1 times the rated pressure, shell test at 1.5 times the rated pressure.`),
		rows: []string{
			"5.2.1 deviates", "5.2.2 deviates", "5.2.3 complies", "5.2.4 complies", "5.2.5 complies", "5.2.6 deviates",
		},
		says: map[string]string{
			"5.2.1": "at least PN 16 (232 psi) asked, 200 psi offered", "5.2.6": "200 psi at a rating of 200 psi offered (deviates)",
		},
	},
	{
		name: "prose",
		files: text(`The check valves shall be of the rubber flapper type. They shall pass a sphere of 3 inches,
and they shall not slam.

The valves shall be painted in the color of the works. Their pressure rating shall be 150 psi.

It is recommended to install the valve five diameters from the pump. Swing check valves are often heard.`),
		rows: []string{"¶ 1 complies", "¶ 2 open", "¶ 3 not applicable"},
		says: map[string]string{"¶ 2": "painted in the color", "¶ 3": "advice"},
	},
	{
		name:  "table apart by tabs",
		files: text("Item\tRequirement\nSize\t6 in\nPressure rating\t150 psi\nSeat test\t220 psi\nClear passage\t6 in\n"),
		rows:  []string{"¶ 1 open", "¶ 2 complies", "¶ 3 complies", "¶ 4 deviates", "¶ 5 deviates"},
	},
	{
		name: "table of a web page",
		files: text(`| No. | Point | Demand |
|---|---|---|
| 3.1 | Flow coefficient | Cv of not less than 1,000 |
| 3.2 | Ends | flanged, Class 150 |
| 3.3 | Ends | threaded |
| 3.4 | Lever | outside lever and weight |
| 3.5 | Length | not more than 13-3/4 in |`),
		rows: []string{
			"¶ 1 open", "3.1 complies", "3.2 complies", "3.3 deviates", "3.4 deviates", "3.5 deviates",
		},
	},
	{
		name: "Word file with numbered styles",
		files: func(t *testing.T) [][]byte {
			return [][]byte{wordFile(t, "0~GENERAL", "0~PRODUCTS", "1~CHECK VALVES", "2~Valves shall be rated for 150 psi.",
				"3~Cv not less than 900.", "4~Body of gray iron.", "4~Elastomers of EPDM.", "2~Submit data sheets and certified test reports.")}
		},
		rows: []string{
			"2.01 A complies", "2.01 A 1 complies", "2.01 A 1 a deviates", "2.01 A 1 b deviates", "2.01 B open",
		},
		says: map[string]string{"2.01 B": "Certified test: to be attached"},
	},
	{
		name: "Word file with a table, and a second file",
		files: func(t *testing.T) [][]byte {
			return [][]byte{
				wordFile(t, "Data of the valve", "Nominal size|6 in", "Sphere|3 in", "Shell test|300 psi"),
				[]byte("SECTION 33 12 16\n1.02 WARRANTY\nA. Warranty of two years.\n"),
			}
		},
		rows: []string{"¶ 1 open", "¶ 2 complies", "¶ 3 complies", "¶ 4 complies", "1.02 A open"},
	},
	{
		name: "standards that are alike, stale or of other valves",
		files: text(`A. Lengths to ASME B16.10.
B. Flanges to ASME B16.1.
C. Valves to AWWA C508.
D. Tests to EN 12266-1.
E. Tests to EN 12334.
F. Lengths to ASME B16.10-2022.
G. Certified to NSF/ANSI 61.
H. To FM 1210.`),
		rows: []string{
			"A complies", "B deviates", "C deviates", "D open", "E open", "F open", "G deviates", "H open",
		},
		says: map[string]string{
			"B": "ASME B16.42 Class 150 flanges offered; the drilling is that of ASME B16.1 Class 125", "C": "does not cover",
			"D": "the maker does not declare it", "E": "EN 16767 took its place", "F": "the maker names none",
			"H": "not known here",
		},
	},
	{
		name: "what must not be, and where nothing is claimed",
		files: text(`1) EPDM shall not be used.
2) NBR shall not be used.
3) Swing check valves are not acceptable.
4) Note: the engineer may consider ball check valves.
5) Warrant the valves for one year and provide shop drawings.
6) Surge pressure of 300 psi.
7) Valves shall be tested at 225 psi.
8) Vertical installation with flow up.
9) Rated for 150 psi unless shown otherwise on the drawings.`),
		rows: []string{
			"1 complies", "2 deviates", "3 complies", "4 not applicable", "5 open", "6 open", "7 open", "8 complies", "9 open",
		},
		says: map[string]string{"7": "the text does not say of what", "9": "The rest of the paragraph is for whoever submits"},
	},
}

func text(s string) func(*testing.T) [][]byte {
	return func(*testing.T) [][]byte { return [][]byte{[]byte(s)} }
}

// TestTenClauses: the matrix answers specifications of different make as an engineer who
// knows the valve would, and lists what deviates.
func TestTenClauses(t *testing.T) {
	base := dossier(t, request(t, "study", quantity.US, true), "flap/6in")
	for _, c := range tenClauses {
		t.Run(c.name, func(t *testing.T) {
			rows, offered, listed := answered(t, base, c.files(t)...)
			if !slices.Equal(rows, c.rows) {
				t.Errorf("got  %q\nwant %q", rows, c.rows)
				for _, r := range rows {
					number := r[:strings.LastIndex(strings.ReplaceAll(r, "not applicable", "not_applicable"), " ")]
					t.Logf("%s: %s", r, offered[number])
				}
			}
			for number, says := range c.says {
				if !strings.Contains(offered[number], says) {
					t.Errorf("%s says %q, want %q", number, offered[number], says)
				}
			}
			for _, r := range rows {
				number, deviates := strings.CutSuffix(r, " deviates")
				if deviates && !slices.Contains(listed, number) {
					t.Errorf("%s is not in the list of deviations %q", number, listed)
				}
			}
		})
	}
}
