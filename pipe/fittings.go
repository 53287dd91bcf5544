package pipe

import (
	"fmt"
	"math"
	"sync"

	"seatward/basis"
	"seatward/quantity"
)

// Fitting is one kind of fitting with its loss coefficient.
type Fitting struct {
	Name                 string
	Aliases              []string
	Rule                 FittingRule
	Number               Span // what the rule works with
	Status, Source, Note string

	minDN, maxDN int // the sizes it is for; 0: no bound
}

// FittingRule says how a fitting's loss coefficient follows from its number.
type FittingRule uint8

// The rules.
const (
	FixedK      FittingRule = iota // the number is K
	TimesFT                        // K = n f_T, f_T by TurbulentFactor
	Enlargement                    // the number is the included angle in rad; EnlargementK
	Contraction                    // the number is the included angle in rad; ContractionK
)

// fittingRules are the rules as the data file writes them, with the factor that
// brings the file's number into the program's unit.
var fittingRules = map[string]struct {
	rule FittingRule
	unit float64
}{
	"fixed":       {FixedK, 1},
	"fT":          {TimesFT, 1},
	"enlargement": {Enlargement, math.Pi / 180},
	"contraction": {Contraction, math.Pi / 180},
}

var fittingTable = sync.OnceValues(func() ([]Fitting, error) {
	records, err := readData("fittings.csv")
	if err != nil {
		return nil, err
	}
	var out []Fitting
	for _, r := range records {
		names := r.names("name")
		rule, ok := fittingRules[r.text("rule")]
		if !ok {
			r.fault("rule", r.fields["rule"], "fixed, fT, enlargement or contraction")
		}
		number := Span{r.number("number"), r.number("low"), r.number("high")}
		if !(number.Low <= number.Best && number.Best <= number.High) {
			r.fault("number", fmt.Sprint(number), "low, best and high in this order")
		}
		out = append(out, Fitting{
			Name: names[0], Aliases: names[1:], Rule: rule.rule, Number: number.scaled(rule.unit),
			Status: r.text("status"), Source: r.text("source"), Note: r.fields["note"],
			minDN: r.whole("min_dn"), maxDN: r.whole("max_dn"),
		})
		if r.err != nil {
			return nil, r.err
		}
	}
	return out, nil
})

// FittingOf returns the fitting of a nominal size by its name ("90 elbow") or an
// alias, singular or plural. An unknown name gives a *LookupError that lists the
// names.
func FittingOf(name string, size quantity.Size) (Fitting, error) {
	all, err := fittingTable()
	if err != nil {
		return Fitting{}, err
	}
	i, err := named("fitting", name, len(all), func(i int) []string {
		return append([]string{all[i].Name}, all[i].Aliases...)
	})
	if err != nil {
		return Fitting{}, err
	}
	// A fitting whose number depends on the size stands once for each band.
	for _, f := range all {
		if f.Name == all[i].Name && size.DN >= f.minDN && (f.maxDN == 0 || size.DN <= f.maxDN) {
			return f, nil
		}
	}
	return Fitting{}, fmt.Errorf("%s in %s: %w: from DN%d", all[i].Name, sizeName(size), ErrRange, all[i].minDN)
}

// FittingUse is where a fitting stands.
type FittingUse struct {
	Size           quantity.Size
	DiameterM      float64 // true bore of the pipe whose velocity K shall refer to
	OtherDiameterM float64 // bore on the other side of an increaser or reducer; else 0
}

// K returns the loss coefficient with its range, referred to the velocity in
// u.DiameterM. An increaser or reducer without a second bore, or one that would
// have to do the other's work, gives an error that wraps ErrRange.
func (f Fitting) K(u FittingUse) (Span, error) {
	switch f.Rule {
	case TimesFT:
		ft, err := TurbulentFactor(u.Size)
		if err != nil {
			return Span{}, fmt.Errorf("%s: %w", f.Name, err)
		}
		n := f.Number
		return Span{TurbulentK(n.Best, ft), TurbulentK(n.Low, ft), TurbulentK(n.High, ft)}, nil
	case Enlargement, Contraction:
		return f.taper(u)
	default:
		return f.Number, nil
	}
}

func (f Fitting) taper(u FittingUse) (Span, error) {
	if !finitePositive(u.DiameterM) || !finitePositive(u.OtherDiameterM) {
		return Span{}, fmt.Errorf("%s with bores of %.4g m and %.4g m: %w: two bores, both positive", f.Name,
			u.DiameterM, u.OtherDiameterM, ErrRange)
	}
	small, large := min(u.DiameterM, u.OtherDiameterM), max(u.DiameterM, u.OtherDiameterM)
	kernel := EnlargementK
	if f.Rule == Contraction {
		kernel = ContractionK
	}
	// The kernels refer to the small bore; V² goes as 1/D⁴.
	return Span{
		kernel(f.Number.Best, small/large), kernel(f.Number.Low, small/large), kernel(f.Number.High, small/large),
	}.scaled(math.Pow(u.DiameterM/small, 4)), nil
}

// EnlargementK returns the loss coefficient of an enlargement, referred to the
// velocity in the small bore:
//
//	K = 2.6 sin(θ/2) (1 - β²)²  for θ ≤ 45°,  K = (1 - β²)² above
//
// θ angleRad included angle in rad, β betaRatio small bore over large. Valid for
// 0 < θ ≤ π and 0 < β ≤ 1. Source: Technical Paper 410, appendix A (from memory);
// above 45° Borda and Carnot.
func EnlargementK(angleRad, betaRatio float64) float64 {
	sudden := (1 - betaRatio*betaRatio) * (1 - betaRatio*betaRatio)
	if angleRad > math.Pi/4 {
		return sudden
	}
	return 2.6 * math.Sin(angleRad/2) * sudden
}

// EnlargementKFormula is EnlargementK.
var EnlargementKFormula = basis.Formula{
	ID:      "enlargement-k",
	Title:   "Loss coefficient of an enlargement",
	Expr:    "K = 2.6 sin(θ/2) (1 - β²)² for θ ≤ 45°, else (1 - β²)²",
	Symbols: []string{"θ", "β"},
	Kind:    quantity.Number,
	Ref:     "tp410 appendix A",
	Range:   "referred to the small bore, 0 < θ ≤ 180°",
}

// ContractionK returns the loss coefficient of a contraction, referred to the
// velocity in the small bore:
//
//	K = 0.8 sin(θ/2) (1 - β²)  for θ ≤ 45°,  K = 0.5 √sin(θ/2) (1 - β²) above
//
// θ angleRad included angle in rad, β betaRatio small bore over large. Valid for
// 0 < θ ≤ π and 0 < β ≤ 1. Source: Technical Paper 410, appendix A (from memory).
func ContractionK(angleRad, betaRatio float64) float64 {
	half := math.Sin(angleRad / 2)
	if angleRad > math.Pi/4 {
		return 0.5 * math.Sqrt(half) * (1 - betaRatio*betaRatio)
	}
	return 0.8 * half * (1 - betaRatio*betaRatio)
}

// ContractionKFormula is ContractionK.
var ContractionKFormula = basis.Formula{
	ID:      "contraction-k",
	Title:   "Loss coefficient of a contraction",
	Expr:    "K = 0.8 sin(θ/2) (1 - β²) for θ ≤ 45°, else 0.5 √sin(θ/2) (1 - β²)",
	Symbols: []string{"θ", "β"},
	Kind:    quantity.Number,
	Ref:     "tp410 appendix A",
	Range:   "referred to the small bore, 0 < θ ≤ 180°",
}

// TurbulentK returns the loss coefficient of a fitting by the handbook's rule:
//
//	K = n f_T
//
// n count the fitting's number, f_T turbulentFactor from TurbulentFactor.
func TurbulentK(count, turbulentFactor float64) float64 { return count * turbulentFactor }

// TurbulentKFormula is TurbulentK.
var TurbulentKFormula = basis.Formula{
	ID:      "fitting-k",
	Title:   "Loss coefficient of a fitting",
	Expr:    "K = n f_T",
	Symbols: []string{"n", "f_T"},
	Kind:    quantity.Number,
	Ref:     "tp410 appendix A",
	Range:   "turbulent flow, n of the fitting's kind",
}
