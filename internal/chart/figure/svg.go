package figure

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// svg is a canvas that writes SVG elements.
type svg struct{ out bytes.Buffer }

func newSVG(s *sheet) *svg {
	c := &svg{}
	fmt.Fprintf(&c.out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" font-family="Go, 'Source Sans 3', 'Segoe UI', 'Helvetica Neue', Helvetica, Arial, sans-serif">`+"\n", s.width, s.height, s.width, s.height)
	fmt.Fprintf(&c.out, "<title>%s</title>\n<desc>%s</desc>\n", escape(orElse(s.title, "Chart")), escape(s.describe))
	fmt.Fprintf(&c.out, `<rect width="%d" height="%d" fill="%s"/>`+"\n", s.width, s.height, paper.hex())
	return c
}

func (c rgb) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// px writes a place to a hundredth, without needless zeros.
func px(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0")
	if s = strings.TrimSuffix(s, "."); s == "-0" {
		return "0"
	}
	return s
}

func escape(s string) string {
	var out strings.Builder
	if err := xml.EscapeText(&out, []byte(s)); err != nil {
		return "" // a strings.Builder takes all
	}
	return out.String()
}

func (p pen) attributes() string {
	s := fmt.Sprintf(`stroke="%s" stroke-width="%s"`, p.color.hex(), px(p.width))
	if p.dash[0] > 0 {
		s += fmt.Sprintf(` stroke-dasharray="%s %s"`, px(p.dash[0]), px(p.dash[1]))
	}
	return s
}

func (c *svg) line(a, b point, p pen) {
	fmt.Fprintf(&c.out, `<line x1="%s" y1="%s" x2="%s" y2="%s" %s/>`+"\n", px(a.x), px(a.y), px(b.x), px(b.y), p.attributes())
}

func (c *svg) points(pts []point) {
	c.out.WriteString(` points="`)
	for i, at := range pts {
		if i > 0 {
			c.out.WriteByte(' ')
		}
		c.out.WriteString(px(at.x) + "," + px(at.y))
	}
	c.out.WriteByte('"')
}

func (c *svg) polyline(pts []point, p pen) {
	if len(pts) == 2 && pts[0] == pts[1] {
		fmt.Fprintf(&c.out, `<circle cx="%s" cy="%s" r="%s" fill="%s"/>`+"\n", px(pts[0].x), px(pts[0].y), px(p.width/2), p.color.hex())
		return
	}
	c.out.WriteString(`<polyline fill="none" stroke-linejoin="round"`)
	if p.dash[0] == 0 {
		c.out.WriteString(` stroke-linecap="round"`)
	}
	c.points(pts)
	c.out.WriteString(" " + p.attributes() + "/>\n")
}

func (c *svg) polygon(pts []point, color rgb) {
	c.out.WriteString("<polygon")
	c.points(pts)
	fmt.Fprintf(&c.out, ` fill="%s" fill-opacity="%s"/>`+"\n", color.hex(), px(opacity))
}

func (c *svg) text(at point, s string, set setting) {
	fmt.Fprintf(&c.out, `<text x="%s" y="%s" font-size="%s" fill="%s"`, px(at.x), px(at.y), px(set.size), set.color.hex())
	switch set.anchor {
	case 0.5:
		c.out.WriteString(` text-anchor="middle"`)
	case 1:
		c.out.WriteString(` text-anchor="end"`)
	}
	if set.medium {
		c.out.WriteString(` font-weight="600"`)
	}
	c.out.WriteString(">" + escape(s) + "</text>\n")
}
