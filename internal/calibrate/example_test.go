package calibrate_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"seatward/plant"
	"seatward/quantity"
	"seatward/valve"
)

// exampleZ are the standard deviates of the numbers of examples/stops.log.csv: inertia, wave speed,
// roughness, then the others as far as they go.
var exampleZ = []float64{-0.5, 0.6, 0.3, 0, 0.2, 0.4, -0.3, 0.2, 0.5, 0.3, -0.4, 0}

// TestExampleLog: the log of two stops that the documentation uses is what the program makes at
// its hidden numbers. SEATWARD_UPDATE=1 writes it.
func TestExampleLog(t *testing.T) {
	st := stationAt(t, "layout")
	h := hide(t, st, "swing/6in", "stop", logger{rateHz: 25}, rand.New(rand.NewPCG(1, 1)), 0)
	copy(h.z, exampleZ)
	p, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	q, at, err := p.Turned(h.knobs, h.z)
	if err != nil {
		t.Fatal(err)
	}
	m, err := h.model.Item.VariedAll(valve.In(st.Fluid.Density.SI, st.Valve.Position), at)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	b.WriteString("Logger 3, Dune Road lift station, Marram Ness (invented): made by seatward from a run, with noise\n")
	b.WriteString("time;head at valve (ft);P1 state\n")
	r := rand.New(rand.NewPCG(4, 7))
	for i, event := range []string{"stop", "one-trips"} {
		all, err := p.FindEvents(event)
		if err != nil {
			t.Fatal(err)
		}
		run, err := q.Trace(context.Background(), m, plant.Where{Event: all[0], Well: 0.8})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: V_R %.3f at %.2f s, %.1f s", event, run.Closing.First.ReverseMS, run.Closing.First.TimeS,
			run.TimeS[len(run.TimeS)-1])
		exampleBlock(&b, run, time.Date(2026, 5, 12, 10, 20*i, 0, 0, time.UTC), st.ValveAboveDatum(), r)
	}
	const name = "../../examples/stops.log.csv"
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(name)
	if err != nil || !bytes.Equal(have, b.Bytes()) {
		t.Errorf("%s is not what the program makes (%v); SEATWARD_UPDATE=1 writes it", name, err)
	}
}

// exampleBlock writes one stop.
func exampleBlock(b *bytes.Buffer, run *plant.Traced, from time.Time, valveM float64, r *rand.Rand) {
	const stopS, rateHz, noiseM = 25.0, 25.0, 0.05
	for i := 0; float64(i)/rateHz <= stopS+run.TimeS[len(run.TimeS)-1]; i++ {
		at := float64(i) / rateHz
		v := headAt(run, at-stopS) - valveM + noiseM*r.NormFloat64()
		state := 1
		if at > stopS+0.3 {
			state = 0
		}
		stamp := from.Add(time.Duration(i) * 40 * time.Millisecond).Format("2006-01-02 15:04:05.00")
		fmt.Fprintf(b, "%s;%.2f;%d\n", stamp, math.Round(100*quantity.US.In(quantity.Head, v))/100, state)
	}
}
