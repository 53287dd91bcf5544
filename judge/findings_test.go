package judge

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
)

// drinking makes the layout's liquid drinking water.
var drinking = edits("kind: raw sewage\n  rags: light\n  grit: some\n  oil: trace", "kind: drinking water")

func edits(pairs ...string) []string { return pairs }

// onItem changes the valve of a case, onStation its station, onPoint the points at which it
// stands; the catalog and the file stay as they are.
func onItem(change func(in *Input)) func(*Input) {
	return func(in *Input) {
		it, family := *in.Item, *in.Item.Family
		in.Item, it.Family = &it, &family
		change(in)
	}
}

func onStation(change func(st *station.Station)) func(*Input) {
	return func(in *Input) {
		st := *in.Station
		st.Pumps = slices.Clone(st.Pumps)
		in.Station = &st
		change(&st)
	}
}

func onPoints(change func(p *plant.OperatingPoint)) func(*Input) {
	return func(in *Input) {
		for i := range in.Points {
			change(&in.Points[i])
		}
	}
}

// onRecord gives the valve the record of a stop that is quiet but for the change.
func onRecord(change func(a *plant.Answer)) func(*Input) {
	return func(in *Input) {
		in.Answer = record(0.05, 0.04, 0.06, plant.Chances{Quiet: 1})
		change(in.Answer)
	}
}

func chances(quiet, audible, harmful float64) func(*Input) {
	return onRecord(func(a *plant.Answer) {
		a.Slam.Chances = plant.Chances{Quiet: quiet, Audible: audible, Harmful: harmful}
	})
}

// findingCase is a station and a valve at which a finding comes about: the layout example
// with pairs of old and new text, and what no file can say.
type findingCase struct {
	kind   *Kind
	valve  string
	edits  []string
	change func(*Input)
}

// findingCases has at least one row for every finding; TestEveryFindingHasItsCase demands it.
var findingCases = []findingCase{
	{
		MechanicsUnusable, "flap/6in", nil,
		func(in *Input) { in.Mech, in.BuildErr = nil, errors.New("its stroke is too short") },
	},
	{ServiceOffered, "flap/6in", nil, nil},
	{ServiceNotOffered, "dual-plate/6in", nil, nil},
	{PositionAllowed, "flap/6in", nil, nil},
	{PositionNotAllowed, "swing-cushioned/6in", nil, nil},
	{PositionToConfirm, "flap/6in", edits("  position: flow up\n", ""), nil},
	{ClosesByItself, "ball-cage/6in/sinking", nil, nil},
	{ClosesByItself, "ball-cage/6in/floating", edits("position: flow up", "position: flow down"), nil},
	{DoesNotClose, "ball-cage/6in/floating", nil, nil},
	{DoesNotClose, "ball-cage/6in/sinking", edits("position: flow up", "position: flow down"), nil},
	{SolidsPass, "ball-pocket/6in", nil, nil},
	{SolidsToConfirm, "flap/6in", edits("kind: raw sewage", "kind: raw water"), onItem(func(in *Input) {
		want := in.Station.Fluid.Solids
		in.Item.Passage.SI = (want.Low + want.SI) / 2
	})},
	{SolidsUnknown, "flap/6in", nil, onItem(func(in *Input) { in.Item.Passage = basis.Value{} })},
	{SolidsDoNotPass, "flap/6in", nil, onItem(func(in *Input) { in.Item.Passage.SI = 0.01 })},
	{RagsAccepted, "flap/6in", edits("rags: light", "rags: heavy"), nil},
	{RagsToConfirm, "swing-assisted-weight/6in", edits("  rags: light\n", ""), nil},
	{RagsUnknown, "flap/6in", nil, onItem(func(in *Input) { in.Item.Family.Rags = "" })},
	{RagsTooMuch, "swing-assisted-weight/6in", edits("rags: light", "rags: heavy"), nil},
	{GritAccepted, "flap/6in", nil, nil},
	{GritToConfirm, "swing-assisted-weight/6in", edits("  grit: some\n", ""), nil},
	{GritUnknown, "flap/6in", nil, onItem(func(in *Input) { in.Item.Family.Grit = "" })},
	{GritTooMuch, "swing-assisted-weight/6in", edits("grit: some", "grit: heavy"), nil},
	{ElastomerSuits, "flap/6in", nil, nil},
	{
		ElastomerOilToConfirm, "flap/6in", edits("  oil: trace\n", ""),
		onItem(func(in *Input) { in.Item.Family.Elastomers = []string{"EPDM"} }),
	},
	{ElastomerWears, "flap/6in", edits("grit: some", "grit: heavy"), nil},
	{ElastomerUnsuitable, "ball-pocket/6in", edits("rags: light", "rags: light\n  greatest_temperature: 210 °F"), nil},
	{ElastomerUnsuitable, "flap/6in", edits("oil: trace", "oil: heavy\n  greatest_temperature: 200 °F"), nil},
	{PumpBeyondCurve, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) {
		p.CurveEnd, p.CurveEnd.SI = p.Flow, 0.8*p.Flow.SI
	})},
	{PumpBeyondCurve, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) {
		if !p.Normal {
			p.CurveEnd, p.CurveEnd.SI = p.Flow, 0.8*p.Flow.SI
		}
	})},
	{PumpBeyondCurve, "flap/6in", nil, func(in *Input) {
		onStation(func(st *station.Station) { st.Pumps[0].CurveGiven = false })(in)
		onPoints(func(p *plant.OperatingPoint) { p.CurveEnd, p.CurveEnd.SI = p.Flow, 0.8*p.Flow.SI })(in)
	}},
	{MotorOverload, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) {
		p.Motor, p.Motor.SI = p.ShaftPower, 0.9*p.ShaftPower.SI
	})},
	{MotorOverload, "flap/6in", nil, func(in *Input) {
		onStation(func(st *station.Station) {
			st.Pumps[0].Efficiency = basis.NewAssumed("efficiency", quantity.Fraction, 0.6, 0.5, 0.7, "estimated", "")
		})(in)
		onPoints(func(p *plant.OperatingPoint) { p.Motor, p.Motor.SI = p.ShaftPower, 0.9*p.ShaftPower.SI })(in)
	}},
	{DrinkingWaterCertified, "dual-plate/6in", drinking, nil},
	{DrinkingWaterOnRequest, "flap/6in", drinking, nil},
	{DrinkingWaterUnknown, "flap/6in", drinking, onItem(func(in *Input) { in.Item.Family.DrinkingWater = "" })},
	{DrinkingWaterNotCertified, "ball-pocket/6in", drinking, nil},
	{SulfideHigh, "flap/6in", edits("rags: light", "rags: light\n  hydrogen_sulfide: high"), nil},
	{BackHeadSeals, "flap/6in", nil, nil},
	{BackHeadSeals, "ball-pocket/6in", edits("position: flow up", "position: horizontal"), nil},
	{BackHeadToConfirm, "flap/6in", nil, onStation(func(st *station.Station) { st.StaticLow.Low = 0 })},
	{BackHeadUnknown, "flap/6in", nil, onItem(func(in *Input) { in.Item.Family.BackHead = nil })},
	{BackHeadTooSmall, "flap/6in", edits("outlet: 46 ft", "outlet: 11 ft"), nil},
	{SlamQuiet, "flap/6in", nil, chances(1, 0, 0)},
	{SlamAudible, "flap/6in", nil, chances(0.2, 0.8, 0)},
	{SlamMayHarm, "flap/6in", nil, chances(0.2, 0.6, 0.2)},
	{SlamHarmful, "flap/6in", nil, chances(0, 0.1, 0.9)},
	{
		SlamNotRun, "flap/6in", nil,
		onRecord(func(a *plant.Answer) { a.Worst, a.Fault = nil, "the pump has no inertia" }),
	},
	{SlamLater, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Worst.Closing.Later = 3 })},
	{SlamNoRest, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Worst.Rest = plant.NeverRests })},
	{SlamNotResolved, "flap/6in", nil, onRecord(func(a *plant.Answer) {
		a.Worst.Finer = &plant.Closing{Closed: true, Worst: a.Worst.Closing.Worst}
		a.Worst.Finer.Worst.ReverseMS = 0.5
	})},
	{SlamSample, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Slam.Settled = false })},
	{SlamRunsFailed, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Slam.Failed = 3 })},
	{EventNotRun, "flap/6in", nil, func(in *Input) {
		p, err := plant.New(in.Station)
		if err != nil {
			panic(err)
		}
		in.Answer = record(0.05, 0.04, 0.06, plant.Chances{Quiet: 1})
		in.Answer.Stops = append(in.Answer.Stops, &plant.Stop{Event: p.Events()[0], Fault: "the pump has no inertia"})
	}},
	{RunNote, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Worst.Notes = []string{"The pump turned backward."} })},
	{RatingHolds, "flap/6in", nil, nil},
	{RatingUnknown, "flap/6in", nil, onItem(func(in *Input) { in.Item.Rating = basis.Value{} })},
	{RatingBelowCalled, "flap/6in", edits("place: dry pit", "place: dry pit\n  rating: 300 psi"), nil},
	{RatingTooLow, "flap/6in", nil, onItem(func(in *Input) { in.Item.Rating.SI = 1e5 })},
	{SurgeValveRating, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Worst.Closing.MostM = 1e4 })},
	{SurgeBranchRating, "flap/6in", nil, onRecord(func(a *plant.Answer) { a.Worst.Closing.MostM = 1e4 })},
	{SurgeMainRating, "flap/6in", nil, onRecord(func(a *plant.Answer) {
		a.Worst.Envelope = []plant.EnvelopePoint{{ChainageM: 100, LeastM: 10, MostM: 121, LimitM: 120}}
	})},
	{ColumnSeparation, "flap/6in", nil, onRecord(func(a *plant.Answer) {
		a.Worst.VaporM, a.Worst.Envelope = -10, []plant.EnvelopePoint{{LeastM: -9.99, MostM: 10, LimitM: 120}}
	})},
	{VelocityFullOpen, "flap/6in", nil, nil},
	{VelocityToConfirm, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) { p.Flow.Low = 0.1 * p.Flow.SI })},
	{VelocityBelowFullOpen, "flap/8in", nil, nil},
	{VelocityLeastTooLow, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) {
		if !p.Normal {
			p.Flow.SI *= 0.1
		}
	})},
	{VelocityTooHigh, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) { p.Flow.SI *= 5 })},
	{VelocityUnknown, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) { p.Normal = false })},
	{LossTold, "flap/6in", nil, nil},
	{LossLarge, "flap/6in", nil, onPoints(func(p *plant.OperatingPoint) { p.PumpHead.SI = 0.1 })},
	{LineSize, "flap/6in", nil, nil},
	{SizeDiffers, "flap/8in", nil, nil},
	{StraightEnough, "flap/6in", nil, nil},
	{StraightUnknown, "flap/6in", edits("  straight_before: 3 ft\n", ""), nil},
	{StraightTooShort, "flap/6in", edits("straight_before: 3 ft", "straight_before: 6 in"), nil},
	{ClearanceEnough, "flap/6in", nil, nil},
	{ClearanceUnknown, "flap/6in", edits("  clearance: 30 in\n", ""), nil},
	{ClearanceTooSmall, "flap/6in", edits("clearance: 30 in", "clearance: 3 in"), nil},
	{InWetWell, "flap/6in", edits("place: dry pit", "place: wet well"), nil},
	{LayingLengthFits, "flap/6in", edits("place: dry pit", "place: dry pit\n  laying_length: 14 in"), nil},
	{
		LayingLengthUnknown, "flap/6in", edits("place: dry pit", "place: dry pit\n  laying_length: 14 in"),
		onItem(func(in *Input) { in.Item.FaceToFace = basis.Value{} }),
	},
	{LayingLengthTooLong, "flap/6in", edits("place: dry pit", "place: dry pit\n  laying_length: 10 in"), nil},
	{LayingLengthGap, "flap/6in", edits("place: dry pit", "place: dry pit\n  laying_length: 20 in"), nil},
	{LiftingTold, "flap/6in", nil, nil},
	{
		LiftingUnknown, "flap/6in", nil,
		onItem(func(in *Input) { in.Item.ElementMass, in.Item.CoverMass = basis.Value{}, basis.Value{} }),
	},
	{LiftingPlan, "swing-assisted-weight/24in", nil, nil},
	{Indicated, "swing-assisted-weight/6in", nil, nil},
	{NotIndicated, "flap/6in", nil, nil},
	{
		RulesDiffer, "flap/6in", nil,
		onStation(func(st *station.Station) { st.RulePacks = []string{"ten-states", "new-hampshire-sewage"} }),
	},
	{CostTold, "flap/6in", nil, nil},
	{CostUnknown, "flap/6in", nil, onStation(func(st *station.Station) { st.Pumps[0].MotorEfficiency.SI = 0 })},
}

// assessed judges a case.
func (c *findingCase) assessed(t *testing.T) Assessment {
	t.Helper()
	in := input(t, layout, c.valve, c.edits...)
	if c.change != nil {
		c.change(&in)
	}
	held(t, &in)
	return Assess(in)
}

// held checks that each finding is declared, has a severity that its kind may have, and
// comes from the check of its point; and that what is open says what is missing.
func held(t *testing.T, in *Input) {
	t.Helper()
	b := &bench{Input: *in, out: Assessment{Item: in.Item, Answer: in.Answer, Runs: in.Mech != nil}}
	if in.Mech != nil {
		b.measure()
	}
	for _, c := range checks {
		for _, f := range weighed(c.run(b)) {
			k := f.Kind
			if c.point != OnRules && !slices.Contains(declared.kinds, k) {
				t.Errorf("%s: not in the table of findings.go", k.ID)
			}
			if k.Point != c.point {
				t.Errorf("%s is on %s, and comes from the check of %s", k.ID, k.Point.ID, c.point.ID)
			}
			if !slices.Contains(k.Severities, f.Severity) {
				t.Errorf("%s is %s; it may be %v", k.ID, f.Severity, k.Severities)
			}
			if open := f.Severity == Open || f.Severity == Confirm; open && f.Missing == "" {
				t.Errorf("%s does not say what is missing", k.ID)
			}
			if f.Text == "" {
				t.Errorf("%s says nothing", k.ID)
			}
		}
	}
}

// Every declared finding has a case, and comes about in it.
func TestEveryFindingHasItsCase(t *testing.T) {
	for _, k := range Kinds() {
		if !slices.ContainsFunc(findingCases, func(c findingCase) bool { return c.kind == k }) {
			t.Errorf("%s has no case: add one to findingCases", k.ID)
		}
	}
	for _, c := range findingCases {
		t.Run(c.kind.ID+" "+c.valve, func(t *testing.T) {
			a := c.assessed(t)
			if !slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.Kind == c.kind }) {
				t.Errorf("it does not come about: %v", ids(&a))
			}
		})
	}
}

// The table is complete in itself: no ID twice, a check for each point, words for people,
// and who settles what may be open.
func TestFindingsAreDeclared(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range declared.kinds {
		if seen[k.ID] {
			t.Errorf("%s is declared twice", k.ID)
		}
		seen[k.ID] = true
		wellSaid(t, k)
		if !slices.ContainsFunc(checks, func(c check) bool { return c.point == k.Point }) {
			t.Errorf("%s: no check weighs %s", k.ID, k.Point.ID)
		}
	}
	for _, c := range checks {
		if c.point != OnRules && !slices.ContainsFunc(declared.kinds,
			func(k *Kind) bool { return k.Point == c.point }) {
			t.Errorf("the check of %s has no finding", c.point.ID)
		}
	}
	if all := Kinds(); len(all) != len(declared.kinds) || all[0].Point != OnMechanics {
		t.Errorf("%d kinds of %d are listed, the first on %s", len(all), len(declared.kinds), all[0].Point.ID)
	}
}

func wellSaid(t *testing.T, k *Kind) {
	t.Helper()
	if k.Head == "" || strings.HasSuffix(k.Head, ".") || !strings.HasSuffix(k.Meaning, ".") {
		t.Errorf("%s: the head is a few words, %q; the meaning a sentence, %q", k.ID, k.Head, k.Meaning)
	}
	if len(k.Severities) == 0 {
		t.Errorf("%s may have no severity", k.ID)
	}
	if (slices.Contains(k.Severities, Open) || slices.Contains(k.Severities, Confirm)) && k.Settles == "" {
		t.Errorf("%s: who settles it?", k.ID)
	}
}

// Each rule of each pack comes about as a finding of its own row, and one that can be worked
// out is met at one station or another and not met at a third.
func TestEveryRuleComesAbout(t *testing.T) {
	book, faults := rules.Base()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	reached := map[string][]Severity{}
	meet := func(in Input) {
		st := *in.Station
		in.Station = &st
		for _, p := range book.Packs() {
			st.RulePacks = append(st.RulePacks, p.ID)
		}
		held(t, &in)
		a := Assess(in)
		for _, f := range a.Findings {
			reached[f.Kind.ID] = append(reached[f.Kind.ID], f.Severity)
		}
	}
	variable := func(least string) []string {
		return edits("speed: 1760 rpm", "speed: 1760 rpm\n    least_speed: "+least)
	}
	lying := edits("position: flow up", "position: horizontal\n  straight_after: 6 in", "straight_before: 3 ft",
		"straight_before: 10 ft")
	for _, e := range [][]string{
		nil, variable("1700 rpm"), variable("1200 rpm"), lying,
		edits("size: 8 in\n      length: 3400 ft",
			"size: 2.5 in\n      inner_diameter: 2.5 in\n      wall: 0.2 in\n      length: 40 ft",
			"      class: DR18\n", "", "count: 2", "count: 1", "place: dry pit",
			"place: wet well\n  straight_after: 6 ft"),
		edits("size: 8 in", "size: 16 in", "straight_before: 3 ft", "straight_before: 1 ft"),
	} {
		for _, id := range []string{"swing/6in", "ball-pocket/6in", "ball-cage/6in/sinking"} {
			meet(input(t, layout, id, e...))
		}
	}
	for _, more := range []func(*plant.OperatingPoint){
		func(p *plant.OperatingPoint) { p.Flow.SI *= 6 }, func(p *plant.OperatingPoint) { p.Flow.SI *= 0.02 },
	} {
		in := input(t, layout, "flap/6in")
		onPoints(more)(&in)
		meet(in)
	}
	for _, p := range book.Packs() {
		for i := range p.Rules {
			r, k := &p.Rules[i], packKind(&p, &p.Rules[i])
			wellSaid(t, k)
			want := []Severity{Confirm}
			switch {
			case r.Require == nil:
			case len(r.Require.Names) == 0: // it asks for nothing
				want = may(Pass)
			default:
				want = may(Pass, broken[r.Severity])
			}
			for _, s := range want {
				if !slices.Contains(reached[k.ID], s) {
					t.Errorf("%s never comes about as %s: %v", k.ID, s, reached[k.ID])
				}
			}
		}
	}
}

// docs/findings.md is the table as people read it; SEATWARD_UPDATE=1 renews it.
func TestFindingsDoc(t *testing.T) {
	var b strings.Builder
	b.WriteString("# Findings\n\nEvery point that `seatward select` and `seatward trip` may find, by what is checked. The ID is the\none in JSON. Rules of packs are findings too: `seatward rules --packs` lists them. Written from\n`judge/findings.go`.\n")
	last := Section("")
	for _, section := range Sections() {
		for _, k := range Kinds() {
			if k.Point.Section != section {
				continue
			}
			if section != last {
				last = section
				b.WriteString("\n## " + capital(string(section)) +
					"\n\n| finding | it is | meaning | settled by | ID |\n|---|---|---|---|---|\n")
			}
			b.WriteString("| " + k.Title() + " | " + k.Severities[0].String() + " | " + k.Meaning + " | " +
				string(k.Settles) + " | `" + k.ID + "` |\n")
		}
	}
	const name = "../docs/findings.md"
	if os.Getenv("SEATWARD_UPDATE") == "1" {
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(name)
	if err != nil || string(kept) != b.String() {
		t.Errorf("docs/findings.md is not the table (%v): SEATWARD_UPDATE=1 go test ./judge renews it", err)
	}
}
