package table

import (
	"slices"
	"strings"
	"testing"
)

// TestSwellingSheets: a part that is small in the file and large when unpacked is refused
// before the XML library holds it.
func TestSwellingSheets(t *testing.T) {
	const cell = `<worksheet><sheetData><row><c t="inlineStr"`
	for name, sheet := range map[string]string{
		"attributes": cell + strings.Repeat(` a=""`,
			maxTag/4) + `><is><t>x</t></is></c></row></sheetData></worksheet>`,
		"runs": cell + `><is>` + strings.Repeat(`<r><t>x</t></r>`,
			maxElement/10) + `</is></c></row></sheetData></worksheet>`,
		"one text": cell + `><is><t>` + strings.Repeat("x",
			maxRun+1) + `</t></is></c></row></sheetData></worksheet>`,
		"deep cell":       cell + `>` + strings.Repeat("<a>", maxXMLDeep),
		"deep sheet":      `<worksheet>` + strings.Repeat("<a>", 100_000),
		"comment":         `<worksheet><!--` + strings.Repeat("x", maxTag) + `--></worksheet>`,
		"quoted brackets": `<worksheet><a b="` + strings.Repeat("<a>", maxTag) + `"/></worksheet>`,
		"merged":          `<worksheet>` + strings.Repeat(`<mergeCell ref="A1:B1"/>`, maxMerged+1) + `</worksheet>`,
	} {
		if _, list := Read("f.xlsx", bare(t, sheet), Options{}); !slices.Equal(ids(list), []string{"xlsx-damaged"}) {
			t.Errorf("%s: %.300v", name, list)
		}
	}
}

// TestOrdinaryXMLPasses: what spreadsheets do write is not taken for an attack.
func TestOrdinaryXMLPasses(t *testing.T) {
	row := `<row>` + strings.Repeat(`<c t="str" s="1"><v>a &gt; b</v></c>`, 20) + `</row>`
	sheet := `<?xml version="1.0"?><!-- it's > --><worksheet x='a>b' y="it's"><sheetData>` + strings.Repeat(row,
		500) + `</sheetData><br/></worksheet>`
	sheets, list := Read("f.xlsx", bare(t, sheet), Options{})
	if len(list) > 0 || len(sheets) != 1 || len(sheets[0].Rows) != 500 || sheets[0].Rows[499][19].Text != "a > b" {
		t.Errorf("%v", list)
	}
}
