package station

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"seatward/internal/yamlfile"
	"seatward/pipe"
)

// branch resolves the pipe of one pump, or assumes one run.
func (r *resolver) branch() {
	if len(r.f.Branch.Runs) > 0 {
		r.st.Branch = r.line("branch", r.f.Branch.Runs)
	} else {
		r.st.Branch = Line{Runs: []Run{r.assumedBranch()}}
	}
}

// main resolves the force main, or assumes one run.
func (r *resolver) main() {
	if len(r.f.Main.Runs) > 0 {
		r.st.Main = r.line("main", r.f.Main.Runs)
	} else {
		r.st.Main = Line{Runs: []Run{r.assumedMain()}}
	}
	r.st.Main.Profile, r.st.Main.Ground = profilePoints(r.f.Main.Profile), profilePoints(r.f.Main.Ground)
}

func profilePoints(in []yamlfile.Tuple) []ProfilePoint {
	var out []ProfilePoint
	for _, p := range in {
		out = append(out, ProfilePoint{p.Items[0].SI(), p.Items[1].SI(), p.Items[1].Low.SI, p.Items[1].High.SI})
	}
	return out
}

func (r *resolver) line(which string, runs []RunFile) Line {
	var out Line
	for i := range runs {
		name := which
		if len(runs) > 1 {
			name = fmt.Sprintf("%s run %d", which, i+1)
		}
		out.Runs = append(out.Runs, r.pipeRun(name, &runs[i]))
	}
	return out
}

// pipeRun resolves one run of pipe.
func (r *resolver) pipeRun(name string, in *RunFile) Run {
	out := Run{Name: name, Size: in.Size.Size}
	if !in.Size.Set {
		out.Size = r.st.Valve.Size
		r.warn(in.At, "word-assumed", "not said of what size the "+name+" is: "+out.Size.String()+
			" is assumed, that of the valve", "", "say size")
	}
	out.Length = r.given("length of the "+name, in.Length)
	if !out.Length.Known() {
		r.error(in.At, "length-missing", "the run has no length", "length, such as 120 ft",
			"add length, or leave the whole list of runs out to have it estimated")
	}
	out.Material = in.Material.Text
	if !in.Material.Set {
		out.Material = usualMaterial(out.Size, r.st.Units)
		r.warn(in.At, "word-assumed", "not said what the "+name+" is made of: "+out.Material+
			" is assumed, usual in stations", "", "say material, such as PVC")
	}
	if !r.wall(name, in, &out) {
		return out
	}
	r.surface(name, in, &out)
	r.fittings(name, in, &out)
	r.wave(name, in, &out)
	return out
}

// lookup tells a failed look-up in the pipe tables at the key that caused it.
func (r *resolver) lookup(in *RunFile, err error) {
	var l *pipe.LookupError
	if !errors.As(err, &l) {
		r.error(in.At, "pipe-unknown", err.Error(), "a pipe of the tables", "give inner_diameter and wall")
		return
	}
	at := map[string]yamlfile.At{"material": in.Material.At, "class": in.Class.At, "size": in.Size.At}[l.What]
	if !at.Set {
		at = in.At
	}
	text := fmt.Sprintf("no %s %q", l.What, l.Given)
	if l.Of != "" {
		text += " of " + l.Of
	}
	mend := "pick one of these, or give inner_diameter and wall"
	if l.Near != "" {
		mend = fmt.Sprintf("did you mean %q? Or give inner_diameter and wall", l.Near)
	}
	r.error(at, "pipe-"+l.What+"-unknown", text+" in the tables", "one of: "+strings.Join(l.Known, ", "), mend)
}

// GroundAt is the elevation of the ground at the chainage, m, straight between the points
// that are given; beyond them it stays level. False where no ground is given.
func (l Line) GroundAt(chainageM float64) (elevationM float64, known bool) {
	if len(l.Ground) == 0 {
		return 0, false
	}
	i, _ := slices.BinarySearchFunc(l.Ground, chainageM,
		func(p ProfilePoint, x float64) int { return cmp.Compare(p.ChainageM, x) })
	if i == 0 || i == len(l.Ground) {
		return l.Ground[min(i, len(l.Ground)-1)].ElevationM, true
	}
	a, b := l.Ground[i-1], l.Ground[i]
	return a.ElevationM + (b.ElevationM-a.ElevationM)*(chainageM-a.ChainageM)/(b.ChainageM-a.ChainageM), true
}
