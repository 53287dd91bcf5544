package station

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/pump"
)

// hash names the station's content: every word, count and value with its range and
// origin, to nine figures, so that machines that round differently agree. Places in
// the file and texts of reasons do not count, nor do the order of keys and comments.
func hash(st *Station) string {
	sum := sha256.New()
	canonical(sum, "station", reflect.ValueOf(st.unordered()))
	return hex.EncodeToString(sum.Sum(nil)[:6])
}

// unordered is the station without what the order of the file's list of pumps says:
// names by place, places, and the numbers by which steps mean pumps.
func (st *Station) unordered() Station {
	out := *st
	out.Pumps, out.Events = slices.Clone(st.Pumps), slices.Clone(st.Events)
	for i := range out.Pumps {
		if p := &out.Pumps[i]; p.Name == nameByPlace(p.Index) {
			p.Name = ""
		}
		out.Pumps[i].Index = 0
	}
	for i := range out.Events {
		steps := slices.Clone(out.Events[i].Steps)
		for k := range steps {
			steps[k].Pump = st.Unit(steps[k].Pump)
		}
		out.Events[i].Steps = steps
	}
	return out
}

// canonical writes one line for every fact, in the order of the type.
func canonical(w io.Writer, path string, v reflect.Value) {
	line := func(format string, args ...any) { fmt.Fprintf(w, "%s="+format+"\n", append([]any{path}, args...)...) }
	switch x := v.Interface().(type) {
	case basis.Value:
		line("%.9g %.9g %.9g %s", x.SI, x.Low, x.High, x.Origin)
		return
	case pump.Performance:
		line("%s", curveText(x))
		return
	case diag.List, diag.Place, []Fitting: // follow from the rest; of fittings the sum counts
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				canonical(w, join(path, snake(f.Name)), v.Field(i))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			canonical(w, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			canonical(w, join(path, k.String()), v.MapIndex(k))
		}
	case reflect.Float64:
		line("%.9g", v.Float())
	default:
		line("%v", v.Interface())
	}
}

// curveText is a pump curve as its points, with the efficiency at tenths of its range.
func curveText(p pump.Performance) string {
	var b strings.Builder
	for _, point := range p.Points() {
		fmt.Fprintf(&b, "%.9g:%.9g ", point.FlowM3S, point.HeadM)
	}
	_, last := p.Range()
	for i := 1; i <= 10; i++ {
		e := p.Efficiency(last * float64(i) / 10)
		fmt.Fprintf(&b, "%.9g/%.9g/%.9g ", e.SI, e.Low, e.High)
	}
	return b.String()
}
