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

func TestTrySample(t *testing.T) {
	file := os.Getenv("TRYS")
	if file == "" {
		return
	}
	text, _ := os.ReadFile(file)
	st, _ := station.Load(file, text)
	demo, _ := catalog.Demo()
	p, _ := New(st)
	pos, _ := valve.PositionNamed(st.Valve.Position)
	setting := valve.In(st.Fluid.Density.SI, pos)
	for _, id := range []string{"ball-pocket", "swing", "flap", "dual-plate"} {
		it, err := catalog.Find(demo, id+"/"+os.Getenv("SIZE"))
		if err != nil {
			fmt.Println(err)
			continue
		}
		m, _ := it.Build(setting)
		for _, n := range []int{16, 32, 64, 128, 1024} {
			t0 := time.Now()
			a, err := p.Ask(context.Background(), it, m, setting, Ask{Limits: Limits{0.15, 0.3}, Sample: n})
			if err != nil || a.Worst == nil {
				fmt.Println(err, a.Fault)
				continue
			}
			x := a.Slam
			fmt.Printf("%-14s %4d  best %.3f med %.3f [%.3f %.3f] chances %.2f %.2f %.2f settled %v  %.0f ms\n", id, n, x.Reverse.SI, x.MedianMS, x.Reverse.Low, x.Reverse.High, x.Chances.Quiet, x.Chances.Audible, x.Chances.Harmful, x.Settled, time.Since(t0).Seconds()*1000)
		}
	}
}
