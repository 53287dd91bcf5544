package docx

import (
	"fmt"
	"math"
	"strings"
	"time"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// title writes the head of the paper.
func (x *writer) title() {
	d := x.d
	x.out.WriteString(paragraph("Title", "", run("", d.Title)))
	if d.Subject != "" {
		x.out.WriteString(paragraph("Subtitle", "", run("", d.Subject)))
	}
	runs := run("", wording.Foot(x.d))
	if d.Author != "" {
		runs += run("", "  ·  "+d.Author)
	}
	x.out.WriteString(paragraph("DocumentData", "", runs))
}

// header writes the header of the first page, or of the others, which repeat the title.
func (x *writer) header(first bool) (text string, links []relation) {
	left := ""
	if l := x.d.Logo; l != nil && l.Width > 0 && l.Height > 0 {
		name := "media/logo." + l.Format
		if first { // both headers show the one file
			x.media = append(x.media, part{"word/" + name, l.Data})
		}
		links = []relation{{"rId1", "image", name}}
		x.pictures++
		p := drawing{id: x.pictures, png: "rId1", text: x.d.Company}
		p.width, p.height = fitted(l.Width, l.Height, 2400, 560)
		left = p.xml() + run("", "  ")
	}
	left += run(bold, x.d.Company)
	right := ""
	if !first {
		right = run("", x.d.Title)
	}
	tab := fmt.Sprintf(`<w:tabs><w:tab w:val="right" w:pos="%d"/></w:tabs>`, x.width)
	return xmlHead + `<w:hdr ` + namespaces + `>` + paragraph("Header", tab,
		left+`<w:r><w:tab/></w:r>`+right) + `</w:hdr>`, links
}

// footer writes mark, number, revision, date and the page.
func (x *writer) footer() string {
	d := x.d
	tab := fmt.Sprintf(`<w:tabs><w:tab w:val="right" w:pos="%d"/></w:tabs>`, x.width)
	first := run(bold, d.Mark) + `<w:r><w:tab/></w:r>` + phrase(d.Words.Page, "n", field("", "PAGE", "1"), "total",
		field("", "NUMPAGES", "1"))
	second := run("", wording.Foot(x.d)) + `<w:r><w:tab/></w:r>` + run("",
		strings.TrimPrefix(d.Program+"  ·  "+d.Hash, "  ·  "))
	return xmlHead + `<w:ftr ` + namespaces + `>` + paragraph("Footer", edges("pBdr", faintLine, "top")+tab,
		first) + paragraph("Footer", tab, second) + `</w:ftr>`
}

// section is the sheet and what stands on each.
func (x *writer) section() string {
	w, h := x.d.Paper.SizeMM()
	twips := func(mm float64) int { return int(math.Round(mm * twipsPerMM)) }
	return fmt.Sprintf(`<w:sectPr><w:headerReference w:type="default" r:id="rId5"/><w:headerReference w:type="first" r:id="rId4"/>`+
		`<w:footerReference w:type="default" r:id="rId6"/><w:footerReference w:type="first" r:id="rId6"/>`+
		`<w:pgSz w:w="%d" w:h="%d"/><w:pgMar w:top="1360" w:right="%d" w:bottom="1300" w:left="%d" w:header="600" w:footer="560" w:gutter="0"/><w:titlePg/></w:sectPr>`,
		twips(w), twips(h), twips(marginMM), twips(w)-twips(marginMM)-x.width)
}

// settings ask for nothing: fields are worked out when the reader wants it.
const settingsXML = xmlHead + `<w:settings ` +
	namespaces + `><w:defaultTabStop w:val="720"/><w:characterSpacingControl w:val="doNotCompress"/>` +
	`<w:compat><w:compatSetting w:name="compatibilityMode" w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat><w:decimalSymbol w:val="."/><w:listSeparator w:val=","/></w:settings>`

// core writes title, subject, author and, where the paper has one, its date.
func core(d *document.Document) string {
	var b strings.Builder
	b.WriteString(xmlHead + `<cp:coreProperties xmlns:cp="` +
		pack + `metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">`)
	keywords := ""
	if d.Hash != "" {
		keywords = "hash " + d.Hash
	}
	for _, e := range [][2]string{
		{"dc:title", d.Title},
		{"dc:subject", d.Subject},
		{"dc:creator", d.Author},
		{"dc:language", d.Language},
		{"cp:keywords", keywords},
	} {
		if e[1] != "" {
			b.WriteString(`<` + e[0] + `>` + escape(e[1]) + `</` + e[0] + `>`)
		}
	}
	if when, err := time.Parse(time.DateOnly, d.Date); err == nil {
		for _, name := range []string{"created", "modified"} {
			b.WriteString(`<dcterms:` + name + ` xsi:type="dcterms:W3CDTF">` +
				when.Format(time.RFC3339) + `</dcterms:` + name + `>`)
		}
	}
	b.WriteString(`</cp:coreProperties>`)
	return b.String()
}

func app(d *document.Document) string {
	return xmlHead + `<Properties xmlns="` + office + `extended-properties"><Application>` +
		escape(d.Program) + `</Application><Company>` + escape(d.Company) + `</Company></Properties>`
}

// custom holds the hash that names all the paper was made from.
func custom(d *document.Document) string {
	var b strings.Builder
	b.WriteString(xmlHead + `<Properties xmlns="` + office + `custom-properties" xmlns:vt="` +
		office + `docPropsVTypes">`)
	id := 2
	for _, e := range [][2]string{
		{"Hash", d.Hash},
		{"Kind", d.Kind},
		{"Number", d.Number},
		{"Revision", d.Revision},
		{"Program", d.Program},
	} {
		if e[1] != "" {
			fmt.Fprintf(&b, `<property fmtid="{D5CDD505-2E9C-101B-9397-08002B2CF9AE}" pid="%d" name="%s"><vt:lpwstr>%s</vt:lpwstr></property>`, id, e[0], escape(e[1]))
			id++
		}
	}
	b.WriteString(`</Properties>`)
	return b.String()
}
