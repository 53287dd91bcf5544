package valve

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/quantity"
)

// Position is how the valve stands in the line, told by the direction of flow.
type Position uint8

// The positions.
const (
	Horizontal Position = iota
	FlowUp
	FlowDown
)

// Positions lists every position.
func Positions() []Position { return []Position{Horizontal, FlowUp, FlowDown} }

// String gives the words by which files and reports name the position.
func (p Position) String() string { return [...]string{"horizontal", "flow up", "flow down"}[p] }

// InclinationRad is the angle of the flow above the horizontal, rad.
func (p Position) InclinationRad() float64 {
	return [...]float64{0, math.Pi / 2, -math.Pi / 2}[p]
}

// PositionNamed finds the position by the words of String.
func PositionNamed(name string) (Position, error) {
	for _, p := range Positions() {
		if p.String() == name {
			return p, nil
		}
	}
	return 0, fmt.Errorf("valve: no position is called %q: write horizontal, flow up or flow down", name)
}

// Setting is where the valve stands: the liquid, and the inclination of the flow.
type Setting struct {
	DensityKgM3    float64
	InclinationRad float64 // 0 horizontal, π/2 up, −π/2 down
	GravityMS2     float64 // 0 means the standard 9.80665
}

// In is a setting in water of the density, at standard gravity, in the position.
func In(densityKgM3 float64, p Position) Setting {
	return Setting{DensityKgM3: densityKgM3, InclinationRad: p.InclinationRad()}
}

// Type is a kind of check valve: what its products must tell, and how its moving
// element behaves.
type Type struct {
	Key         string // "swing-assisted"
	Title       string // "Swing with lever and weight or spring"
	Description string // plain sentences for a reader who has never seen one
	Params      []Param
	Positions   []Position        // in which the example closes by itself
	Example     map[string]string // a typical invented valve, as product data write it
	SweptBores  [2]float64        // swept length that is usual, in bores
	Traits      Traits            // what others must know of it
	Looks       []Look            // what the yearly inspection measures and looks for

	build func(v *Reader, s Setting) (Frame, Law, error)
}

// common are the numbers that every type knows.
func common(addedMass *Default) []Param {
	return []Param{
		{
			Key: "reverse_loss_factor", Title: "loss in reverse flow over loss in forward flow", Kind: quantity.Number,
			Positive: true,
			Doc:      "Multiplies the loss coefficient in reverse flow at equal opening.",
			Default: fixed(1, 0.7, 1.5, "reverse flow meets another shape than forward flow; its size is not published",
				basis.FromMemory),
		},
		{
			Key: "added_mass_factor", Title: "factor on the mass of water that moves with the element",
			Kind: quantity.Number, Positive: true,
			Doc:     "Multiplies the added mass of the element in unbounded water: a body round it raises it.",
			Default: addedMass,
		},
		{
			Key: "fluid_acceleration", Title: "share of the pull of accelerating water that is counted",
			Kind: quantity.Fraction, Most: 1,
			Doc:     "1 counts the force on a body in an accelerating stream in full, the best estimate; 0 leaves it out, the conservative bound.",
			Default: fixed(1, 0, 1, "exact for bodies on the axis in ideal flow, plausible for others, not yet proven by test", basis.DerivedHere),
		},
		{
			Key: "restitution", Title: "share of its speed with which the element leaves the seat again",
			Kind: quantity.Fraction, Most: 0.9,
			Doc:     "Speed after the blow on the seat over speed before it.",
			After:   true,
			Default: fixed(0, 0, 0.2, "the water that leaves the gap takes up the blow", basis.FromMemory),
		},
	}
}

// with joins lists of parameters.
func with(lists ...[]Param) []Param { return slices.Concat(lists...) }

// bodyFactor is the usual default of added_mass_factor for discs.
var bodyFactor = fixed(1.3, 1, 2, "a full-bore body: displaced water must pass the gap", basis.FromMemory)

// book holds the types by key.
type book map[string]*Type

var registry = book{}

func (b book) add(t Type) *Type {
	if b[t.Key] != nil {
		panic("valve: two types are called " + t.Key)
	}
	b[t.Key] = &t
	return &t
}

// declares is true when one of the types has a number of that name.
func (b book) declares(key string) bool {
	for _, t := range b {
		if t.Param(key) != nil {
			return true
		}
	}
	return false
}

// register makes a type known. It is called from package-level variables of this
// package only, once for each type.
func register(t Type) *Type { return registry.add(t) }

// Types lists every type, sorted by key.
func Types() []*Type {
	out := make([]*Type, 0, len(registry))
	for _, t := range registry {
		out = append(out, t)
	}
	slices.SortFunc(out, func(a, b *Type) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// TypeNamed finds a type by its key.
func TypeNamed(key string) (*Type, error) {
	if t := registry[key]; t != nil {
		return t, nil
	}
	var keys []string
	for _, t := range Types() {
		keys = append(keys, t.Key)
	}
	hint := "known: " + strings.Join(keys, ", ")
	if near := diag.DidYouMean(key, keys); near != "" {
		hint = "did you mean " + near + "?"
	}
	return nil, fmt.Errorf("valve: no type is called %q; %s", key, hint)
}

// Param finds a parameter by its key; nil when the type has none such.
func (t *Type) Param(key string) *Param {
	for i := range t.Params {
		if t.Params[i].Key == key {
			return &t.Params[i]
		}
	}
	return nil
}

// Build makes the moving element of one valve in the setting. Numbers that are not
// given are assumed as Complete says. The error joins a *ParamError for each
// number that is wrong; a valve that cannot close in the setting is built all the same,
// because the reader wants to know what it would do: ask SelfClosing.
func (t *Type) Build(p Params, s Setting) (*Mechanism, error) {
	full, err := t.Complete(p)
	if err != nil {
		return nil, err
	}
	return t.assemble(t.reader(full.values()), s)
}

// assemble builds from complete values.
func (t *Type) assemble(v *Reader, s Setting) (*Mechanism, error) {
	if s.GravityMS2 == 0 {
		s.GravityMS2 = quantity.StandardGravity
	}
	if !(math.Abs(s.InclinationRad) <= math.Pi/2+1e-9) {
		return nil, fmt.Errorf("valve: inclination %g rad; it must be from straight down, −π/2, to straight up, π/2",
			s.InclinationRad)
	}
	frame, law, err := t.build(v, s)
	if err != nil {
		if slip := v.err(); slip != nil {
			return nil, slip
		}
		return nil, err
	}
	frame.DensityKgM3, frame.GravityMS2, frame.InclinationRad = s.DensityKgM3, s.GravityMS2, s.InclinationRad
	m, err := NewMechanism(frame, law)
	reverse, coupling, restitution := v.SI("reverse_loss_factor"), v.SI("fluid_acceleration"), v.SI("restitution")
	if err := v.err(); err != nil {
		return nil, err // what is not a number because of it is no fault of the data
	}
	if err != nil {
		return nil, fmt.Errorf("valve type %s: %w", t.Key, err)
	}
	m.reverse, m.coupling, m.restitution = reverse, coupling, restitution
	return m, nil
}

// ReadExample reads the type's example.
func (t *Type) ReadExample() (Params, error) {
	p := Params{}
	for key, text := range t.Example {
		spec := t.Param(key)
		if spec == nil {
			return nil, t.unknown(key, "leave it out")
		}
		v, err := spec.Read(text, "example of the valve type, invented")
		if err != nil {
			return nil, fmt.Errorf("%s: %w", key, err)
		}
		p[key] = v
	}
	return p, nil
}

// Numbers makes parameters of plain SI numbers, as tests and strangers hold them.
// Each gets the kind that the type's parameter of that key has.
func (t *Type) Numbers(v Values, source string) Params {
	p := make(Params, len(v))
	for key, si := range v {
		kind := quantity.Number
		if spec := t.Param(key); spec != nil {
			kind = spec.Kind
		}
		p[key] = basis.NewCatalog(key, kind, si, source)
	}
	return p
}
