package study

import (
	"context"
	"fmt"
	"testing"

	"seatward/catalog"
	"seatward/station"
	"seatward/valve"
)

func TestTripTmp(t *testing.T) {
	st, list := station.Load("x", example(t, "layout"))
	if st == nil {
		t.Fatal(list)
	}
	p, err := newPlant(st)
	if err != nil {
		t.Fatal(err)
	}
	cats, _ := catalog.Demo()
	pos, _ := valve.PositionNamed("flow up")
	for _, id := range []string{"swing/6in", "flap/6in", "ball-pocket/6in", "axial-spring/6in", "swing-assisted-spring/6in", "swing-cushioned/6in"} {
		it, err := catalog.Find(cats, id)
		if err != nil {
			t.Fatal(err)
		}
		m, err := it.Build(valve.In(st.Fluid.Density.SI, pos))
		if err != nil {
			t.Fatal(err)
		}
		for _, ev := range p.events() {
			tr, err := p.run(context.Background(), m, id, ev, runOptions{duration: p.runTime()})
			if err != nil {
				t.Errorf("%s %s: %v", id, ev.ID, err)
				continue
			}
			c := tr.Closing
			fmt.Printf("%-26s %-20s closed %v at %.3f rev %.3f dec %.2f VR %.3f rise %.1f fall %.1f most %.1f steps %d dt %.4f cav %d reop %d\n", id, ev.ID, c.Closed, c.TimeS, c.ReversedS, c.DecelerationMS2, c.ReverseMS, c.RiseM, c.FallM, c.MostM, tr.Steps, tr.StepS, len(tr.Cavities), tr.Reopened)
		}
	}
}
