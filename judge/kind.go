package judge

import (
	"slices"
)

// Section is a part of the judgement, as lists of findings are divided.
type Section string

// The sections.
const (
	Liquid   Section = "liquid"
	Sealing  Section = "sealing"
	Slamming Section = "slam"
	Pressure Section = "pressure"
	Flow     Section = "flow"
	Fit      Section = "fit"
	Rules    Section = "rules"
)

// Sections lists the sections in their order.
func Sections() []Section { return []Section{Liquid, Sealing, Slamming, Pressure, Flow, Fit, Rules} }

// Point is what a check weighs. Every finding belongs to one.
type Point struct {
	ID      string
	Section Section
}

// The points, in the order of the checks.
var (
	OnMechanics     = Point{"mechanics", Fit}
	OnPump          = Point{"pump", Flow}
	OnService       = Point{"service", Liquid}
	OnPosition      = Point{"position", Fit}
	OnClosing       = Point{"closing", Sealing}
	OnSolids        = Point{"solids", Liquid}
	OnRags          = Point{"rags", Liquid}
	OnGrit          = Point{"grit", Liquid}
	OnElastomer     = Point{"elastomer", Liquid}
	OnDrinkingWater = Point{"drinking-water", Liquid}
	OnSulfide       = Point{"sulfide", Liquid}
	OnBackHead      = Point{"back-head", Sealing}
	OnSlam          = Point{"slam", Slamming}
	OnRating        = Point{"rating", Pressure}
	OnSurge         = Point{"surge", Pressure}
	OnVelocity      = Point{"velocity", Flow}
	OnLoss          = Point{"loss", Flow}
	OnSize          = Point{"size", Fit}
	OnStraight      = Point{"straight", Fit}
	OnClearance     = Point{"clearance", Fit}
	OnPlace         = Point{"place", Fit}
	OnLayingLength  = Point{"laying-length", Fit}
	OnLifting       = Point{"lifting", Fit}
	OnIndication    = Point{"indication", Fit}
	OnRules         = Point{"rules", Rules}
	OnCost          = Point{"cost", Flow}
)

// Settler is who or what settles a point that is open or to be confirmed.
type Settler string

// The settlers.
const (
	SiteVisit   Settler = "site visit"
	Maker       Settler = "maker"
	Measurement Settler = "measurement"
	Owner       Settler = "owner"
)

// Kind declares a finding: all that is the same wherever it comes up. The kinds are the
// table of findings.go, and those of the rules of packs, which packKind makes of their rows.
type Kind struct {
	ID         string // stable: JSON and reports name the finding by it
	Point      Point
	Severities []Severity // the only ones it may have; a single one needs no mention in the check
	Head       string     // in a few words, as verdict lines and headings have it: "slam will be heard"
	Meaning    string     // in a sentence, for lists of findings
	Beyond     bool       // it threatens the station, whatever the valve
	Settles    Settler    // for a finding that may be open or to be confirmed
}

// Title is Head as a heading.
func (k *Kind) Title() string { return capital(k.Head) }

// Is is true for the same kind. Kinds of the table may be compared as they are; those of
// packs are made anew for each judgement.
func (k *Kind) Is(other *Kind) bool { return k.ID == other.ID }

// table holds kinds in their order.
type table struct{ kinds []*Kind }

func (t *table) add(k Kind) *Kind {
	t.kinds = append(t.kinds, &k)
	return &k
}

var declared table

// declare puts a kind into the table.
func declare(k Kind) *Kind { return declared.add(k) }

// may lists severities.
func may(all ...Severity) []Severity { return all }

// Kinds lists the declared findings, by points in the order of the checks.
func Kinds() []*Kind {
	at := func(k *Kind) int { return slices.IndexFunc(checks, func(c check) bool { return c.point == k.Point }) }
	out := slices.Clone(declared.kinds)
	slices.SortStableFunc(out, func(x, y *Kind) int { return at(x) - at(y) })
	return out
}

// weighed gives findings the severity of their kind, where it has but one.
func weighed(all []Finding) []Finding {
	for i := range all {
		if s := all[i].Kind.Severities; len(s) == 1 {
			all[i].Severity = s[0]
		}
	}
	return all
}

// Decides is the finding that decides the verdict: the first that rejects, leaves it open,
// or is a condition; nil for a valve that is suitable.
func (a *Assessment) Decides() *Finding {
	if len(a.Findings) > 0 && a.Findings[0].Severity >= Condition {
		return &a.Findings[0]
	}
	return nil
}

// On is the most decisive finding on one of the points; nil where there is none.
func (a *Assessment) On(points ...Point) *Finding {
	for i := range a.Findings {
		if slices.Contains(points, a.Findings[i].Kind.Point) {
			return &a.Findings[i]
		}
	}
	return nil
}

// Settler says who or what settles a finding that is open or to be confirmed; "" for others.
func (f *Finding) Settler() string {
	if f.Severity == Open || f.Severity == Confirm {
		return string(f.Kind.Settles)
	}
	return ""
}

// Lacks is the fact that is missing, and who or what settles it; "" where none is.
func (f *Finding) Lacks() string {
	if by := f.Settler(); f.Missing != "" && by != "" {
		return f.Missing + " (" + by + ")"
	}
	return f.Missing
}

// slamVerdicts say what the slam comes to; a judged record of stops gives one of them.
var slamVerdicts = []*Kind{SlamHarmful, SlamMayHarm, SlamAudible, SlamQuiet, SlamNotRun}

// SaysSlam is true for the finding that says what the slam comes to.
func (f *Finding) SaysSlam() bool { return slices.Contains(slamVerdicts, f.Kind) }

// SlamFinding says what the slam comes to; nil while the stops are still to be run.
func (a *Assessment) SlamFinding() *Finding {
	for i := range a.Findings {
		if a.Findings[i].SaysSlam() {
			return &a.Findings[i]
		}
	}
	return nil
}

// OfStops are the findings that the stops gave, and what else rejects the valve: a quiet
// closing must not hide that.
func (a *Assessment) OfStops() []Finding {
	var out []Finding
	for _, f := range a.Findings {
		switch {
		case f.Kind.Point == OnSlam || f.Kind.Point == OnSurge:
			out = append(out, f)
		case f.Severity == Rejects:
			f.Text = "Whatever the stops do, the valve is unsuitable here: " + f.Text
			out = append(out, f)
		}
	}
	return out
}
