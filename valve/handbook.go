package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// HandbookLoss is what a handbook says about the full-open loss of a type. Low and
// High bound it; Factor is n where it is printed as K = n f_T.
type HandbookLoss struct {
	Type               string // key of one of the types here, "" for others
	Style              string // as the handbook has it
	Low, Typical, High float64
	Factor             float64 // n of K = n f_T, f_T of the pipe's size; 0 else
	Source             string
}

// handbook losses. They are envelopes of old data, ±30 % and more.
var handbookLosses = []HandbookLoss{
	{"ball-cage", "ball", 0.9, 0, 1.7, 0, "sanks table B-7"},
	{"ball-pocket", "ball", 0.9, 0, 1.7, 0, "sanks table B-7"},
	{"axial", "center guided (silent), globe", 2.6, 2.6, 2.6, 0, "sanks table B-7"},
	{"dual-plate", "double door, to 8 in", 2.5, 2.5, 2.5, 0, "sanks table B-7"},
	{"dual-plate", "double door, 10 to 16 in", 1.2, 1.2, 1.2, 0, "sanks table B-7"},
	{"dual-plate", "double door", 1.0, 1.32, 1.8, 0, "kalsi-tullis-1993"},
	{"flap", "rubber flapper", 1.1, 0, 2.0, 0, "sanks table B-7"},
	{"tilting-disc", "slanting disc", 0.25, 0, 2.0, 0, "sanks table B-7"},
	{"tilting-disc", "tilting disc", 0.27, 1.2, 2.62, 0, "kalsi-tullis-1993"},
	{"swing", "swing", 0.6, 0, 2.2, 0, "sanks table B-7"},
	{"swing", "swing", 0.29, 1.0, 2.2, 0, "kalsi-tullis-1993"},
	{"swing-assisted", "swing", 0.6, 0, 2.2, 0, "sanks table B-7"},
	{"swing-cushioned", "swing", 0.6, 0, 2.2, 0, "sanks table B-7"},
	{"", "lift", 0.85, 4.6, 9.1, 0, "kalsi-tullis-1993"},
	{"", "foot, hinged", 1, 0, 1.4, 0, "sanks table B-7"},
	{"", "foot, poppet", 5, 0, 14, 0, "sanks table B-7"},
	{"swing", "swing, flanged", 0.4, 2.0, 6.0, 0, "hi-edb table 3.B.1, spread −80 to +200 %"},
	{"swing", "swing, angled seat", 0, 0, 0, 100, "tp410 appendix A"},
	{"swing", "swing, straight", 0, 0, 0, 50, "tp410 appendix A"},
	{"", "lift, globe", 0, 0, 0, 600, "tp410 appendix A"},
	{"", "lift, angle", 0, 0, 0, 55, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 5°, 2 to 8 in", 0, 0, 0, 40, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 5°, 10 to 14 in", 0, 0, 0, 30, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 5°, 16 to 48 in", 0, 0, 0, 20, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 15°, 2 to 8 in", 0, 0, 0, 120, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 15°, 10 to 14 in", 0, 0, 0, 90, "tp410 appendix A"},
	{"tilting-disc", "tilting disc 15°, 16 to 48 in", 0, 0, 0, 60, "tp410 appendix A"},
	{"", "stop check, globe, style 1", 0, 0, 0, 400, "tp410 appendix A"},
	{"", "stop check, globe, style 2", 0, 0, 0, 300, "tp410 appendix A"},
	{"", "stop check, globe, style 3", 0, 0, 0, 55, "tp410 appendix A"},
	{"", "stop check, angle, style 1", 0, 0, 0, 200, "tp410 appendix A"},
	{"", "stop check, angle, style 2", 0, 0, 0, 350, "tp410 appendix A"},
	{"", "stop check, angle, style 3", 0, 0, 0, 55, "tp410 appendix A"},
	{"", "foot with strainer, poppet", 0, 0, 0, 420, "tp410 appendix A, from memory"},
	{"", "foot with strainer, hinged", 0, 0, 0, 75, "tp410 appendix A, from memory"},
}

// HandbookLosses lists what handbooks say about the type; all rows for "".
func HandbookLosses(typeKey string) []HandbookLoss {
	var out []HandbookLoss
	for _, h := range handbookLosses {
		if typeKey == "" || h.Type == typeKey {
			out = append(out, h)
		}
	}
	return out
}

// handbookRange spans the printed ranges for the type; 0, 0 where none is printed.
func handbookRange(typeKey string) (low, high float64) {
	low = math.Inf(1)
	for _, h := range handbookLosses {
		if h.Type == typeKey && h.High > 0 {
			low, high = min(low, h.Low), max(high, h.High)
		}
	}
	if high == 0 {
		return 0, 0
	}
	return low, high
}

// MinimumVelocity is the old rule for the least velocity in the bore that opens a check
// valve in full and steadily, N β^n/√ρ in m/s (Technical Paper 410; its US form is
// j √v̄ in ft/s with the specific volume v̄ in ft³/lb): N constant, ρ densityKgM3, β ratio
// of seat to bore diameter, n power 0 or 2. ±30 %; a fitting within some 5 diameters
// before the valve raises it 1.2 to 1.5 times (from memory).
func MinimumVelocity(constant, densityKgM3, ratio, power float64) float64 {
	return constant * math.Pow(ratio, power) / math.Sqrt(densityKgM3)
}

// MinimumVelocityFormula is MinimumVelocity.
var MinimumVelocityFormula = basis.Formula{
	ID:      "minimum-velocity",
	Title:   "Least velocity for full lift, old rule",
	Expr:    "V = N β^n / √ρ",
	Symbols: []string{"N", "ρ", "β", "n"},
	Kind:    quantity.Velocity,
	Ref:     "tp410 appendix A",
	Range:   "envelope of old data, ±30 %",
}

// LiftRule is one row of the rule: constants N (SI) and j (US), power of β.
type LiftRule struct {
	Type     string // key of one of the types here, "" for others
	Style    string
	N, J     float64
	Power    float64
	MetersPS float64 // in water of 998 kg/m³, β = 1
}

var liftRules = []LiftRule{
	{Type: "swing", Style: "swing, angled seat", N: 45, J: 35},
	{Type: "swing", Style: "swing, straight", N: 75, J: 60},
	{Type: "swing", Style: "swing, fire service", N: 120, J: 100},
	{Style: "lift, globe", N: 50, J: 40, Power: 2},
	{Style: "lift, angle", N: 170, J: 140, Power: 2},
	{Type: "tilting-disc", Style: "tilting disc 5°", N: 100, J: 80},
	{Type: "tilting-disc", Style: "tilting disc 15°", N: 40, J: 30},
	{Style: "stop check, globe, style 1", N: 70, J: 55, Power: 2},
	{Style: "stop check, globe, style 2", N: 75, Power: 2},
	{Style: "stop check, globe, style 3", N: 170, Power: 2},
	{Style: "stop check, angle, style 1", N: 95, J: 75, Power: 2},
	{Style: "foot, poppet", N: 20, J: 15},
	{Style: "foot, hinged", N: 45, J: 35},
}

// LiftRules lists the rows for the type; all for "".
func LiftRules(typeKey string) []LiftRule {
	var out []LiftRule
	for _, r := range liftRules {
		if typeKey == "" || r.Type == typeKey {
			r.MetersPS = MinimumVelocity(r.N, 998, 1, r.Power)
			out = append(out, r)
		}
	}
	return out
}
