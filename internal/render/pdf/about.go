package pdf

import (
	"encoding/xml"
	"fmt"
	"strings"
	"time"

	"seatward/internal/render/wording"
)

// about is what a file says of its document, beside what can be seen.
type about struct {
	title, subject, author, program, keywords, language string
	when                                                time.Time
	turned                                              bool // some text runs leftward
}

func (p *writer) about() about {
	language := p.d.Language
	if language == "" {
		language = "en"
	}
	return about{
		title: joined(p.d.Title, p.d.Subject), subject: p.d.Subject, author: joined(p.d.Author, p.d.Company),
		program: p.d.Program, keywords: "hash " + p.d.Hash, language: language, when: p.when, turned: p.turned,
	}
}

// packet is the description as XMP (ISO 16684-1). The mark of ISO 14289-1 (PDF/UA-1), clause 5,
// is left out: it claims that the file conforms, which no checker has confirmed.
func (a about) packet() string {
	escape := func(s string) string {
		var b strings.Builder
		if xml.EscapeText(&b, []byte(wording.Clean(s))) != nil { // a builder takes everything
			return ""
		}
		return b.String()
	}
	when := a.when.Format(time.RFC3339)
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/">` + "\n" +
		`<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` + "\n" +
		`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"` +
		` xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">` + "\n")
	fmt.Fprintf(&b, "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n", escape(a.title))
	fmt.Fprintf(&b, "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:description>\n",
		escape(a.subject))
	if a.author != "" {
		fmt.Fprintf(&b, "<dc:creator><rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq></dc:creator>\n", escape(a.author))
	}
	fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n", escape(a.language))
	fmt.Fprintf(&b, "<xmp:CreateDate>%s</xmp:CreateDate>\n<xmp:ModifyDate>%s</xmp:ModifyDate>\n", when, when)
	fmt.Fprintf(&b, "<xmp:CreatorTool>%s</xmp:CreatorTool>\n<pdf:Producer>%s</pdf:Producer>\n", escape(a.program),
		escape(a.program))
	fmt.Fprintf(&b, "<pdf:Keywords>%s</pdf:Keywords>\n", escape(a.keywords))
	b.WriteString("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return b.String()
}
