package station

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"reflect"
	"sort"
	"strings"
	"unicode"

	"seatward/basis"
)

// depth says how much is known. A layout has a pump curve and the runs of the main;
// a study has besides the profile or the inertia, and the running time.
func (r *resolver) depth() {
	curve, inertia := true, false
	for i := range r.f.Pumps {
		curve = curve && len(r.f.Pumps[i].Curve) > 0
		inertia = inertia || r.f.Pumps[i].Inertia.Set
	}
	layout := curve && len(r.f.Pumps) > 0 && len(r.f.Main.Runs) > 0
	switch {
	case layout && (inertia || len(r.f.Main.Profile) > 0) && r.f.Operation.HoursPerYear.Set:
		r.st.Depth = Full
	case layout:
		r.st.Depth = Layout
	default:
		r.st.Depth = FirstCall
	}
}

var valueType = reflect.TypeFor[basis.Value]()

// Walk visits every known value of the station with its path, such as
// main.runs[0].wave_speed, and after each the assumed values that it rests on and
// that stand nowhere else, with the path of the value and the assumption's name.
// Fields come in the order of the type, so that the walk is the same each time.
func Walk(st *Station, visit func(path string, v basis.Value)) {
	seen := map[string]bool{}
	direct := func(path string, v basis.Value) {
		if !seen[v.Name] {
			seen[v.Name] = true
			visit(path, v)
		}
	}
	walkFields(reflect.ValueOf(*st), "", direct)
	walkFields(reflect.ValueOf(*st), "", func(path string, v basis.Value) {
		for _, a := range basis.Assumptions(v) {
			direct(path+" < "+a.Name, a)
		}
	})
}

func walkFields(v reflect.Value, path string, visit func(string, basis.Value)) {
	if v.Type() == valueType {
		if value := v.Interface().(basis.Value); value.Known() {
			visit(path, value)
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				walkFields(v.Field(i), join(path, snake(f.Name)), visit)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			walkFields(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// snake turns a field's name into the style of the file's keys.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// hash names the station's content: all values with their ranges, and the words.
// Places in the file and texts of reasons do not count.
func hash(st *Station) string {
	var lines []string
	Walk(st, func(path string, v basis.Value) {
		lines = append(lines, fmt.Sprintf("%s=%x,%x,%x", path, v.SI, v.Low, v.High))
	})
	for i, p := range st.Pumps {
		lines = append(lines, fmt.Sprintf("pump %d %d %d %v %v", i, p.Count, p.Standby, p.Performance.Points(), p.Submersible))
	}
	for _, line := range []Line{st.Branch, st.Main} {
		for _, run := range line.Runs {
			lines = append(lines, fmt.Sprint(run.Name, run.Material, run.Class, run.Size))
		}
		lines = append(lines, fmt.Sprint(line.Profile))
	}
	f := st.Fluid
	lines = append(lines, fmt.Sprint(st.Name, st.Place, st.Units, st.Depth, f.Kind, f.Rags, f.Grit, f.Oil, f.HydrogenSulfide,
		st.Valve.Size, st.Valve.Position, st.Valve.Where, st.Surge.AirVessel, st.Surge.CommonHeader, st.Surge.Stop, st.Events))
	sort.Strings(lines)
	sum := sha256.Sum256([]byte(strings.Join(lines, "\n")))
	return hex.EncodeToString(sum[:6])
}
