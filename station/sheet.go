package station

import (
	"fmt"
	"reflect"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

var fileType = reflect.TypeFor[File]()

// Shapes of what a file's key holds.
const (
	ShapeQuantity = "quantity" // a number with its unit
	ShapeNumber   = "number"
	ShapeWord     = "word"
	ShapeSize     = "size"
	ShapeList     = "list" // points or remarks: [[450 gpm, 62 ft], [600 gpm, 50 ft]]
	ShapeKeys     = "keys" // {90 elbow: 2, gate valve: 1}
)

// Field is one key that a station file may hold: what was written, and what the resolved
// station holds in its place.
type Field struct {
	Path    string // in the file, as Edit takes it: main.runs[0].length
	Label   string
	Shape   string
	Kind    quantity.Kind // of a quantity or number
	Unit    string        // of a bare number, and of what is shown
	Choices []string      // of a word that has few
	Written string        // as it stands in the file; "" where it does not
	Value   basis.Value   // unknown for words, and where nothing is resolved
	Text    string        // what the station holds, printed in its units; "" where nothing
	Origin  string        // given, assumed, catalog, computed, simulated, unknown
	Reason  string        // of an assumption
	Explain string        // path by which Walk and explanations name the value; "" where none does
}

// Fields lists the keys that the file may hold, in the order of the format. Lists that the
// file leaves out are shown with the one entry that the station assumes.
func Fields(st *Station, data []byte) ([]Field, diag.List) {
	tree, list := yamlfile.ParseTree("", data)
	if list.Err() != nil {
		return nil, list
	}
	s := sheet{st: st, values: map[string]basis.Value{}, words: wordsOf(st)}
	walkFields(reflect.ValueOf(*st), "", func(path string, v basis.Value) { s.values[path] = v })
	s.struc(fileType, "", tree)
	return s.out, nil
}

// sheet collects the fields.
type sheet struct {
	st     *Station
	values map[string]basis.Value
	words  map[string]string
	out    []Field
}

func (s *sheet) struc(t reflect.Type, path string, tree *yamlfile.Tree) {
	for i := range t.NumField() {
		f := t.Field(i)
		if key := f.Tag.Get("yaml"); key != "" {
			s.key(f, join(path, key), tree.Get(key))
		}
	}
}

func (s *sheet) key(f reflect.StructField, path string, tree *yamlfile.Tree) {
	if shape := shapeOf(f.Type); shape != "" {
		s.field(f, path, shape, tree)
		return
	}
	if f.Type.Kind() == reflect.Struct {
		s.struc(f.Type, path, tree)
		return
	}
	n := s.assumed(path)
	if tree != nil {
		n = max(n, len(tree.Items))
	}
	for i := range n {
		var item *yamlfile.Tree
		if tree != nil && i < len(tree.Items) {
			item = tree.Items[i]
		}
		s.struc(f.Type.Elem(), fmt.Sprintf("%s[%d]", path, i), item)
	}
}

// assumed is how many entries the station holds of a list that may not be written.
func (s *sheet) assumed(path string) int {
	switch path {
	case "pumps":
		return len(s.st.Pumps)
	case "branch.runs":
		return len(s.st.Branch.Runs)
	case "main.runs":
		return len(s.st.Main.Runs)
	case "surge.devices":
		return len(s.st.Surge.Devices)
	}
	return 0
}

// shapeOf is the shape of a type of the file; "" for those with keys of their own.
func shapeOf(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[yamlfile.Q]():
		return ShapeQuantity
	case reflect.TypeFor[yamlfile.Num]():
		return ShapeNumber
	case reflect.TypeFor[yamlfile.Word]():
		return ShapeWord
	case reflect.TypeFor[yamlfile.Size]():
		return ShapeSize
	case reflect.TypeFor[[]yamlfile.Tuple](), reflect.TypeFor[[]yamlfile.Word]():
		return ShapeList
	case reflect.TypeFor[[]yamlfile.Pair]():
		return ShapeKeys
	}
	return ""
}

func (s *sheet) field(f reflect.StructField, path, shape string, tree *yamlfile.Tree) {
	out := Field{Path: path, Label: f.Tag.Get("doc"), Shape: shape, Origin: "unknown"}
	if tree != nil {
		out.Written = tree.Line()
	}
	if one := f.Tag.Get("one"); one != "" {
		out.Choices = strings.Split(one, "|")
	}
	if shape == ShapeQuantity {
		out.Kind, _ = quantity.KindNamed(f.Tag.Get("kind"))
		if out.Unit = f.Tag.Get("unit"); out.Unit == "" {
			out.Unit = s.st.Units.Unit(out.Kind)
		}
	}
	at := resolvedPath(path)
	if v, ok := s.values[at]; ok {
		out.Value, out.Text, out.Origin, out.Reason, out.Explain = v, v.Format(s.st.Units), v.Origin.String(),
			v.Reason, at
	} else if word := s.words[path]; word != "" {
		out.Text, out.Origin = word, basis.Assumed.String()
		out.Reason = s.warning(path)
	} else if out.Written != "" {
		out.Text = inUnits(out.Written, shape, f.Tag.Get("kind"), s.st.Units)
	}
	if out.Written != "" {
		out.Origin = basis.Given.String()
	}
	s.out = append(s.out, out)
}

// inUnits is what was written, in the units of the station: a quantity, or points of them;
// as it was written where it is neither.
func inUnits(written, shape, kinds string, sys quantity.System) string {
	one := func(text, name string) (string, bool) {
		kind, ok := quantity.KindNamed(strings.TrimSpace(name))
		if !ok {
			return "", false
		}
		q, err := quantity.Parse(kind, strings.TrimSpace(text))
		if err != nil {
			return "", false
		}
		return sys.Format(kind, q.SI), true
	}
	names := strings.Split(kinds, ",")
	if shape == ShapeQuantity {
		if text, ok := one(written, kinds); ok {
			return text
		}
	}
	if shape != ShapeList || kinds == "" || !strings.HasPrefix(written, "[[") {
		return written
	}
	var points []string
	for _, p := range strings.Split(strings.Trim(written, "[] "), "]") {
		var items []string
		for i, text := range strings.Split(strings.TrimLeft(p, "[, "), ",") {
			item, ok := one(text, names[min(i, len(names)-1)])
			if !ok {
				return written
			}
			items = append(items, item)
		}
		points = append(points, "["+strings.Join(items, ", ")+"]")
	}
	return "[" + strings.Join(points, ", ") + "]"
}

// warning is what the station says of a word that it assumes.
func (s *sheet) warning(path string) string {
	for _, m := range s.st.Warnings {
		if m.Path == path {
			return m.Text
		}
	}
	return ""
}

// renamed are the keys under which the station holds what the file calls otherwise.
var renamed = map[string]string{
	"fluid.greatest_temperature": "fluid.max_temperature", "fluid.friction_multiplier": "fluid.friction_factor",
	"duty.flow": "pumps[0].duty_flow", "duty.head": "pumps[0].duty_head", "duty.static_head": "static_low",
	"duty.shutoff_head": "pumps[0].shutoff_head",
	"duty.least_flow":   "flows.least", "duty.greatest_flow": "flows.greatest",
	"levels.wet_well_high": "wet_well_high", "levels.outlet": "outlet", "levels.valve": "valve_elevation",
	"levels.suction_pressure": "suction_pressure", "levels.outlet_pressure": "outlet_pressure",
	"operation.running_time_per_year": "operation.running_time",
}

// resolvedPath is where the station holds what the file has at the path.
func resolvedPath(path string) string {
	if other, ok := renamed[path]; ok {
		return other
	}
	if line, ok := strings.CutSuffix(path, ".loss_coefficient"); ok {
		return line + ".loss"
	}
	return path
}

// wordsOf are the words and counts that the station holds, by their keys in the file.
func wordsOf(st *Station) map[string]string {
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	}
	vessel := "none"
	if st.HasVessel() {
		vessel = "at the station"
	}
	out := map[string]string{
		"station": st.Name, "place": st.Place, "units": st.Units.String(), "fluid.kind": string(st.Fluid.Kind),
		"fluid.rags": st.Fluid.Rags, "fluid.grit": st.Fluid.Grit,
		"fluid.oil": st.Fluid.Oil, "fluid.hydrogen_sulfide": st.Fluid.HydrogenSulfide,
		"valve.size": st.Valve.Size.Format(st.Units), "valve.position": st.Valve.Position.String(),
		"valve.place": st.Valve.Where, "valve.existing": st.Valve.Existing, "surge.air_vessel": vessel,
		"surge.common_header": yes(st.Surge.CommonHeader), "surge.normal_stop": st.Surge.Stop,
	}
	for _, p := range st.Pumps {
		at := p.Path() + "."
		out[at+"name"], out[at+"count"], out[at+"standby"], out[at+
			"submersible"] = p.Name, fmt.Sprint(p.Count), fmt.Sprint(p.Standby), yes(p.Submersible)
	}
	for name, line := range map[string]Line{"branch": st.Branch, "main": st.Main} {
		for i, r := range line.Runs {
			at := fmt.Sprintf("%s.runs[%d].", name, i)
			out[at+"material"], out[at+"class"], out[at+"size"] = r.Material, r.Class, r.Size.Format(st.Units)
		}
	}
	return out
}
