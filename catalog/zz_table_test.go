package catalog

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

func TestZZTable(t *testing.T) {
	if os.Getenv("ZZ") == "" {
		t.Skip()
	}
	for _, size := range strings.Fields(os.Getenv("ZZ")) {
		for _, id := range []string{"swing", "ball-pocket", "ball-cage", "swing-assisted-weight", "swing-assisted-spring", "swing-cushioned", "tilting-disc", "flap", "dual-plate", "axial-spring"} {
			full := id + "/" + size
			if id == "ball-cage" {
				full += "/sinking"
			}
			it, err := Find(demoCatalogs(t), full)
			if err != nil {
				t.Fatal(err)
			}
			m := built(t, it)
			pos, _ := valve.PositionNamed(it.Positions[0])
			if it.Allows("horizontal") {
				pos = valve.Horizontal
			}
			o := m.FullOpenVelocity()
			fmt.Printf("%-24s Vo %.2f K %.2f eta %.2f |", full, o.VelocityMS, o.Loss, m.Efficiency)
			for _, deg := range []float64{5, 10, 20, 35} {
				if m.Rotary {
					s := m.At(deg * math.Pi / 180)
					fmt.Printf(" %.3g", s.Loss(1))
				}
			}
			draws, err := it.Draw(valve.In(998.2, pos), valve.CurveDraws)
			if err != nil {
				t.Fatal(err)
			}
			best := math.Max(1.02*o.VelocityMS, 0.5)
			if os.Getenv("START") != "" {
				fmt.Sscan(os.Getenv("START"), &best)
			}
			start := basis.NewAssumed("v", quantity.Velocity, best, 0.75*best, 1.25*best, "x", basis.DerivedHere)
			fmt.Printf(" | M %.3g ", func() float64 { s := m.At(m.Stroke / 2); return s.Mass }())
			for _, a := range []float64{1, 2, 3, 4, 6, 10, 15} {
				b, err := draws.Close(valve.Duty{Start: start, Deceleration: basis.NewSimulated("d", quantity.Acceleration, a, "x")})
				if err != nil {
					t.Fatal(err)
				}
				fmt.Printf(" %.3g:%.3f(%.2f-%.2f)%.3f", a, b.Median, b.Low, b.High, b.Best)
			}
			fmt.Println()
		}
	}
}
