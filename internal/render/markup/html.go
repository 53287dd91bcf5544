// Package markup writes a document as one HTML file, or as Markdown with its pictures
// beside it.
package markup

import (
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/code"
	"seatward/internal/render/wording"
)

// page is an HTML file being written.
type page struct {
	d        *document.Document
	out      strings.Builder
	headings int
	figures  int
}

// HTML writes the document as one file that needs no other and runs no script. The same
// document gives the same bytes.
func HTML(w io.Writer, d *document.Document) error {
	if err := wording.Check(d); err != nil {
		return err
	}
	p := &page{d: d}
	p.begin()
	for _, b := range d.Blocks {
		if err := p.block(b); err != nil {
			return fmt.Errorf("page of %q: %w", d.Title, err)
		}
	}
	p.end()
	_, err := io.WriteString(w, p.out.String())
	return err
}

// clean makes any text fit for HTML.
func clean(s string) string { return html.EscapeString(wording.Clean(s)) }

func (p *page) put(format string, a ...any) { fmt.Fprintf(&p.out, format, a...) }

// begin writes the head of the file and of the document.
func (p *page) begin() {
	d := p.d
	paper := "letter"
	if d.Paper == document.A4 {
		paper = "A4"
	}
	language := d.Language
	if language == "" {
		language = "en"
	}
	large := ""
	if d.Large {
		large = ` class="large"`
	}
	p.put(`<!DOCTYPE html>
<html lang="%s">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="generator" content="%s">
<title>%s</title>
<style>@page{size:%s;margin:18mm 16mm}%s</style>
</head>
<body%s>
<main>
<header>
`, clean(language), clean(d.Program), clean(d.Title), paper, sheet, large)
	if d.Logo != nil {
		p.put("<img alt=\"%s\" src=\"data:image/%s;base64,%s\">\n", clean(d.Company), clean(d.Logo.Format),
			base64.StdEncoding.EncodeToString(d.Logo.Data))
	}
	p.put("<h1>%s</h1>\n<p class=\"subject\">%s</p>\n<dl class=\"about\">\n", clean(d.Title), clean(d.Subject))
	for _, f := range [][2]string{
		{d.Named("Number"), d.Number},
		{d.Named("Revision"), d.Revision},
		{d.Named("Date"), d.Date},
		{d.Named("Company"), d.Company},
		{d.Named("Prepared by"), d.Author},
	} {
		p.put("<div><dt>%s</dt><dd>%s</dd></div>\n", f[0], clean(wording.OrBlank(f[1])))
	}
	p.put("</dl>\n</header>\n")
}

// end writes the foot.
func (p *page) end() {
	d := p.d
	p.put("<footer>%s</footer>\n</main>\n</body>\n</html>\n",
		clean(strings.Join([]string{d.Mark, d.Program, d.Hash}, "  ·  ")))
}

// classes are the names of the tones in the style.
var classes = [...]string{
	document.Plain: "", document.Lead: "lead", document.Source: "source", document.Warning: "warning",
	document.Advice: "advice", document.Good: "good", document.Bad: "bad", document.Open: "open",
}

// class is the attribute of a tone.
func class(t document.Tone, more ...string) string {
	var all []string
	if int(t) < len(classes) && classes[t] != "" {
		all = append(all, classes[t])
	}
	for _, m := range more {
		if m != "" {
			all = append(all, m)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return ` class="` + strings.Join(all, " ") + `"`
}

func (p *page) block(b document.Block) error {
	switch x := b.(type) {
	case document.Heading:
		p.headings++
		p.put("<h%d id=\"s%d\">%s</h%d>\n", x.Level+1, p.headings, clean(x.Text), x.Level+1)
	case document.Paragraph:
		label := ""
		if l := wording.Label(x); l != "" {
			label = "<strong>" + clean(l) + "</strong> "
		}
		p.put("<p%s>%s%s</p>\n", class(x.Tone), label, clean(wording.Body(x)))
	case document.List:
		p.list(x)
	case document.Table:
		p.table(x)
	case document.Figure:
		return p.figure(x)
	case document.Clause:
		p.clause(x)
	case document.Listing:
		p.put("<pre tabindex=\"0\">\n%s</pre>\n", clean(strings.Join(x.Lines, "\n"))) // the first line end is not shown
	case document.Code:
		return p.code(x)
	case document.Space:
		p.put("<div class=\"space\" style=\"min-height:%gmm\"><strong>%s</strong>", x.HeightMM, clean(x.Title))
		for _, l := range x.Lines {
			p.put("<br>%s", clean(l))
		}
		p.put("</div>\n")
	case document.Contents:
		p.contents()
	case document.Break:
		p.put("<div class=\"break\"></div>\n")
	}
	return nil
}

func (p *page) list(x document.List) {
	tag, sign := "ul", ""
	open := "<ul>"
	switch {
	case x.Boxes:
		open, sign = `<ul class="boxes">`, "☐ "
	case x.Numbered:
		tag, open = "ol", "<ol>"
	}
	p.put("%s\n", open)
	for _, item := range x.Items {
		p.put("<li>%s%s</li>\n", sign, clean(item))
	}
	p.put("</%s>\n", tag)
}

// clause sets a numbered part of a specification; choices in brackets are bold.
func (p *page) clause(x document.Clause) {
	if x.Level <= 1 {
		p.put("<h%d>%s %s</h%d>\n", x.Level+2, clean(x.Number), clean(x.Text), x.Level+2)
		return
	}
	p.put("<div class=\"c c%d\"><span>%s</span><span>", x.Level, clean(x.Number))
	for _, s := range wording.Choices(x.Text) {
		if s.Choice {
			p.put("<span class=\"choice\">%s</span>", clean(s.Text))
			continue
		}
		p.put("%s", clean(s.Text))
	}
	p.put("</span></div>\n")
}

// figure sets a chart, which tells in words what it shows.
func (p *page) figure(x document.Figure) error {
	p.figures++
	p.put("<figure>\n")
	if err := x.Figure.SVG(&p.out); err != nil {
		return fmt.Errorf("figure %q: %w", x.Caption, err)
	}
	p.put("<figcaption>%s", clean(wording.Caption(p.d, p.figures, x.Caption)))
	if x.Text != "" {
		p.put("<br>%s", clean(x.Text))
	}
	p.put("</figcaption>\n</figure>\n")
	return nil
}

// picture is a text as a square code, in SVG.
func picture(x document.Code) (string, error) {
	square, err := code.New(x.Text)
	if err != nil {
		return "", fmt.Errorf("%s: %w", x.Caption, err)
	}
	path, side := square.Path()
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img"><title>Square code</title><desc>%s</desc><rect width="%d" height="%d" fill="#fff"/><path d="%s" fill="#000"/></svg>`+"\n",
		side, side, side*5, side*5, clean(x.Text), side, side, path), nil
}

func (p *page) code(x document.Code) error {
	svg, err := picture(x)
	if err != nil {
		return err
	}
	p.put("<figure class=\"code\">\n%s<figcaption>%s<br>%s</figcaption>\n</figure>\n", svg, clean(x.Caption),
		clean(x.Text))
	return nil
}

// contents leads to the headings of the levels 1 and 2.
func (p *page) contents() {
	p.put("<nav aria-label=\"%s\">\n<strong>%s</strong>\n<ol>\n", clean(p.d.Words.Contents), clean(p.d.Words.Contents))
	n := 0
	for _, b := range p.d.Blocks {
		h, is := b.(document.Heading)
		if !is {
			continue
		}
		n++
		if h.Level <= 2 {
			p.put("<li class=\"l%d\"><a href=\"#s%d\">%s</a></li>\n", h.Level, n, clean(h.Text))
		}
	}
	p.put("</ol>\n</nav>\n")
}
