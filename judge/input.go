package judge

import (
	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// Input is one valve at one station, as it is to be judged.
type Input struct {
	Station  *station.Station
	Item     *catalog.Item
	Mech     *valve.Mechanism // for the station's liquid and position; nil where it cannot be built
	BuildErr error            // why not
	Points   []plant.OperatingPoint
	Rules    *rules.Book
	Answer   *plant.Answer // what the stops do with this valve; nil where they are still to be run
}

// bench is one judgement at work.
type bench struct {
	Input
	out   Assessment
	about []basis.Value // what params has listed
}

// check weighs one point and gives its findings.
type check struct {
	point Point
	run   func(*bench) []Finding
}

// checks lists every check, in the order in which findings of one severity are listed.
// A new one is a file with a function and a line here; CONTRIBUTING.md walks through it.
var checks = []check{
	{OnMechanics, buildable},
	{OnPump, pumps},
	{OnService, service},
	{OnPosition, position},
	{OnClosing, closing},
	{OnSolids, solids},
	{OnRags, rags},
	{OnGrit, grit},
	{OnElastomer, elastomer},
	{OnDrinkingWater, drinkingWater},
	{OnSulfide, sulfide},
	{OnBackHead, backHead},
	{OnSlam, slam},
	{OnRating, rating},
	{OnSurge, pressures},
	{OnVelocity, velocities},
	{OnLoss, loss},
	{OnSize, size},
	{OnStraight, straight},
	{OnClearance, clearance},
	{OnPlace, place},
	{OnLayingLength, layingLength},
	{OnLifting, lifting},
	{OnIndication, indication},
	{OnRules, packs},
	{OnCost, cost},
}

// Assess judges one valve.
func Assess(in Input) Assessment {
	b := &bench{Input: in, out: Assessment{Item: in.Item, Answer: in.Answer, Runs: in.Mech != nil}}
	if in.Mech != nil {
		b.measure()
	}
	for _, c := range checks {
		b.out.Findings = append(b.out.Findings, weighed(c.run(b))...)
	}
	b.conclude()
	return b.out
}

// buildable tells when the catalog's numbers cannot make a valve in this position.
func buildable(b *bench) []Finding {
	if b.Mech == nil {
		text := "The catalog's numbers do not make a valve."
		if b.BuildErr != nil {
			text = "The catalog's numbers do not make a valve: " + b.BuildErr.Error() + "."
		}
		return []Finding{{Kind: MechanicsUnusable, Text: text, Basis: FromCatalog}}
	}
	return nil
}

// show prints a value in the station's units. Diameters print to three figures: they
// are weighed here, not machined.
func (b *bench) show(v basis.Value) string {
	if v.Kind == quantity.Diameter {
		unit := b.Station.Units.Unit(v.Kind)
		return quantity.Figures(b.Station.Units.In(v.Kind, v.SI), 3) + " " + unit
	}
	return b.Station.Units.Format(v.Kind, v.SI)
}

// limit reads a limit of the rules.
func (b *bench) limit(id string) basis.Value { return b.Rules.Limit(id).Value }
