package docx

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/internal/document"
)

// style is a paragraph or character style.
type style struct {
	id, name  string
	basedOn   string
	next      string
	paragraph string // properties of the paragraph
	letters   string // of its letters, without their size
	points    float64
	character bool
}

const (
	grey    = `<w:color w:val="5B6670"/>`
	ink     = `<w:color w:val="1B2530"/>`
	frame   = `<w:keepLines/><w:pBdr><w:top w:val="single" w:sz="8" w:space="4" w:color="A8432A"/><w:left w:val="single" w:sz="8" w:space="4" w:color="A8432A"/><w:bottom w:val="single" w:sz="8" w:space="4" w:color="A8432A"/><w:right w:val="single" w:sz="8" w:space="4" w:color="A8432A"/></w:pBdr><w:spacing w:before="120" w:after="160"/><w:ind w:left="120" w:right="120"/>`
	dashed  = `<w:keepLines/><w:pBdr><w:top w:val="dashed" w:sz="4" w:space="3" w:color="5B6670"/><w:left w:val="dashed" w:sz="4" w:space="4" w:color="5B6670"/><w:bottom w:val="dashed" w:sz="4" w:space="3" w:color="5B6670"/><w:right w:val="dashed" w:sz="4" w:space="4" w:color="5B6670"/></w:pBdr><w:spacing w:before="80" w:after="120"/><w:ind w:left="120" w:right="120"/>`
	mono    = `<w:rFonts w:ascii="Courier New" w:hAnsi="Courier New" w:cs="Courier New"/>`
	largeBy = 1.35 // how much larger the type of a large paper is
)

var allStyles = []style{
	{id: "BodyText", name: "Body Text", basedOn: "Normal", paragraph: `<w:spacing w:after="100"/>`},
	{
		id: "Title", name: "Title", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:spacing w:before="120" w:after="40"/>`, letters: bold + ink, points: 20,
	},
	{
		id: "Subtitle", name: "Subtitle", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:spacing w:after="80"/>`, letters: grey, points: 12,
	},
	{
		id: "DocumentData", name: "Document data", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:pBdr><w:top w:val="single" w:sz="4" w:space="4" w:color="8A949C"/><w:bottom w:val="single" w:sz="4" w:space="4" w:color="8A949C"/></w:pBdr><w:spacing w:before="60" w:after="200"/>`, points: 9,
	},
	{
		id: "Heading1", name: "heading 1", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:keepLines/><w:spacing w:before="300" w:after="100"/><w:outlineLvl w:val="0"/>`,
		letters:   bold + ink, points: 15,
	},
	{
		id: "Heading2", name: "heading 2", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:keepLines/><w:spacing w:before="220" w:after="80"/><w:outlineLvl w:val="1"/>`,
		letters:   bold + ink, points: 12,
	},
	{
		id: "Heading3", name: "heading 3", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:keepLines/><w:spacing w:before="160" w:after="60"/><w:outlineLvl w:val="2"/>`,
		letters:   bold + grey, points: 10.5,
	},
	{
		id: "TOCHeading", name: "TOC Heading", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:keepNext/><w:spacing w:before="240" w:after="100"/>`, letters: bold + ink, points: 13,
	},
	{
		id: "TOC1", name: "toc 1", basedOn: "Normal",
		paragraph: `<w:tabs><w:tab w:val="right" w:leader="dot" w:pos="%[1]d"/></w:tabs><w:spacing w:before="60" w:after="20"/>`, letters: bold,
	},
	{
		id: "TOC2", name: "toc 2", basedOn: "Normal",
		paragraph: `<w:tabs><w:tab w:val="right" w:leader="dot" w:pos="%[1]d"/></w:tabs><w:spacing w:after="20"/><w:ind w:left="240"/>`,
	},
	{
		id: "Lead", name: "Lead", basedOn: "BodyText", next: "BodyText",
		paragraph: `<w:spacing w:before="60" w:after="140"/>`, letters: bold, points: 11.5,
	},
	{id: "Source", name: "Source", basedOn: "BodyText", letters: grey, points: 8},
	{id: "Warning", name: "Warning", basedOn: "BodyText", next: "BodyText", paragraph: frame},
	{
		id: "SpecifierNote", name: "Note to the specifier", basedOn: "BodyText", next: "BodyText", paragraph: dashed,
		letters: "<w:i/>" + grey, points: 9,
	},
	{
		id: "Listing", name: "Listing", basedOn: "Normal", paragraph: `<w:spacing w:after="0"/>`, letters: mono,
		points: 8.5,
	},
	{id: "ListParagraph", name: "List Paragraph", basedOn: "Normal", paragraph: `<w:spacing w:after="60"/>`},
	{
		id: "CodeText", name: "Code text", basedOn: "Normal", paragraph: `<w:spacing w:after="120"/>`, letters: mono,
		points: 8.5,
	},
	{
		id: "Caption", name: "caption", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:spacing w:before="140" w:after="80"/>`, letters: bold + grey, points: 9,
	},
	{
		id: "Picture", name: "Picture", basedOn: "Normal", next: "Caption",
		paragraph: `<w:spacing w:before="120" w:after="40"/>`,
	},
	{id: "TableText", name: "Table text", basedOn: "Normal", paragraph: `<w:spacing w:after="0"/>`, points: 9},
	{id: "TableHead", name: "Table head", basedOn: "TableText", letters: bold, points: 9},
	{id: "TableSource", name: "Table source", basedOn: "TableText", letters: grey, points: 8},
	{id: "DenseText", name: "Table text, dense", basedOn: "TableText", points: 7.5},
	{id: "DenseHead", name: "Table head, dense", basedOn: "TableHead", points: 7.5},
	{id: "DensestText", name: "Table text, densest", basedOn: "TableText", points: 6.5},
	{id: "DensestHead", name: "Table head, densest", basedOn: "TableHead", points: 6.5},
	{
		id: "AfterTable", name: "After a table", basedOn: "Normal", next: "BodyText",
		paragraph: `<w:spacing w:after="60" w:line="120" w:lineRule="exact"/>`, points: 4,
	},
	{id: "Header", name: "header", basedOn: "Normal", paragraph: `<w:spacing w:after="0"/>`, letters: grey, points: 9},
	{id: "Footer", name: "footer", basedOn: "Normal", paragraph: `<w:spacing w:after="0"/>`, letters: grey, points: 8},
	// Parts and articles stand in the navigation pane, below the chapter they are in.
	{
		id: "ClausePart", name: "Clause part", basedOn: "Normal", next: "ClauseArticle",
		paragraph: `<w:keepNext/><w:spacing w:before="280" w:after="120"/><w:outlineLvl w:val="1"/>`, letters: bold,
		points: 11,
	},
	{
		id: "ClauseArticle", name: "Clause article", basedOn: "Normal", next: "ClauseParagraph",
		paragraph: `<w:keepNext/><w:spacing w:before="180" w:after="80"/><w:outlineLvl w:val="2"/>`, letters: bold,
	},
	{
		id: "ClauseParagraph", name: "Clause paragraph", basedOn: "Normal",
		paragraph: `<w:spacing w:after="80"/><w:ind w:left="1080" w:hanging="360"/>`,
	},
	{
		id: "ClauseItem", name: "Clause item", basedOn: "Normal",
		paragraph: `<w:spacing w:after="60"/><w:ind w:left="1440" w:hanging="360"/>`,
	},
	{
		id: "ClauseSubitem", name: "Clause subitem", basedOn: "Normal",
		paragraph: `<w:spacing w:after="60"/><w:ind w:left="1800" w:hanging="360"/>`,
	},
	{
		id: "Choice", name: "Choice", character: true,
		letters: `<w:b/><w:shd w:val="clear" w:color="auto" w:fill="FFF2CC"/>`,
	},
	{id: "Good", name: "Good", character: true, letters: `<w:color w:val="1B6B3A"/>`},
	{id: "Bad", name: "Bad", character: true, letters: `<w:b/><w:color w:val="A8432A"/>`},
	{id: "Open", name: "Open", character: true, letters: `<w:i/><w:color w:val="8A5A12"/>`},
}

// sized writes a size of type in half points.
func sized(points float64, large bool) string {
	if points == 0 {
		return ""
	}
	if large {
		points *= largeBy
	}
	half := int(math.Round(points * 2))
	return fmt.Sprintf(`<w:sz w:val="%d"/><w:szCs w:val="%d"/>`, half, half)
}

// lettered puts size and other properties in the order of the schema: shading stands
// after the size.
func lettered(s style, large bool) string {
	before, shading, _ := strings.Cut(s.letters, "<w:shd")
	if shading != "" {
		shading = "<w:shd" + shading
	}
	return before + sized(s.points, large) + shading
}

// listed puts the level of a count into the properties of a clause's style, in the order of
// the schema: behind what keeps it with the next.
func listed(s style, tied int) string {
	level := slices.Index(clauseStyles[:], s.id)
	if level < 0 || tied == 0 {
		return s.paragraph
	}
	keep := ""
	rest, kept := strings.CutPrefix(s.paragraph, `<w:keepNext/>`)
	if kept {
		keep = `<w:keepNext/>`
	}
	return keep + fmt.Sprintf(`<w:numPr><w:ilvl w:val="%d"/><w:numId w:val="%d"/></w:numPr>`, level, tied) + rest
}

// styles writes the styles; tied is the count that those of clauses are tied to, 0 for none.
func styles(d *document.Document, tied int) string {
	language := d.Language
	if language == "" {
		language = "en-US"
	}
	widthMM, _ := d.Paper.SizeMM()
	var b strings.Builder
	b.WriteString(xmlHead + `<w:styles ` +
		namespaces + `><w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:ascii="Arial" w:hAnsi="Arial" w:eastAsia="Arial" w:cs="Arial"/>` + sized(10, d.Large) +
		`<w:lang w:val="` + escape(language) + `" w:eastAsia="` +
		escape(language) + `" w:bidi="ar-SA"/></w:rPr></w:rPrDefault><w:pPrDefault><w:pPr><w:spacing w:after="80" w:line="259" w:lineRule="auto"/></w:pPr></w:pPrDefault></w:docDefaults>` +
		`<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/><w:qFormat/></w:style>` +
		`<w:style w:type="character" w:default="1" w:styleId="DefaultParagraphFont"><w:name w:val="Default Paragraph Font"/><w:uiPriority w:val="1"/><w:semiHidden/></w:style>` +
		`<w:style w:type="table" w:default="1" w:styleId="TableNormal"><w:name w:val="Normal Table"/><w:uiPriority w:val="99"/><w:semiHidden/><w:tblPr><w:tblInd w:w="0" w:type="dxa"/><w:tblCellMar><w:top w:w="0" w:type="dxa"/><w:left w:w="108" w:type="dxa"/><w:bottom w:w="0" w:type="dxa"/><w:right w:w="108" w:type="dxa"/></w:tblCellMar></w:tblPr></w:style>`)
	for _, s := range allStyles {
		kind, on, next := "paragraph", "", ""
		if s.character {
			kind, s.basedOn = "character", "DefaultParagraphFont"
		}
		if s.basedOn != "" {
			on = `<w:basedOn w:val="` + s.basedOn + `"/>`
		}
		if s.next != "" {
			next = `<w:next w:val="` + s.next + `"/>`
		}
		fmt.Fprintf(&b, `<w:style w:type="%s" w:styleId="%s"><w:name w:val="%s"/>%s%s<w:qFormat/>`, kind, s.id, s.name,
			on, next)
		if s.paragraph != "" {
			tabAt := fmt.Sprint(int(math.Round((widthMM - 2*marginMM) * twipsPerMM)))
			b.WriteString(`<w:pPr>` + strings.ReplaceAll(listed(s, tied), "%[1]d", tabAt) + `</w:pPr>`)
		}
		if l := lettered(s, d.Large); l != "" {
			b.WriteString(`<w:rPr>` + l + `</w:rPr>`)
		}
		b.WriteString(`</w:style>`)
	}
	b.WriteString(`</w:styles>`)
	return b.String()
}
