package judge

import (
	"fmt"

	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// ByHand is what hand formulas say of the slam: the valve's own closing between two long
// pipes under the deceleration that closed formulas give for the worst stop. It is a check
// on the runs, and stands beside them, never in their place.
type ByHand struct {
	Event    string
	Reverse  basis.Value
	HeadRise basis.Value
	Method   string
	Doubt    string // where the formulas do not reach; "" where they do
}

var inBore = basis.Formula{
	ID: "in-bore", Title: "From the branch into the valve's bore", Expr: "x_valve = x_branch D²/D_valve²",
	Symbols: []string{"x_branch", "D", "D_valve"}, Kind: quantity.Acceleration, Ref: basis.DerivedHere,
	Range: "continuity",
}

var inBranch = basis.Formula{
	ID: "in-branch", Title: "From the valve's bore into the branch", Expr: "V = V_valve D_valve²/D²",
	Symbols: []string{"V_valve", "D_valve", "D"}, Kind: quantity.Velocity, Ref: basis.DerivedHere, Range: "continuity",
}

// scaled is a velocity or deceleration of one diameter in another, by continuity.
func scaled(v, from, to float64) float64 { return v * from * from / (to * to) }

var gravity = basis.NewCatalog("standard gravity", quantity.Acceleration, quantity.StandardGravity, "3rd CGPM, 1901")

// HandFormulas works them out. The error says why there is no answer.
func HandFormulas(st *station.Station, it *catalog.Item, stops plant.HandStops) (ByHand, error) {
	stop, ok := stops.Worst()
	if !ok {
		return ByHand{}, fmt.Errorf("no stop of this station reverses the flow")
	}
	out := ByHand{
		Event:  stop.Name + " (" + stop.Level + ")",
		Method: stop.Method + " The valve's own closing between two long pipes under that deceleration.",
	}
	deceleration := inBore.Eval3("deceleration in the valve, "+out.Event, scaled, stop.Deceleration, stops.Bore,
		it.Bore)
	start := inBore.Eval3("velocity in the valve before the stop, "+out.Event, scaled, stop.Velocity, stops.Bore,
		it.Bore)
	start.Kind = quantity.Velocity
	waves := [2]float64{st.Branch.Runs[0].WaveSpeed.SI, st.Main.Runs[0].WaveSpeed.SI}
	draws, err := it.Draw(st.Setting(), valve.FewDraws)
	if err != nil {
		return ByHand{}, err
	}
	band, err := draws.Close(valve.Duty{
		Start: start, Deceleration: deceleration,
		Pipes: valve.Deceleration{WaveMS: waves},
	})
	if err != nil {
		return ByHand{}, err
	}
	switch band.Closing.Outcome {
	case valve.NeverClosed:
		return ByHand{}, fmt.Errorf("the valve does not close under this deceleration")
	case valve.AlwaysClosed:
		return ByHand{}, fmt.Errorf("the flow before the stop does not open the valve")
	}
	const how = "the moving element followed to its seat in a flow that slows down evenly; 5 and 95 % points of its draws"
	out.Reverse = basis.NewSimulated("reverse velocity by hand formulas", quantity.Velocity, band.Best, how, start,
		deceleration).WithRange(band.Low, band.High)
	inPipe := inBranch.Eval3("reverse velocity in the branch", scaled, out.Reverse, it.Bore, stops.Bore)
	line := st.Branch.Runs
	if !stop.Held {
		line = st.Main.Runs
	}
	out.HeadRise = valve.JoukowskyFormula.Eval3("head rise by hand formulas", valve.Joukowsky, line[0].WaveSpeed,
		inPipe, gravity)
	switch {
	case stop.Waves:
		out.Doubt = "waves return before the flow turns, so the deceleration may be higher"
	case len(st.Pumps) > 1:
		out.Doubt = "the pumps are unequal; the run-down of " + st.Pumps[0].Name + " is taken"
	}
	return out, nil
}
