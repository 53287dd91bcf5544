package figure

import (
	"fmt"
	"strconv"
	"strings"
)

// svg is a canvas that writes SVG elements.
type svg struct{ out strings.Builder }

func (c Color) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

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

func (p Pen) attributes() string {
	s := fmt.Sprintf(`stroke="%s" stroke-width="%s" fill="none"`, p.Color.hex(), px(p.Width))
	if len(p.Dash) > 0 {
		s += ` stroke-dasharray="` + strings.Trim(fmt.Sprint(p.Dash), "[]") + `"`
	}
	return s
}

func (c *svg) points(x, y []float64) {
	for i := range x {
		if i > 0 {
			c.out.WriteByte(' ')
		}
		c.out.WriteString(px(x[i]) + "," + px(y[i]))
	}
}

func (c *svg) Path(x, y []float64, p Pen) {
	c.out.WriteString(`<polyline stroke-linejoin="round" points="`)
	c.points(x, y)
	c.out.WriteString(`" ` + p.attributes() + "/>\n")
}

func (c *svg) Area(x, y []float64, color Color) {
	c.out.WriteString(`<polygon points="`)
	c.points(x, y)
	c.out.WriteString(`" fill="` + color.hex() + "\"/>\n")
}

func (c *svg) Text(x, y float64, s string, t Lettering) {
	if s == "" {
		return
	}
	fmt.Fprintf(&c.out, `<text x="%s" y="%s" font-size="%s" fill="%s"`, px(x), px(y), px(t.Size), t.Color.hex())
	switch t.Anchor {
	case 0.5:
		c.out.WriteString(` text-anchor="middle"`)
	case 1:
		c.out.WriteString(` text-anchor="end"`)
	}
	if t.Bold {
		c.out.WriteString(` font-weight="600"`)
	}
	if t.Upward {
		fmt.Fprintf(&c.out, ` transform="rotate(-90 %s %s)"`, px(x), px(y))
	}
	c.out.WriteString(">" + escape(s) + "</text>\n")
}
