package valve

// Style is the word by which standards, rules and the trade count a type. A new type of a
// style that is there comes under the same standards.
type Style string

// The styles.
const (
	StyleBall    Style = "ball"
	StyleSwing   Style = "swing"
	StyleFlap    Style = "flap"
	StyleTilting Style = "tilting disc"
	StyleDual    Style = "dual plate"
	StyleAxial   Style = "axial" // a disc or nozzle on a stem, closed by a spring
	StyleLift    Style = "lift"  // a disc or plug in a guide, closed by its weight
)

// Traits are what those who judge, specify, draw and keep a valve must know of its type.
type Traits struct {
	Style   Style
	Element string // what moves, in a word: "ball", "disc", "plates"
	Hinged  bool   // it turns about a hinge or pin
	Lever   bool   // a lever stands outside on its shaft
	Whole   bool   // it has no cover: it comes out of the line whole
	Quick   bool   // made to close sooner than a plain valve: offered where one slams
	Drawing string // the drawing that the page has of it; "" to be drawn by the other traits

	// Numbers of the type that are above 0 where a valve has the thing; "" for never.
	Spring, Weight, Cushion string
	// The density of an element that may float; "" where it always sinks.
	Floats string
}

// Figure is what a picture of one valve shows.
type Figure struct {
	Drawing string `json:"drawing"` // the page's drawing of the type; empty to be drawn by the rest
	Element string `json:"element"` // what moves, in a word
	Hinged  bool   `json:"hinged"`  // it turns about a hinge or pin
	Lever   bool   `json:"lever"`   // a lever stands outside on its shaft
	Weight  bool   `json:"weight"`  // a weight is on the lever
	Spring  bool   `json:"spring"`
	Cushion bool   `json:"cushion"` // an oil cushion slows the end of its way
}

// Figure is the picture of a valve with these numbers.
func (t *Type) Figure(p Params) Figure {
	has := func(key string) bool { v, known := p[key]; return known && v.SI > 0 }
	r := &t.Traits
	return Figure{
		Drawing: r.Drawing, Element: r.Element, Hinged: r.Hinged,
		Lever: r.Lever, Weight: has(r.Weight), Spring: has(r.Spring), Cushion: has(r.Cushion),
	}
}

// Look is one thing that the yearly inspection of the moving element measures or looks for.
// At most one of Param, Sound, Mass and Floats says how it is as new; with none the sheet
// leaves a blank.
type Look struct {
	At     string // "Hinge: play of pin and bush"
	Param  string // the number of the type that it is as new
	Sound  string // a word for as new: "none", "unbroken"
	Mass   bool   // the mass of the moving element
	Floats bool   // whether the element floats in water, by the number of Traits.Floats
}

// What several types have in common.
var (
	hingeLook = Look{At: "Hinge: play of pin and bush"}
	seatLook  = Look{At: "Seat: print unbroken all round", Sound: "unbroken"}
	stopLook  = Look{At: "Stop: dent, loose nut", Sound: "none"}
	leverLook = Look{At: "Lever, weight or spring: setting"}
	discLook  = Look{At: "Disc with its arm: mass", Mass: true}
	ballLooks = []Look{
		{At: "Ball: diameter in three planes", Param: "ball_diameter"},
		{At: "Ball: mass (heavier: water inside; lighter: skin lost)", Mass: true},
		{At: "Ball: hardness, Shore A"},
		{At: "Ball: deepest cut or flat", Sound: "none"},
		{At: "Ball: floats or sinks", Floats: true},
		{At: "Seat: print of the ball unbroken all round", Sound: "unbroken"},
		{At: "Guide or pocket: wear, rags", Sound: "none"},
	}
)
