package judge

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
)

// pressureFormula turns the head at a place into pressure.
var pressureFormula = basis.Formula{
	ID: "head-to-pressure", Title: "Pressure of a head", Expr: "p = ρ g H", Symbols: []string{"ρ", "H"},
	Kind: quantity.Pressure, Ref: basis.DerivedHere, Range: "liquid at rest",
}

func (b *bench) pressure(name string, head basis.Value) basis.Value {
	return pressureFormula.Eval2(name,
		func(density, head float64) float64 { return density * quantity.StandardGravity * head },
		b.Station.Fluid.Density, head)
}

// shutOffHead is the head over the valve's axis while the pump that makes the most runs
// against a closed valve: its shut-off head on top of level and pressure at the suction.
var shutOffHead = basis.Formula{
	ID: "shut-off-at-valve", Title: "Head at the valve at pump shut-off", Expr: "H = H_shut-off − z_valve",
	Symbols: []string{"H_shut-off", "z_valve"}, Kind: quantity.Head, Ref: basis.DerivedHere,
	Range: "z_valve: axis of the valve above the suction's head line at the high level; suction pressure and level are in it",
}

// rating weighs the pressure at pump shut-off against the ratings of the valve and its ends.
func rating(b *bench) []Finding {
	own := b.Item.Rating
	if !own.Known() {
		return []Finding{{
			Kind: RatingUnknown, Text: "The catalog gives no pressure rating.", Basis: FromCatalog,
			Missing: "pressure rating of the valve", Mend: "the maker's rating in writing",
		}}
	}
	own = WeakestRating(b.Item)
	if called := b.Station.Valve.Rating; called.Known() && called.SI > own.SI*1.001 {
		return []Finding{{
			Kind: RatingBelowCalled, Value: own, Limit: called,
			Text: fmt.Sprintf("Rated %s; %s is specified.", b.show(own),
				b.show(called)), Basis: FromCatalog, Mend: "a higher class",
		}}
	}
	rest := b.pressure("pressure at pump shut-off", b.shutOff())
	f := Finding{Kind: RatingHolds, Value: rest, Limit: own, Basis: FromCatalog}
	f.Text = fmt.Sprintf("Rated %s; pressure at the valve at pump shut-off is %s.", b.show(own), b.show(rest))
	if rest.SI > own.SI {
		f.Kind, f.Mend = RatingTooLow, "a higher class"
	}
	return []Finding{f}
}

func (b *bench) shutOff() basis.Value {
	head := basis.Value{}
	for i := range b.Station.Pumps {
		if p := &b.Station.Pumps[i]; p.ShutoffHead.SI > head.SI {
			head = p.ShutoffHead
		}
	}
	axis := basis.NewSimulated("axis of the valve above the suction's head line", quantity.Head,
		b.Station.ValveAboveDatum(), "elevation of the valve less wet-well level and suction head", b.Station.ValveElevation, b.Station.SuctionPressure)
	return shutOffHead.Eval2("head at the valve at pump shut-off",
		func(head, axis float64) float64 { return head - axis }, head, axis)
}

// pressures holds the greatest heads of all stops and starts against the ratings of valve
// and pipes, and the least against vapor pressure.
func pressures(b *bench) []Finding {
	if b.Mech == nil || b.Answer == nil {
		return nil
	}
	var out []Finding
	if own := WeakestRating(b.Item); own.Known() {
		out = append(out, b.overPressure(SurgeValveRating, "the valve, above the weakest rating of body and ends,", own,
			own.SI)...)
	}
	branch := b.Station.Branch.Runs[0]
	if branch.Rating.Known() {
		out = append(out, b.overPressure(SurgeBranchRating, "the branch, above its pipe rating of", branch.Rating,
			branch.Rating.SI+branch.SurgeAllowance.SI)...)
	}
	out = append(out, b.mainRating()...)
	return append(out, b.separation()...)
}

// overPressure finds the event with the greatest pressure at the valve above a limit.
func (b *bench) overPressure(kind *Kind, where string, rated basis.Value, limitPa float64) []Finding {
	var worst *plant.Stop
	for _, s := range b.Answer.Stops {
		if s.Fault == "" && (worst == nil || s.MostM() > worst.MostM()) {
			worst = s
		}
	}
	if worst == nil {
		return nil
	}
	head := basis.NewSimulated("greatest head at the valve, "+worst.Event.ID, quantity.Head,
		worst.MostM()-b.Station.ValveAboveDatum(), "read off the run")
	p := b.pressure("greatest pressure at the valve, "+worst.Event.ID, head)
	if p.SI <= limitPa {
		return nil
	}
	atLeast := ""
	if worst.Rest == plant.NeverRests {
		atLeast = "at least "
	}
	return []Finding{{
		Kind: kind, Value: p, Limit: rated, Basis: FromCatalog, Mend: "surge control, or a higher class",
		Text: fmt.Sprintf("%s: %s%s at %s %s.", capital(worst.Event.Title), atLeast, b.show(p), where, b.show(rated)),
	}}
}

// mainRating finds the place of the main at which the head goes furthest over its rating.
func (b *bench) mainRating() []Finding {
	var worst *plant.Stop
	var at plant.EnvelopePoint
	by := 0.0
	for _, s := range b.Answer.Stops {
		if e, over := s.OverRating(); over && e.MostM-e.LimitM > by {
			worst, at, by = s, e, e.MostM-e.LimitM
		}
	}
	if worst == nil {
		return nil
	}
	head := func(name string, m float64) basis.Value {
		return b.pressure(name, basis.NewSimulated(name+", head", quantity.Head, m, "read off the run"))
	}
	most, limit := head("greatest pressure in the main",
		at.MostM-at.ElevationM), head("rating of the main with its surge allowance", at.LimitM-at.ElevationM)
	return []Finding{{
		Kind: SurgeMainRating, Value: most, Limit: limit, Basis: FromCatalog,
		Mend: "surge control, or a higher class of pipe",
		Text: fmt.Sprintf("%s: %s in the main, %s from the station, above its rating of %s including the surge allowance.", capital(worst.Event.Title), b.show(most),
			b.Station.Units.Format(quantity.Length, at.ChainageM), b.show(limit)),
	}}
}

// separation tells vapor pressure anywhere in the pipes: the risk beyond the valve.
func (b *bench) separation() []Finding {
	worst := Separation(b.Answer)
	if worst == nil {
		return nil
	}
	b.out.Separation = SeparationText(b.Station, worst)
	return []Finding{{Kind: ColumnSeparation, Basis: "wylie-streeter-1993", Text: b.out.Separation}}
}

// Separation is the event in which the column separates, the one with the lowest head; nil
// where none does.
func Separation(a *plant.Answer) *plant.Stop {
	var worst *plant.Stop
	least := math.Inf(1)
	if a == nil {
		return nil
	}
	for _, s := range a.Stops {
		if s.Separates() && s.LeastPressureM() < least {
			worst, least = s, s.LeastPressureM()
		}
	}
	return worst
}

// WeakestRating is the rating of the valve, or of the weakest ends offered in its size: a
// buyer may order better ones, but does not get them unasked.
func WeakestRating(it *catalog.Item) basis.Value {
	own := it.Rating
	for _, e := range it.Family.Ends {
		if e.Rating.Known() && e.Covers(it.Size) && e.Rating.SI < own.SI {
			own = e.Rating
		}
	}
	return own
}

// SeparationText says where and when the column separates, and what that takes.
func SeparationText(st *station.Station, s *plant.Stop) string {
	where := ""
	for _, e := range s.Envelope {
		if e.LeastM-e.ElevationM <= s.LeastPressureM()+1e-9 {
			where = " at " + st.Units.Format(quantity.Length, e.ChainageM) + " from the station"
			break
		}
	}
	return fmt.Sprintf("Column separation (%s): the main falls to vapor pressure%s. No check valve cures that; it takes surge protection designed by a licensed engineer.", s.Event.Title, where)
}

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
