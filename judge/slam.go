package judge

import (
	"fmt"

	"seatward/basis"
	"seatward/quantity"
	"seatward/rules"
	"seatward/valve"
)

// The slam classes, mildest first.
const (
	Quiet   = "quiet"
	Audible = "audible"
	Harmful = "harmful"
)

// slamRank orders the classes; what cannot be said counts as the worst.
func slamRank(class string) int {
	switch class {
	case Quiet:
		return 0
	case Audible:
		return 1
	}
	return 2
}

// SlamClass is the class of a reverse velocity by the limits of the rules.
func SlamClass(book *rules.Book, reverseMS float64) string {
	switch {
	case reverseMS < book.Limit("slam-quiet").Value.SI:
		return Quiet
	case reverseMS <= book.Limit("slam-harmful").Value.SI:
		return Audible
	}
	return Harmful
}

func (b *bench) classOf(reverseMS float64) string { return SlamClass(b.Rules, reverseMS) }

// slam closes the valve at the worst stop and weighs the reverse velocity.
func slam(b *bench) []Finding {
	if b.Mech == nil {
		return nil
	}
	stop, ok := b.Stops.Worst()
	if ok && b.Run != nil && b.Run.Fault == "" {
		return b.byRun(stop)
	}
	if !ok {
		b.out.Slam.Method = "no stop of this station drives the water back"
		return []Finding{{ID: "slam-unknown", Severity: Unchecked, Text: "Slam was not checked: no stop could be worked out.", Basis: basis.DerivedHere, Missing: "static head, pipes and pump"}}
	}
	if err := b.close(stop); err != nil {
		b.out.Slam.Method = err.Error()
		return []Finding{{ID: "slam-unknown", Severity: Unchecked, Text: "Slam was not checked: " + err.Error() + ".", Basis: basis.DerivedHere, Missing: "mechanics that can be followed to the seat"}}
	}
	out := append(b.slamFindings(), b.slamDoubts(stop)...)
	if b.Run != nil {
		out = append(out, Finding{
			ID: "slam-not-run", Severity: Unchecked, Basis: basis.DerivedHere, Missing: "a pump-trip computation",
			Text: "The pump trip could not be run through, so slam is by closed formulas: " + b.Run.Fault + ".",
		})
	}
	return out
}

// byRun takes the slam from the run, and keeps what closed formulas say beside it.
func (b *bench) byRun(stop Stop) []Finding {
	s, r := &b.out.Slam, b.Run
	if err := b.close(stop); err == nil {
		s.ClosedForm, s.ClosedEvent = s.ReverseVelocity, s.Event
	}
	s.Event, s.Method, s.Deceleration, s.ReverseVelocity, s.HeadRise = r.Event, r.Method, r.Deceleration, r.Reverse, r.HeadRise
	s.Stopped, s.Shares, s.DecisiveInput = r.Reverse, nil, ""
	if r.CushionS > 2*r.BranchS {
		wave := b.Station.Branch.Runs[0].WaveSpeed
		s.Stopped = b.equal(r.HeadRise, wave)
	}
	s.Class, s.ClassLow, s.ClassHigh = b.classOf(s.Stopped.SI), b.classOf(s.Stopped.Low), b.classOf(s.Stopped.High)
	b.shares(r.Doubts, stop)
	out := b.slamFindings()
	for _, text := range r.Doubtful {
		out = append(out, Finding{ID: "slam-run-simplified", Severity: Unchecked, Text: text, Basis: basis.DerivedHere, Missing: "the datum that is named here"})
	}
	if s.ClosedForm.Known() {
		out = append(out, Finding{
			ID: "slam-closed-form", Severity: Note, Value: s.ClosedForm, Limit: s.ReverseVelocity, Basis: basis.DerivedHere,
			Text: fmt.Sprintf("Closed formulas would have said %s (%s), against %s by the run.", b.show(s.ClosedForm), s.ClosedEvent, b.show(s.ReverseVelocity)),
		})
	}
	return out
}

// equal is the sudden stop in the valve that gives the head rise.
func (b *bench) equal(rise, wave basis.Value) basis.Value {
	return equalStop.Eval("sudden stop of the same head rise", func(x []float64) float64 { return x[0] * x[1] / x[2] * x[3] * x[3] / (x[4] * x[4]) }, rise, gravity, wave, b.Stops.Bore, b.Item.Bore)
}

// slamDoubts tells where the closed formulas behind the slam verdict do not reach.
func (b *bench) slamDoubts(stop Stop) []Finding {
	var out []Finding
	if stop.Waves {
		out = append(out, Finding{
			ID: "slam-waves", Severity: Unchecked, Value: stop.Deceleration, Basis: basis.DerivedHere, Missing: "a pump-trip computation with waves",
			Text: "Waves return before the flow turns at the worst stop: the deceleration may be higher than the closed formula gives.",
		})
	}
	if len(b.Station.Pumps) > 1 {
		out = append(out, Finding{
			ID: "slam-other-pumps", Severity: Unchecked, Basis: basis.DerivedHere, Missing: "a pump-trip computation of each pump",
			Text: "The pumps are unequal: stops were worked out with the run-down of the first one, " + b.Station.Pumps[0].Name + ", only.",
		})
	}
	return out
}

// close fills in the slam verdict for a stop.
func (b *bench) close(stop Stop) error {
	s := &b.out.Slam
	s.Event = stop.Name + " (" + stop.Level + ")"
	s.Deceleration = inBore.Eval("deceleration in the valve, "+s.Event, scaled, stop.Deceleration, b.Stops.Bore, b.Item.Bore)
	start := inBore.Eval("velocity in the valve before the stop, "+s.Event, scaled, stop.Velocity, b.Stops.Bore, b.Item.Bore)
	start.Kind = quantity.Velocity
	reverse, band, err := b.reverse(start, s.Deceleration)
	if err != nil {
		return err
	}
	s.ReverseVelocity = reverse
	s.Method = stop.Method + " The valve's own closing between two long pipes under that deceleration."
	if reverse.Origin == basis.Catalog {
		s.Method = stop.Method + " Reverse velocity from the measured curve in the catalog."
	}
	line := b.Station.Branch.Runs
	if !stop.Held {
		line = b.Station.Main.Runs
	}
	wave := line[0].WaveSpeed
	inPipe := inBranch.Eval("reverse velocity in the branch", scaled, reverse, b.Item.Bore, b.Stops.Bore)
	s.Stopped = reverse
	s.HeadRise = valve.JoukowskyFormula.Eval("head rise of the slam", func(x []float64) float64 { return valve.Joukowsky(x[0], x[1], x[2]) }, wave, inPipe, gravity)
	if cushion := band.Closing.CushionS; cushion > wavePeriod(line) {
		b.cushioned(cushion, stop, inPipe, wave)
	}
	s.Class, s.ClassLow, s.ClassHigh = b.classOf(s.Stopped.SI), b.classOf(s.Stopped.Low), b.classOf(s.Stopped.High)
	b.shares(band.Doubts(), stop)
	return nil
}

// cushioned replaces the head rise of a sudden stop by that of a slow closure, where the
// cushion takes longer than waves need to come back, and classes the slam by the sudden
// stop of equal head rise.
func (b *bench) cushioned(seconds float64, stop Stop, inPipe, wave basis.Value) {
	s := &b.out.Slam
	timeS := basis.NewSimulated("time in the cushion", quantity.Time, seconds, "the moving element followed through its cushion to the seat", b.params()...)
	rise := valve.SlowClosureFormula.Eval("head rise of the cushioned closing", func(x []float64) float64 { return valve.SlowClosure(x[0], x[1], x[2], x[3]) }, stop.Length, inPipe, timeS, gravity)
	if rise.SI >= s.HeadRise.SI {
		return // Michaud's formula is for closings slow enough to gain by it
	}
	s.Method += fmt.Sprintf(" Its cushion takes %s, longer than waves need to come back: a slow closure.", b.show(timeS))
	s.HeadRise = rise
	s.Stopped = b.equal(rise, wave)
}

var equalStop = basis.Formula{
	ID: "equal-stop", Title: "Sudden stop that gives the same head rise", Expr: "V = ΔH g/a D²/D_valve²",
	Symbols: []string{"ΔH", "g", "a", "D", "D_valve"}, Kind: quantity.Velocity, Ref: basis.DerivedHere, Range: "classes of slam are those of sudden stops",
}

var inBore = basis.Formula{
	ID: "in-bore", Title: "From the branch into the valve's bore", Expr: "x_valve = x_branch D²/D_valve²",
	Symbols: []string{"x_branch", "D", "D_valve"}, Kind: quantity.Acceleration, Ref: basis.DerivedHere, Range: "continuity",
}

var inBranch = basis.Formula{
	ID: "in-branch", Title: "From the valve's bore into the branch", Expr: "V = V_valve D_valve²/D²",
	Symbols: []string{"V_valve", "D_valve", "D"}, Kind: quantity.Velocity, Ref: basis.DerivedHere, Range: "continuity",
}

func scaled(x []float64) float64 { return x[0] * x[1] * x[1] / (x[2] * x[2]) }

// reverse is the greatest reverse velocity with its band: from a measured curve where
// the catalog has one for this position, else by closing the valve.
func (b *bench) reverse(start, deceleration basis.Value) (basis.Value, valve.Band, error) {
	if m, ok := b.Item.MeasuredClosing(b.Station.Valve.Position); ok {
		v, err := ReadMeasured(m, deceleration)
		return v, valve.Band{}, err
	}
	waves := [2]float64{b.Station.Branch.Runs[0].WaveSpeed.SI, b.Station.Main.Runs[0].WaveSpeed.SI}
	duty := valve.Duty{Start: start, Deceleration: deceleration, Pipes: valve.Deceleration{WaveMS: waves}}
	position, err := valve.PositionNamed(b.Station.Valve.Position)
	if err != nil {
		return basis.Value{}, valve.Band{}, err
	}
	draws, err := b.Item.Draw(valve.In(b.Station.Fluid.Density.SI, position), valve.FewDraws)
	if err != nil {
		return basis.Value{}, valve.Band{}, err
	}
	band, err := draws.Close(duty)
	if err != nil {
		return basis.Value{}, valve.Band{}, err
	}
	const how = "the moving element followed to its seat in a flow that slows down steadily; low and high are the 5 and 95 % points of 32 draws from all ranges at once"
	v := basis.NewSimulated("reverse velocity at the seat", quantity.Velocity, band.Best, how, append([]basis.Value{start, deceleration}, b.params()...)...)
	switch band.Closing.Outcome {
	case valve.NeverClosed:
		return v, band, fmt.Errorf("the valve does not close under this deceleration within the limit of the run")
	case valve.AlwaysClosed:
		return v, band, fmt.Errorf("the flow before the stop does not open the valve")
	}
	return v.WithRange(min(band.Low, band.Best), max(band.High, band.Best)), band, nil
}

// shares tells what each uncertain input does to the band. The deceleration is taken
// apart into what it rests on.
func (b *bench) shares(doubts []valve.Doubt, stop Stop) {
	s := &b.out.Slam
	for _, d := range doubts {
		name := d.Value.Name
		switch {
		case d.Key == "station":
		case d.Key == "deceleration":
			name = decisive(stop.Deceleration)
		case d.Value.Origin == basis.Assumed:
			name = "a measured closing curve of this valve (open now: " + name + ")"
		}
		s.Shares = append(s.Shares, Share{Input: name, LowMS: d.LowMS, HighMS: d.HighMS})
	}
	if len(s.Shares) > 0 && doubts[0].Swing() > 0 {
		s.DecisiveInput = s.Shares[0].Input
	}
}

// decisive names the input of a computed value whose range moves it most, down to
// what was given or assumed.
func decisive(v basis.Value) string {
	best, most := v, 0.0
	for _, in := range v.Inputs {
		if in.SI != 0 && in.Ranged() {
			if spread := (in.High - in.Low) / in.SI; spread > most {
				best, most = in, spread
			}
		}
	}
	if most == 0 || len(best.Inputs) == 0 {
		return best.Name
	}
	return decisive(best)
}

// slamFindings weighs the band.
func (b *bench) slamFindings() []Finding {
	s := &b.out.Slam
	f := Finding{Value: s.ReverseVelocity, Limit: b.limit("slam-quiet"), Basis: "ballun-2007", ID: "slam-" + s.Class}
	text := fmt.Sprintf("At the worst stop, %s, the water runs back at %s when the valve shuts (%s)", s.Event, b.show(s.ReverseVelocity), s.ReverseVelocity.FormatRange(b.Station.Units))
	if s.Stopped.SI != s.ReverseVelocity.SI {
		text += fmt.Sprintf("; its cushion makes of it a sudden stop of %s", b.show(s.Stopped))
	}
	cure := "a valve that closes faster (shorter way, spring), a flywheel or an air vessel away from the station; have it computed as a pump trip"
	if b.Run != nil && b.Run.Fault == "" {
		cure = "a valve that closes faster (shorter way, spring), a flywheel, or a slower stop; seatward trip shows what each would do"
	}
	switch {
	case s.ClassHigh == Quiet:
		f.Severity, f.Text = Pass, text+": quiet."
	case s.ClassLow == Harmful:
		f.Severity, f.Mend, f.Limit = Rejects, cure, b.limit("slam-harmful")
		f.Text = text + ": harmful slam."
	case s.ClassLow == Quiet && s.ClassHigh == Harmful:
		f.ID, f.Severity, f.Missing, f.Mend = "slam-open", Unchecked, s.DecisiveInput, cure
		f.Text = text + ": from quiet to harmful, too wide to say."
	case s.Class == Harmful:
		f.ID, f.Severity, f.Missing, f.Mend, f.Limit = "slam-open", Unchecked, s.DecisiveInput, cure, b.limit("slam-harmful")
		f.Text = text + ": harmful at the best guess, though the low end is " + s.ClassLow + "."
	case s.ClassHigh == Harmful:
		f.Severity, f.Mend, f.Limit = Condition, cure, b.limit("slam-harmful")
		f.Text = text + ": audible to harmful slam."
	default:
		f.Severity, f.Mend = Condition, "agree with the owner that it will be heard, or "+cure
		f.Text = text + ": " + classRange(s.ClassLow, s.ClassHigh) + "."
	}
	return []Finding{f}
}

func classRange(low, high string) string {
	if low == high {
		return low
	}
	return low + " to " + high
}
