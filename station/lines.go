package station

import (
	"errors"
	"fmt"
	"strings"

	"seatward/internal/yamlfile"
	"seatward/pipe"
)

// branch resolves the pipe of one pump, or assumes one run.
func (r *resolver) branch() {
	if len(r.f.Branch.Runs) > 0 {
		r.st.Branch = r.line("branch", &r.f.Branch)
	} else {
		r.st.Branch = Line{Runs: []Run{r.assumedBranch()}}
	}
}

// main resolves the force main, or assumes one run.
func (r *resolver) main() {
	if len(r.f.Main.Runs) > 0 {
		r.st.Main = r.line("main", &r.f.Main)
	} else {
		r.st.Main = Line{Runs: []Run{r.assumedMain()}}
	}
	for _, p := range r.f.Main.Profile {
		r.st.Main.Profile = append(r.st.Main.Profile, ProfilePoint{p.Items[0].SI(), p.Items[1].SI()})
	}
}

func (r *resolver) line(which string, in *LineFile) Line {
	var out Line
	for i := range in.Runs {
		name := which
		if len(in.Runs) > 1 {
			name = fmt.Sprintf("%s run %d", which, i+1)
		}
		out.Runs = append(out.Runs, r.pipeRun(name, &in.Runs[i]))
	}
	return out
}

// pipeRun resolves one run of pipe.
func (r *resolver) pipeRun(name string, in *RunFile) Run {
	out := Run{Name: name, Size: in.Size.Size}
	if !in.Size.Set {
		out.Size = r.st.Valve.Size
		r.warn(in.At, "word-assumed", "not said of what size the "+name+" is: "+out.Size.String()+" is assumed, that of the valve", "", "say size")
	}
	out.Length = r.given("length of the "+name, in.Length)
	if !out.Length.Known() {
		r.error(in.At, "length-missing", "the run has no length", "length, such as 120 ft", "add length, or leave the whole list of runs out to have it estimated")
	}
	out.Material = in.Material.Text
	if !in.Material.Set {
		out.Material = usualMaterial(out.Size, r.st.Units)
		r.warn(in.At, "word-assumed", "not said what the "+name+" is made of: "+out.Material+" is assumed, usual in stations", "", "say material, such as PVC")
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
