package station

import (
	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// valve resolves the place where the check valve goes.
func (r *resolver) valve() {
	in, out := &r.f.Valve, &r.st.Valve
	out.Size, out.SizeAt, out.SizeGiven = in.Size.Size, in.Size.Place, in.Size.Set
	if !in.Size.Set {
		runs := r.f.Branch.Runs
		if len(runs) == 0 || !runs[0].Size.Set {
			out.Size = r.usualSize()
		} else {
			out.Size, out.SizeAt = runs[0].Size.Size, runs[0].Size.Place
			r.warn(unwritten("valve.size"), "word-assumed",
				"not said: "+out.Size.String()+" is assumed, the size of the branch", "", "say valve: size")
		}
	}
	word := r.word(in.Position, unwritten("valve.position"), defaultPosition, "the usual place in a valve vault")
	position, err := valve.PositionNamed(word)
	if err != nil {
		r.error(in.Position.At, "position-unknown", err.Error(), "horizontal, flow up or flow down", "pick one")
		return
	}
	out.Position, out.PositionGiven = position, in.Position.Set
	out.Angle = basis.NewGiven(defaults.angle.name, quantity.Angle, position.InclinationRad(),
		in.Position.Place.String())
	if !in.Position.Set {
		out.Angle = r.assume(defaults.angle)
	}
	out.StraightBefore, out.StraightAfter = r.given("straight pipe before the valve",
		in.StraightBefore), r.given("straight pipe after the valve", in.StraightAfter)
	out.Clearance, out.LayingLength = r.given("free height above the valve's axis",
		in.Clearance), r.given("laying length that is free", in.LayingLength)
	out.Rating = r.given("pressure rating called for", in.Rating)
	out.Where, out.Existing = in.Place.Text, in.Existing.Text
}
