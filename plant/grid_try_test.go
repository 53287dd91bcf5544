package plant

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"seatward/catalog"
	"seatward/station"
	"seatward/valve"
)

func TestTryGrid(t *testing.T) {
	file := os.Getenv("TRYG")
	if file == "" {
		return
	}
	text, _ := os.ReadFile(file)
	st, _ := station.Load(file, text)
	demo, _ := catalog.Demo()
	p, _ := New(st)
	pos, _ := valve.PositionNamed(st.Valve.Position)
	for _, id := range []string{"ball-pocket", "swing", "axial-spring", "flap"} {
		it, err := catalog.Find(demo, id+"/"+st.Valve.Size.String()[:0]+os.Getenv("SIZE"))
		if err != nil {
			fmt.Println(err)
			continue
		}
		m, _ := it.Build(valve.In(st.Fluid.Density.SI, pos))
		for _, ev := range p.StopEvents() {
			for _, o := range []Options{{draw: true}, {}, {fine: 2}, {fine: 4}} {
				t0 := time.Now()
				s, err := p.Run(context.Background(), m, it.ID, ev, o)
				if err != nil || s.Fault != "" {
					fmt.Println(err, s.Fault)
					continue
				}
				fmt.Printf("%-14s %-20s draw %v fine %d  first %.4f@%.3f worst %.4f@%.3f gas %v steps %d dt %.5f rise %.1f  %.1f ms\n", id, ev.ID, o.draw, o.fine, s.Closing.First.ReverseMS, s.Closing.First.TimeS, s.Closing.Worst.ReverseMS, s.Closing.Worst.TimeS, s.gas, s.Steps, s.StepS, s.Closing.RiseM, time.Since(t0).Seconds()*1000)
			}
		}
	}
}
