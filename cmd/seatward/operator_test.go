package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"seatward/catalog"
	"seatward/internal/table"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// hiddenStop writes the log of a stop that the program makes at numbers that no file holds: hiddenstop
// STATION VALVE EVENT LOG. The reverse velocity of its first closing stays in $TRUTH, m/s; it is one after
// which the valve opens and closes again.
func hiddenStop(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: hiddenstop station valve event log")
	}
	st, list := station.Load(args[0], []byte(ts.ReadFile(args[0])))
	if st == nil {
		ts.Fatalf("%v", list)
	}
	run, err := hiddenRun(st, args[1], args[2])
	ts.Check(err)
	const beforeS, rateHz, noiseM, zeroM = 20.0, 250.0, 0.05, 0.3
	r := rand.New(rand.NewPCG(4, 7))
	from := time.Date(2026, 5, 12, 10, 0, 0, 0, time.UTC)
	var b strings.Builder
	b.WriteString("Logger 3, made by a run of the program\ntime (America/New_York);discharge pressure at valve (psi);P1 state\n")
	k := 0
	for i := 0; float64(i)/rateHz < beforeS+run.TimeS[len(run.TimeS)-1]; i++ {
		at := float64(i)/rateHz - beforeS
		for k+1 < len(run.TimeS) && run.TimeS[k+1] <= at {
			k++
		}
		head := run.HeadM[k] - st.ValveAboveDatum() + zeroM + noiseM*r.NormFloat64()
		psi := quantity.US.In(quantity.Pressure, head*st.Fluid.Density.SI*quantity.StandardGravity)
		stamp := from.Add(time.Duration(float64(i) / rateHz * float64(time.Second))).Format("2006-01-02 15:04:05.000")
		fmt.Fprintf(&b, "%s;%.2f;%d\n", stamp, psi, map[bool]int{true: 1}[at < 0.2])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[3]), []byte(b.String()), 0o644))
	if run.Closing.Later == 0 {
		ts.Fatalf("the valve closes once: %+v", run.Closing)
	}
	ts.Setenv("TRUTH", fmt.Sprint(run.Closing.First.ReverseMS))
}

// fillsBook writes a workbook of levels as a crew keeps it: fills of the well with the isolating valve
// shut, open and shut, at one inflow.
func fillsBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: fillsbook file")
	}
	rows := [][]string{{"time (min)", "level (in)", "pump", "valve"}}
	for i := range 61 {
		valve := "shut"
		if i >= 20 && i < 40 {
			valve = "open"
		}
		rows = append(rows, []string{fmt.Sprintf("%.1f", 0.5*float64(i)), fmt.Sprintf("%.1f", 30+0.1*float64(i)), "off", valve})
	}
	sheet := table.Sheet{Name: "Levels"}
	for i, row := range rows {
		var cells []table.Cell
		for k, text := range row {
			cells = append(cells, table.Cell{Text: text, Row: i + 1, Col: k + 1})
		}
		sheet.Rows = append(sheet.Rows, cells)
	}
	data, err := table.WriteXLSX([]table.Sheet{sheet})
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// hiddenRun is a stop at numbers within their ranges.
func hiddenRun(st *station.Station, id, event string) (*plant.Traced, error) {
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		return nil, list
	}
	it, err := catalog.Find(catalogs, id)
	if err != nil {
		return nil, err
	}
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	knobs, err := p.Knobs(it)
	if err != nil {
		return nil, err
	}
	z, r := make([]float64, len(knobs)), rand.New(rand.NewPCG(11, 3))
	for k := range z {
		if z[k] = math.Max(-1.6, math.Min(1.6, r.NormFloat64())); knobs[k].Name == "free gas" {
			z[k] = 0
		}
	}
	q, at, err := p.Turned(knobs, z)
	if err != nil {
		return nil, err
	}
	m, err := it.VariedAll(valve.In(st.Fluid.Density.SI, st.Valve.Position), at)
	if err != nil {
		return nil, err
	}
	events, err := p.FindEvents(event)
	if err != nil {
		return nil, err
	}
	return q.Trace(context.Background(), m, plant.Where{Event: events[0], Well: 0.6, UntilS: 75})
}

// holdsTruth wants the reverse velocity of what calibrate --json printed last about $TRUTH.
func holdsTruth(ts *testscript.TestScript, neg bool, _ []string) {
	var x struct {
		Stops []struct {
			Reverse struct{ Low, High float64 } `json:"reverse_velocity"`
		}
	}
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &x))
	var is float64
	_, err := fmt.Sscan(ts.Getenv("TRUTH"), &is)
	ts.Check(err)
	if neg || len(x.Stops) != 1 || is < x.Stops[0].Reverse.Low || is > x.Stops[0].Reverse.High {
		ts.Fatalf("reverse velocity %.3f m/s; the fit has %+v", is, x.Stops)
	}
}
