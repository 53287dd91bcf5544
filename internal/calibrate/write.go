package calibrate

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/quantity"
	"seatward/station"
)

// Written is one measured number as a station file takes it.
type Written struct {
	Path, Name, Value string
}

// Measured are the numbers that the stops tell and that a station file can hold, each with its 5
// to 95 % range, in the units of the system.
func (f *Fit) Measured(sys quantity.System) []Written {
	var out []Written
	if f.Poor {
		return nil
	}
	for i := range f.Numbers {
		n := &f.Numbers[i]
		if !n.Measured() {
			continue
		}
		for _, path := range n.Paths {
			best, ok1 := f.valueAt(path, n.knob, 0)
			low, ok2 := f.valueAt(path, n.knob, -rangeSDs)
			high, ok3 := f.valueAt(path, n.knob, rangeSDs)
			if !ok1 || !ok2 || !ok3 {
				continue
			}
			figures := func(v basis.Value) string { return quantity.Figures(sys.In(v.Kind, v.SI), writtenFigures) }
			out = append(out, Written{path, n.Name, strings.TrimSpace(fmt.Sprintf("%s (%s..%s) %s", figures(best), figures(low),
				figures(high), sys.Unit(best.Kind)))})
		}
	}
	return out
}

const writtenFigures = 4

// valueAt is the value at a path of the station with one knob so many standard deviations off.
func (f *Fit) valueAt(path string, knob int, off float64) (basis.Value, bool) {
	x := append([]float64{}, f.at...)
	x[knob] = f.fitter.away(x, knob, off)
	q, _, err := f.fitter.plant.Turned(f.fitter.knobs, x[:len(f.fitter.knobs)])
	if err != nil {
		return basis.Value{}, false
	}
	st := q.Station()
	var i int
	scan := func(form string) bool {
		n, err := fmt.Sscanf(path, form, &i)
		return err == nil && n == 1 && path == fmt.Sprintf(form, i)
	}
	switch {
	case scan("main.runs[%d].wave_speed") && i < len(st.Main.Runs):
		return st.Main.Runs[i].WaveSpeed, true
	case scan("main.runs[%d].roughness") && i < len(st.Main.Runs):
		return st.Main.Runs[i].Roughness, true
	case scan("main.runs[%d].hazen_williams") && i < len(st.Main.Runs):
		return st.Main.Runs[i].HazenWilliams, true
	case path == "fluid.free_gas":
		return st.Fluid.FreeGas, true
	case scan("pumps[%d].inertia"):
		for g := range st.Pumps {
			if st.Pumps[g].Index == i {
				return st.Pumps[g].Inertia, true
			}
		}
	}
	return basis.Value{}, false
}

// Save writes the measured numbers into the text of a station file, which keeps its comments and
// all else, and notes by what they were measured. The error says why the file cannot hold them.
func Save(name string, data []byte, measured []Written, by string) ([]byte, error) {
	f, list := station.Parse(name, data)
	if list.Err() != nil {
		return nil, list
	}
	var changes []station.Change
	var said []string
	for _, w := range measured {
		changes = append(changes, station.Change{Path: w.Path, Value: &w.Value})
		if len(said) == 0 || said[len(said)-1] != w.Name {
			said = append(said, w.Name)
		}
	}
	note := fmt.Sprintf("%s %s: %s", noted, by, strings.Join(said, ", "))
	changes = append(changes, station.Change{Path: fmt.Sprintf("notes[%d]", len(f.Notes)), Value: &note})
	out, list := station.Edit(name, data, changes)
	if list.Err() != nil {
		return nil, list
	}
	for _, w := range measured {
		out = commented(name, out, w.Value, "measured "+by)
	}
	if st, list := station.Load(name, out); st == nil {
		return nil, list
	}
	return out, nil
}

const noted = "Measured by seatward calibrate,"

// NotedBefore is true for a station whose notes say that this log was used before.
func NotedBefore(st *station.Station, file string) bool {
	for _, n := range st.Notes {
		if strings.HasPrefix(n, noted) && strings.Contains(n, file) {
			return true
		}
	}
	return false
}

// commented puts a comment behind the line of a value, where that has none.
func commented(name string, data []byte, value, comment string) []byte {
	lines := strings.SplitAfter(string(data), "\n")
	for i, l := range lines {
		body := strings.TrimRight(l, "\r\n")
		if at := strings.LastIndex(body, value); at < 0 || strings.Trim(body[at+len(value):], "\"' ") != "" {
			continue
		}
		lines[i] = body + "  # " + comment + l[len(body):]
	}
	out := []byte(strings.Join(lines, ""))
	if _, list := station.Parse(name, out); list.Err() != nil {
		return data
	}
	return out
}
