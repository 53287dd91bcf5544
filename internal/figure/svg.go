package figure

import (
	"fmt"
	"strconv"
	"strings"
)

// svg is a canvas that writes SVG elements.
type svg struct{ out strings.Builder }

func (c rgb) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// px writes a place to a tenth of a pixel.
func px(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// escape makes a text safe in XML; control characters, which XML cannot hold, go.
func escape(s string) string {
	return escaper.Replace(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "")))
}

func (p pen) attributes() string {
	s := fmt.Sprintf(`stroke="%s" stroke-width="%s" fill="none"`, p.color.hex(), px(p.width))
	if p.dash {
		s += ` stroke-dasharray="5 4"`
	}
	return s
}

func (c *svg) line(x0, y0, x1, y1 float64, p pen) {
	fmt.Fprintf(&c.out, `<line x1="%s" y1="%s" x2="%s" y2="%s" %s/>`+"\n", px(x0), px(y0), px(x1), px(y1), p.attributes())
}

func (c *svg) points(x, y []float64) {
	for i := range x {
		if i > 0 {
			c.out.WriteByte(' ')
		}
		c.out.WriteString(px(x[i]) + "," + px(y[i]))
	}
}

func (c *svg) path(x, y []float64, p pen) {
	c.out.WriteString(`<polyline stroke-linejoin="round" points="`)
	c.points(x, y)
	c.out.WriteString(`" ` + p.attributes() + "/>\n")
}

func (c *svg) area(x, y []float64, color rgb) {
	c.out.WriteString(`<polygon points="`)
	c.points(x, y)
	c.out.WriteString(`" fill="` + color.hex() + "\"/>\n")
}

func (c *svg) text(x, y float64, s string, t type0) {
	if s == "" {
		return
	}
	fmt.Fprintf(&c.out, `<text x="%s" y="%s" font-size="%s" fill="%s"`, px(x), px(y), px(t.size), t.color.hex())
	switch t.anchor {
	case 0.5:
		c.out.WriteString(` text-anchor="middle"`)
	case 1:
		c.out.WriteString(` text-anchor="end"`)
	}
	if t.bold {
		c.out.WriteString(` font-weight="600"`)
	}
	if t.upward {
		fmt.Fprintf(&c.out, ` transform="rotate(-90 %s %s)"`, px(x), px(y))
	}
	c.out.WriteString(">" + escape(s) + "</text>\n")
}
