package judge

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// input is the layout example with one valve, its stops still to be run; edits are pairs of
// old and new text.
func input(t testing.TB, name, id string, edits ...string) Input {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(edits); i += 2 {
		if !strings.Contains(string(data), edits[i]) {
			t.Fatalf("%s has no %q", name, edits[i])
		}
	}
	st, list := station.Load("test.yaml", []byte(strings.NewReplacer(edits...).Replace(string(data))))
	if st == nil {
		t.Fatal(list)
	}
	book, faults := rules.Base()
	all, more := catalog.Demo()
	if faults.Err() != nil || more.Err() != nil {
		t.Fatal(faults, more)
	}
	it, err := catalog.Find(all, id)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Station: st, Item: it, Rules: book}
	if in.Mech, in.BuildErr = it.Build(st.Setting()); in.BuildErr != nil {
		in.Mech = nil
		return in
	}
	points, err := p.Solve(in.Mech)
	if err != nil {
		t.Fatal(err)
	}
	in.Points = points.ForValve()
	return in
}

const layout = "../examples/layout.station.yaml"

func ms(name string, best, low, high float64) basis.Value {
	return basis.NewSimulated(name, quantity.Velocity, best, "made up").WithRange(low, high)
}

// record is the answer of one made-up stop: reverse velocity with its 5 and 95 % points,
// and the chances.
func record(best, low, high float64, c plant.Chances) *plant.Answer {
	s := &plant.Stop{Event: plant.Event{
		ID: "power-failure-high", Kind: plant.PowerFailure,
		Title: "power failure, wet well high",
	}}
	s.Closing.Closed, s.Closing.First, s.Closing.Worst = true, valve.Slam{
		ReverseMS: best,
		TimeS:     1,
	}, valve.Slam{ReverseMS: best, TimeS: 1}
	v := ms("reverse velocity", best, low, high)
	return &plant.Answer{Stops: []*plant.Stop{s}, Worst: s, Slam: plant.Slam{
		Reverse: v, Sudden: v, MedianMS: best, MedianSudden: best,
		Rise:    basis.NewSimulated("head rise", quantity.Head, 100*best, "made up"),
		Chances: c, Runs: 64, Settled: true, Middle: [2]float64{(low + best) / 2, (best + high) / 2},
	}}
}

func first(t testing.TB, a *Assessment, prefix string) Finding {
	t.Helper()
	i := slices.IndexFunc(a.Findings, func(f Finding) bool { return strings.HasPrefix(f.Kind.ID, prefix) })
	if i < 0 {
		t.Fatalf("no finding %s among %v", prefix, ids(a))
	}
	return a.Findings[i]
}

func ids(a *Assessment) []string {
	var out []string
	for _, f := range a.Findings {
		out = append(out, f.Kind.ID+":"+f.Severity.String())
	}
	return out
}

// The verdict goes by the chances (A6.1): harmful in more than half of the cases rejects,
// in more than one of twenty is a condition, audible in more than half likewise. A valve
// that does not come to rest is harmful whatever the chances; so is one that two grids do
// not agree on where the worse of them is harmful.
func TestVerdictByChances(t *testing.T) {
	in := input(t, layout, "flap/6in")
	unresolved := func(finerMS float64) func(*plant.Answer) {
		return func(a *plant.Answer) {
			a.Worst.Finer = &plant.Closing{
				Closed: true, Worst: valve.Slam{ReverseMS: finerMS},
				First: a.Worst.Closing.First,
			}
			v := a.Worst.SlamMS()
			a.Slam.Reverse, a.Slam.Sudden = ms("reverse velocity", v, v/2, v*2), ms("reverse velocity", v, v/2, v*2)
			a.Slam.Middle = [2]float64{v * 0.8, v * 1.2}
		}
	}
	for _, c := range []struct {
		name           string
		best           float64
		quiet, audible float64 // chances; the rest is harmful
		spoil          func(*plant.Answer)
		id, text       string
		severity       Severity
		risk           Risk
		verdict        Verdict
	}{
		{"quiet", 0.05, 1, 0, nil, "slam-quiet", "quiet.", Pass, InOrder, Suitable},
		{"quiet as a rule", 0.1, 0.7, 0.3, nil, "slam-quiet", "quiet in 7 of 10 cases", Pass, InOrder, Suitable},
		{"audible in half", 0.14, 0.5, 0.5, nil, "slam-quiet", "quiet in 5 of 10 cases", Pass, InOrder, Suitable},
		{
			"audible as a rule", 0.2, 0.3, 0.66, nil, "slam-audible", "audible in 7 of 10 cases", Condition, WillBeHeard,
			WithConditions,
		},
		{
			"harmful in one of twenty", 0.2, 0.3, 0.65, nil, "slam-audible", "audible in 7 of 10 cases", Condition,
			WillBeHeard, WithConditions,
		},
		{
			"harmful now and then", 0.2, 0.3, 0.5, nil, "slam-may-harm", "harmful in 2 of 10 cases", Condition, MayHarm,
			WithConditions,
		},
		{
			"harmful in half", 0.3, 0.2, 0.3, nil, "slam-may-harm", "harmful in 5 of 10 cases", Condition, MayHarm,
			WithConditions,
		},
		{
			"harmful as a rule", 0.5, 0, 0.3, nil, "slam-harmful", "harmful in 7 of 10 cases", Rejects, WillHarm,
			Unsuitable,
		},
		{"harmful", 1, 0, 0, nil, "slam-harmful", "harmful in nearly all cases", Rejects, WillHarm, Unsuitable},
		{
			"never at rest", 0.05, 1, 0, func(a *plant.Answer) { a.Worst.Rest = plant.NeverRests }, "slam-harmful",
			"does not come to rest", Rejects, WillHarm, Unsuitable,
		},
		{
			"not resolved, the finer grid harmful", 0.1, 1, 0, unresolved(0.9), "slam-harmful", "", Rejects, WillHarm,
			Unsuitable,
		},
		{
			"not resolved, both grids quiet", 0.02, 1, 0, unresolved(0.09), "slam-quiet", "quiet.", Pass, InOrder,
			Suitable,
		},
		{"two grids that agree", 0.1, 1, 0, unresolved(0.11), "slam-quiet", "quiet.", Pass, InOrder, Suitable},
		{
			"the window ended it", 0.05, 1, 0, func(a *plant.Answer) { a.Worst.Rest = plant.Window }, "slam-quiet",
			"quiet.", Pass, InOrder, Suitable,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := in
			in.Answer = record(c.best, c.best/2, c.best*2,
				plant.Chances{Quiet: c.quiet, Audible: c.audible, Harmful: 1 - c.quiet - c.audible})
			if c.spoil != nil {
				c.spoil(in.Answer)
			}
			a := Assess(in)
			f := first(t, &a, c.id)
			if f.Severity != c.severity || !strings.Contains(f.Text, c.text) || a.Slam.Risk != c.risk ||
				a.Verdict != c.verdict {
				t.Errorf("%s, %q, risk %d, verdict %s; all: %v", f.Severity, f.Text, a.Slam.Risk, a.Verdict, ids(&a))
			}
			if f.Severity >= Condition && f.Mend == "" {
				t.Error("no remedy is given")
			}
			if a.Score.Risk != c.risk || a.Slam.ReverseVelocity.SI != in.Answer.Slam.Reverse.SI {
				t.Errorf("the ranking has risk %d, the slam %g", a.Score.Risk, a.Slam.ReverseVelocity.SI)
			}
		})
	}
}

// What the run says beyond its number is a finding of its own.
func TestRunIsTold(t *testing.T) {
	in := input(t, layout, "flap/6in")
	for _, c := range []struct {
		name, id, text string
		severity       Severity
		spoil          func(*plant.Answer)
	}{
		{"a later slam is harder", "slam-later", "2.0 times the first", Note, func(a *plant.Answer) {
			a.Worst.Closing.Later, a.Worst.Closing.First.ReverseMS = 3, a.Worst.Closing.Worst.ReverseMS/2
		}},
		{
			"later slams are milder", "slam-later", "all milder than the first", Note,
			func(a *plant.Answer) { a.Worst.Closing.Later = 3 },
		},
		{
			"not at rest", "slam-no-rest", "does not come to rest", Note,
			func(a *plant.Answer) { a.Worst.Rest = plant.NeverRests },
		},
		{"two grids apart", "slam-not-resolved", "twice as fine", Note, func(a *plant.Answer) {
			a.Worst.Finer = &plant.Closing{Closed: true, Worst: valve.Slam{ReverseMS: 0.5}}
		}},
		{"not enough draws", "slam-sample", "64 runs", Note, func(a *plant.Answer) { a.Slam.Settled = false }},
		{"draws that failed", "slam-runs-failed", "3 of 64", Confirm, func(a *plant.Answer) { a.Slam.Failed = 3 }},
		{
			"a note of the run", "run-note", "pump wheel", Note,
			func(a *plant.Answer) { a.Worst.Notes = []string{"The pump wheel turned."} },
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := in
			in.Answer = record(0.1, 0.05, 0.14, plant.Chances{Quiet: 1})
			c.spoil(in.Answer)
			a := Assess(in)
			if f := first(t, &a, c.id); f.Severity != c.severity || !strings.Contains(f.Text, c.text) {
				t.Errorf("%s: %q", f.Severity, f.Text)
			}
		})
	}
}

// A run at best estimates outside the middle half is reported as lucky: the median comes first,
// in the words and in the class.
func TestLuckyRun(t *testing.T) {
	in := input(t, layout, "flap/6in", "units: US", "units: SI")
	in.Answer = record(0.05, 0.04, 0.6, plant.Chances{Quiet: 0.2, Audible: 0.7, Harmful: 0.1})
	in.Answer.Slam.MedianMS, in.Answer.Slam.MedianSudden, in.Answer.Slam.Middle = 0.2, 0.2, [2]float64{0.15, 0.3}
	a := Assess(in)
	f := first(t, &a, "slam-")
	if !a.Slam.Lucky || a.Slam.Class != Audible || a.Score.ReverseMS != 0.2 {
		t.Errorf("lucky %v, class %s, ranked by %g", a.Slam.Lucky, a.Slam.Class, a.Score.ReverseMS)
	}
	if median, best := strings.Index(f.Text, "0.20 m/s"), strings.Index(f.Text, "0.05 m/s"); median < 0 ||
		best < median {
		t.Errorf("the median does not come first: %q", f.Text)
	}
}

// The deciding sentence names the fact, the value at which the class changes, what it is
// here, and on which side it is milder.
func TestDecidingSentence(t *testing.T) {
	in := input(t, layout, "flap/6in", "units: US", "units: SI")
	inertia := in.Station.Pumps[0].Inertia
	at := inertia
	at.SI = (inertia.SI + inertia.High) / 2
	for _, c := range []struct {
		above bool
		limit string
		text  string
	}{{true, "slam-quiet", "is quiet if"}, {false, "slam-harmful", "is not harmful if"}} {
		in.Answer = record(0.2, 0.05, 0.4, plant.Chances{Quiet: 0.4, Audible: 0.5, Harmful: 0.1})
		in.Answer.Slam.Threshold = &plant.Threshold{
			Fact: inertia, At: at, Above: c.above,
			Limit: in.Rules.Limit(c.limit).Value,
		}
		a := Assess(in)
		f := first(t, &a, "slam-")
		side := "less than "
		if c.above {
			side = "more than "
		}
		for _, want := range []string{
			c.text, inertia.Name, side + quantity.SI.Format(quantity.Inertia, at.SI),
			quantity.SI.Format(quantity.Inertia, inertia.High),
		} {
			if !strings.Contains(f.Text, want) {
				t.Errorf("no %q in %q", want, f.Text)
			}
		}
		if a.Slam.Threshold != in.Answer.Slam.Threshold {
			t.Error("the threshold is not that of the record")
		}
	}
}

// A valve whose stops are still to be run has no slam number and no slam finding; one that
// could not be run says why, cannot be said, and has no number either.
func TestNoNumberWithoutARun(t *testing.T) {
	in := input(t, layout, "flap/6in")
	a := Assess(in)
	if !a.Pending() || a.Slam.ReverseVelocity.Known() || a.Slam.Class != "" || a.Slam.HeadRise.Known() ||
		slices.ContainsFunc(a.Findings, func(f Finding) bool { return strings.HasPrefix(f.Kind.ID, "slam-") }) {
		t.Errorf("pending %v, %+v, %v", a.Pending(), a.Slam, ids(&a))
	}
	in.Answer = &plant.Answer{Stops: record(1, 1, 1, plant.Chances{}).Stops, Fault: "the pump has no inertia"}
	a = Assess(in)
	f := first(t, &a, "slam-not-run")
	if a.Pending() || a.Slam.ReverseVelocity.Known() || a.Slam.NotRun != in.Answer.Fault ||
		!strings.Contains(f.Text, in.Answer.Fault) || f.Severity != Open || a.Verdict != CannotSay {
		t.Errorf("pending %v, %+v, %v, %s", a.Pending(), a.Slam, f, a.Verdict)
	}
	floating := input(t, layout, "ball-cage/6in/floating")
	if floating.Mech == nil {
		if a := Assess(floating); a.Pending() || a.Verdict != Unsuitable {
			t.Errorf("a valve that cannot be built: pending %v, %s", a.Pending(), a.Verdict)
		}
	}
}

// The mechanics come before the maker's refusal among what rejects a valve.
func TestMechanicsBeforeTheMaker(t *testing.T) {
	in := input(t, layout, "swing-cushioned/6in") // the maker does not offer it for flow up
	in.Answer = record(1, 0.8, 1.2, plant.Chances{Harmful: 1})
	a := Assess(in)
	refused := first(t, &a, "position-not-allowed")
	if refused.Severity != Rejects || !refused.Maker {
		t.Fatalf("the maker's refusal is %+v", refused)
	}
	why := WhyNot(a)
	slam, maker := strings.Index(why, first(t, &a, "slam-harmful").Text), strings.Index(why, refused.Text)
	if slam < 0 || maker < 0 || maker < slam {
		t.Errorf("the maker's refusal stands before the slam: %q", why)
	}
}

// A point that is to be confirmed names the fact that is missing and does not stand in the
// way of "suitable"; every other finding that is not good news is more than that.
func TestConfirmationsDecideNothing(t *testing.T) {
	in := input(t, layout, "flap/6in", "  straight_before: 3 ft\n", "", "  clearance: 30 in\n", "")
	in.Answer = record(0.05, 0.04, 0.06, plant.Chances{Quiet: 1})
	a := Assess(in)
	open := 0
	for _, f := range a.Findings {
		if f.Severity != Confirm {
			continue
		}
		if open++; f.Missing == "" {
			t.Errorf("%s does not say what is missing", f.Kind.ID)
		}
	}
	if open < 2 || a.Verdict != Suitable {
		t.Errorf("%d points to confirm, verdict %s: %v", open, a.Verdict, ids(&a))
	}
}

func abs(x float64) float64 { return max(x, -x) }

func stationOf(t testing.TB, name string) *station.Station {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(name, data)
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// lineSize are the IDs of valves of the pipe's size, the first of each family.
func lineSize(t testing.TB, st *station.Station) []string {
	t.Helper()
	all, faults := catalog.Demo()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	var out []string
	for _, c := range all {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if it.Size == st.Valve.Size {
					out = append(out, it.ID)
					break
				}
			}
		}
	}
	return out
}

// What a run of the engine says is what the judgement says.
func TestJudgementReadsTheRecord(t *testing.T) {
	in := input(t, layout, "flap/6in")
	p, err := plant.New(in.Station)
	if err != nil {
		t.Fatal(err)
	}
	in.Answer, err = p.Ask(context.Background(), in.Item, valve.In(in.Station.Fluid.Density.SI, valve.FlowUp),
		plant.Ask{Limits: SlamLimits(in.Rules), Sample: 16})
	if err != nil {
		t.Fatal(err)
	}
	a, x := Assess(in), in.Answer.Slam
	if got, want := fmt.Sprint(a.Slam.ReverseVelocity.SI, a.Slam.HeadRise.SI, a.Slam.MedianMS, a.Slam.Chances,
		a.Slam.EventID, a.Slam.Deceleration.SI),
		fmt.Sprint(x.Reverse.SI, x.Rise.SI, x.MedianMS, x.Chances, in.Answer.Worst.Event.ID,
			x.Deceleration.SI); got != want {
		t.Errorf("judged %s, the record has %s", got, want)
	}
	for _, f := range a.OfStops() {
		if f.Severity != Rejects && !strings.HasPrefix(f.Kind.ID, "slam-") && !strings.HasPrefix(f.Kind.ID, "run-") &&
			!strings.HasPrefix(f.Kind.ID, "surge-") && !strings.HasPrefix(f.Kind.ID, "column-") &&
			!strings.HasPrefix(f.Kind.ID, "event-") {
			t.Errorf("%s is no finding of the stops", f.Kind.ID)
		}
	}
}
