package plant

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"seatward/station"
)

// TestWork: what the pump gives at the worked point is what the parts of the system take, and
// fittings add up to the loss of their run.
func TestWork(t *testing.T) {
	files, err := filepath.Glob("../examples/*.station.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		st, list := station.Load(f, data)
		if list.Err() != nil {
			t.Fatal(list)
		}
		p, err := New(st)
		if err != nil {
			t.Fatal(err)
		}
		x, ok := p.Work(nil)
		if !ok {
			t.Errorf("%s: no point can be worked", f)
			continue
		}
		if d := x.SystemM() - x.HeadM; math.Abs(d) > 1e-6*x.HeadM {
			t.Errorf("%s, %s: the system takes %g m, the pump gives %g m", f, x.Name, x.SystemM(), x.HeadM)
		}
		for _, line := range []station.Line{st.Branch, st.Main} {
			for i := range line.Runs {
				r, sum := &line.Runs[i], 0.0
				for _, k := range r.Fittings {
					sum += k.Count * k.K.Best
				}
				if len(r.Fittings) > 0 && math.Abs(sum-r.Loss.SI) > 1e-12 {
					t.Errorf("%s: the fittings of the %s add up to %g, its loss coefficient is %g", f, r.Name, sum, r.Loss.SI)
				}
			}
		}
	}
}
