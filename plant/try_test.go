package plant_test

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"seatward/catalog"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
	"seatward/valve"
)

func TestTry(t *testing.T) {
	file := os.Getenv("TRY")
	if file == "" {
		return
	}
	text, _ := os.ReadFile(file)
	st, list := station.Load(file, text)
	if st == nil {
		t.Fatal(list)
	}
	book, _ := rules.Base()
	demo, _ := catalog.Demo()
	p, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	pos, _ := valve.PositionNamed(st.Valve.Position)
	setting := valve.In(st.Fluid.Density.SI, pos)
	for _, c := range demo {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if it.Size != st.Valve.Size {
					continue
				}
				m, err := it.Build(setting)
				if err != nil {
					fmt.Println(it.ID, err)
					continue
				}
				t0 := time.Now()
				a, err := p.Ask(context.Background(), it, m, setting, plant.Ask{Limits: judge.SlamLimits(book), Threshold: true, Least: os.Getenv("LEAST") != ""})
				if err != nil {
					t.Fatal(err)
				}
				fmt.Printf("%-28s %6.0f ms ", it.ID, time.Since(t0).Seconds()*1000)
				if a.Worst == nil {
					fmt.Println(a.Fault)
				} else {
					x := a.Slam
					fmt.Printf("%-22s best %.3f med %.3f [%.3f %.3f] chances %.2f %.2f %.2f runs %d fail %d settled %v thr %v dec %.2f\n", a.Worst.Event.ID, x.Reverse.SI, x.MedianMS, x.Reverse.Low, x.Reverse.High, x.Chances.Quiet, x.Chances.Audible, x.Chances.Harmful, x.Runs, x.Failed, x.Settled, x.Threshold != nil, x.Deceleration.SI)
				}
				if os.Getenv("EVENTS") != "" {
					for _, s := range a.Stops {
						fmt.Printf("     %-24s rest %d steps %6d t %.2f dt %.4f first %.3f@%.2f worst %.3f@%.2f later %d reopened %d resolved %v mostM %.1f sep %v fault %s\n", s.Event.ID, s.Rest, s.Steps, s.TimeS, s.StepS, s.Closing.First.ReverseMS, s.Closing.First.TimeS, s.Closing.Worst.ReverseMS, s.Closing.Worst.TimeS, s.Closing.Later, s.Closing.Reopened, s.Resolved(), s.Closing.MostM, s.Separates(), s.Fault)
					}
				}
			}
		}
	}
	_ = study.Run
}
