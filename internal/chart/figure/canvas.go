package figure

// canvas is what a figure is drawn on; y grows downwards.
type canvas interface {
	line(a, b point, p pen)
	polyline(pts []point, p pen) // with round ends and joins; a point twice is a dot
	polygon(pts []point, c rgb)  // tinted, so that what lies below shows through
	text(at point, s string, set setting)
}

type point struct{ x, y float64 }

// pen is how a line is drawn.
type pen struct {
	color rgb
	width float64
	dash  [2]float64 // on and off; zero for a whole line
}

// setting is how a text is set.
type setting struct {
	typeface
	anchor float64 // share of the text that stands before its place: 0, 0.5 or 1
	color  rgb
}

// typeface is a weight and a size.
type typeface struct {
	size   float64 // px
	medium bool
}

type rgb struct{ r, g, b uint8 }

// The colors of the paper. Amber is too light for letters: its names are set darker, so
// that each text stands at 4.5 to 1 against the paper or better.
var (
	paper   = rgb{0xff, 0xff, 0xff}
	inks    = [...]rgb{{0x1b, 0x25, 0x30}, {0x1b, 0x7f, 0x86}, {0xb7, 0x79, 0x1f}, {0xa8, 0x43, 0x2a}}
	letters = [...]rgb{{0x1b, 0x25, 0x30}, {0x15, 0x6b, 0x72}, {0x85, 0x55, 0x10}, {0x98, 0x3a, 0x23}}
	faint   = rgb{0xe3, 0xe7, 0xea} // grid
	middle  = rgb{0x8d, 0x97, 0xa0} // axes and marks
	grey    = rgb{0x4f, 0x5b, 0x66} // small text
)

// opacity of a tinted area.
const opacity = 0.15

// of looks up a style's color; an unknown style is ink.
func (s Style) of(colors [4]rgb) rgb {
	if int(s) >= len(colors) {
		return colors[Ink]
	}
	return colors[s]
}

var (
	titleFont = typeface{17, true}
	panelFont = typeface{13, true}
	labelFont = typeface{11.5, false}
	nameFont  = typeface{12, true}
	tickFont  = typeface{11, false}
	noteFont  = typeface{11, false}
)
