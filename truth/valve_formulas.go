package truth

import (
	"fmt"
	"math"

	"seatward/valve"
)

// kernel evaluates a formula of plain numbers, named in the order of its arguments.
func kernel(f func(x []float64) float64, names ...string) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		x := make([]float64, len(names))
		for i, name := range names {
			x[i] = in.F(name)
		}
		return f(x), nil
	}
}

// Spheres.
var (
	_ = evaluator("sphere-drag", "valve.SphereDrag",
		kernel(func(x []float64) float64 { return valve.SphereDrag(x[0]) }, "Re"))
	_ = evaluator("sphere-drag-smooth", "valve.SphereDragSmooth",
		kernel(func(x []float64) float64 { return valve.SphereDragSmooth(x[0]) }, "Re"))
	_ = evaluator("ball-drag", "valve.BallDrag",
		kernel(func(x []float64) float64 { return valve.BallDrag(x[0], x[1]) }, "lambda", "CD"))
	_ = evaluator("ball-drag-settling", "valve.BallDragSettling",
		kernel(func(x []float64) float64 { return valve.BallDragSettling(x[0], x[1]) }, "lambda", "CD"))
	_ = evaluator("ball-drag-wall", "valve.BallDragWall",
		kernel(func(x []float64) float64 { return valve.BallDragWall(x[0], x[1], x[2]) }, "lambda", "CD", "Re"))
	_ = evaluator("ball-drag-expansion", "valve.BallDragExpansion",
		kernel(func(x []float64) float64 { return valve.BallDragExpansion(x[0]) }, "lambda"))
	_ = evaluator("sphere-tube-added-mass", "valve.SphereTubeAddedMass",
		kernel(func(x []float64) float64 { return valve.SphereTubeAddedMass(x[0]) }, "lambda"))
	_ = evaluator("disc-added-mass", "valve.DiscAddedMass",
		kernel(func(x []float64) float64 { return valve.DiscAddedMass(x[0], x[1]) }, "rho", "R"))
	_ = evaluator("disc-added-inertia", "valve.DiscAddedInertia",
		kernel(func(x []float64) float64 { return valve.DiscAddedInertia(x[0], x[1], x[2]) }, "rho", "R", "Lc"))
	_ = evaluator("terminal-speed", "valve.TerminalSpeed", kernel(func(x []float64) float64 {
		return valve.TerminalSpeed(valve.SubmergedWeight(x[0], x[1], x[2], x[4]), x[1], x[2], x[3])
	}, "rho_b", "rho", "Db", "CD", "g"))
	_ = evaluator("follow-ratio", "valve.FollowRatio",
		kernel(func(x []float64) float64 { return valve.FollowRatio(x[0], x[1]) }, "SG", "Cm"))
	_ = evaluator("holding-velocity", "valve.HoldingVelocity", kernel(func(x []float64) float64 {
		chamber := x[2] / x[3]
		w := valve.SubmergedWeight(x[0], x[1], x[2], x[6])
		return valve.HoldingVelocity(w, x[1], x[2], chamber, x[4], valve.BallDrag(x[3], x[5]))
	}, "rho_b", "rho", "Db", "lambda", "D", "CD", "g"))
	_ = evaluator("holding-velocity-by-hand", "valve.HoldingVelocityByHand", kernel(func(x []float64) float64 {
		return valve.HoldingVelocityByHand(x[0], x[1], x[2], x[3], x[4])
	}, "Db", "Dch", "D", "SG", "g"))
	_ = evaluator("rubber-modulus", "valve.RubberModulus",
		kernel(func(x []float64) float64 { return valve.RubberModulus(x[0]) / 1e6 }, "S"))
)

// Surge and deceleration.
var (
	_ = evaluator("joukowsky", "valve.Joukowsky",
		kernel(func(x []float64) float64 { return valve.Joukowsky(x[0], x[1], x[2]) }, "a", "V", "g"))
	_ = evaluator("slow-closure", "valve.SlowClosure",
		kernel(func(x []float64) float64 { return valve.SlowClosure(x[0], x[1], x[2], x[3]) }, "L", "V", "Tc", "g"))
	_ = evaluator("falling-reverse-velocity", "valve.FallingReverseVelocity", kernel(func(x []float64) float64 {
		return valve.FallingReverseVelocity(x[0], x[1], x[2], x[3], x[4])
	}, "alpha", "M", "stroke", "F", "Vs"))
	_ = evaluator("cushion-force", "valve.CushionForce",
		kernel(func(x []float64) float64 { return valve.CushionForce(x[0], x[1], x[2], x[3]) }, "rho", "Ap", "Ao",
			"Cd"))
	_ = evaluator("strip-stiffness", "valve.StripStiffness",
		kernel(func(x []float64) float64 { return valve.StripStiffness(x[0], x[1], x[2], x[3]) }, "E", "b", "t", "l"))
	_ = evaluator("partial-closure", "valve.PartialClosure",
		kernel(func(x []float64) float64 { return valve.PartialClosure(x[0], x[1]) }, "tau", "rho*"))
	_ = evaluator("partial-closure-head", "valve.PartialClosureHead",
		kernel(func(x []float64) float64 { return valve.PartialClosureHead(x[0], x[1]) }, "tau", "rho*"))
	_ = evaluator("column-time", "valve.ColumnTime",
		kernel(func(x []float64) float64 { return valve.ColumnTime(x[0], x[1], x[2], x[3]) }, "L", "V0", "H", "g"))
	_ = evaluator("reversal-time", "valve.ReversalTime", kernel(func(x []float64) float64 {
		return valve.ReversalTime(valve.ColumnTime(x[0], x[1], x[2], x[3]), x[4])
	}, "L", "V0", "H", "g", "Ta"))
	_ = evaluator("reversal-deceleration", "valve.ReversalDeceleration", kernel(func(x []float64) float64 {
		return valve.ReversalDeceleration(x[0], x[1], x[2], x[3], x[4])
	}, "L", "H", "V0", "Ta", "g"))
	_ = evaluator("friction-reversal-time", "valve.FrictionReversalTime", kernel(func(x []float64) float64 {
		return valve.FrictionReversalTime(x[0], x[1], x[2], x[3], x[4])
	}, "L", "H", "hf", "V0", "g"))
	_ = evaluator("elastic-reversal-time", "valve.ElasticReversalTime", kernel(func(x []float64) float64 {
		return valve.ElasticReversalTime(x[0], x[1], x[2], x[3], x[4])
	}, "a", "H0", "V0", "Ta", "g"))
	_ = evaluator("elastic-deceleration", "valve.ElasticDeceleration", kernel(func(x []float64) float64 {
		return valve.ElasticDeceleration(x[0], x[1], x[2], x[3], x[4])
	}, "a", "H0", "V0", "Ta", "g"))
)

// Flow coefficients and handbook rows.
var (
	_ = evaluator("kv-per-cv", "valve.KvPerCv", func(Inputs) (float64, error) { return valve.KvPerCv(), nil })
	_ = evaluator("loss-from-kv", "valve.LossFromKv",
		kernel(func(x []float64) float64 { return valve.LossFromKv(x[0], x[1]) }, "Kv", "D"))
	_ = evaluator("kv-from-loss", "valve.KvFromLoss",
		kernel(func(x []float64) float64 { return valve.KvFromLoss(x[0], x[1]) }, "K", "D"))
	_ = evaluator("loss-from-cv", "valve.LossFromCv",
		kernel(func(x []float64) float64 { return valve.LossFromCv(x[0], x[1]) }, "Cv", "D"))
	_ = evaluator("cv-from-loss-by-hand", "valve.CvFromLossByHand",
		kernel(func(x []float64) float64 { return valve.CvFromLossByHand(x[0], x[1]) }, "K", "D"))
	_ = evaluator("kv-drop", "valve.KvDrop",
		kernel(func(x []float64) float64 { return valve.KvDrop(x[0]/3600, x[1], x[2]) / 1e5 }, "Q", "Kv", "rho"))
	_ = evaluator("kv-drop/head", "valve.KvDrop", kernel(func(x []float64) float64 {
		return valve.KvDrop(x[0]/3600, x[1], x[2]) / (x[2] * x[3])
	}, "Q", "Kv", "rho", "g"))
	_ = evaluator("kv-needed", "valve.KvNeeded",
		kernel(func(x []float64) float64 { return valve.KvNeeded(x[0]/3600, x[1], x[2]) }, "Q", "dp", "rho"))
	_ = evaluator("reduced-seat-loss", "valve.ReducedSeatLoss", kernel(func(x []float64) float64 {
		return valve.ReducedSeatLoss(x[0]*x[1], x[2]/x[3])
	}, "n", "fT", "Ds", "D"))
	_ = evaluator("reduced-seat-loss/drop", "valve.ReducedSeatLoss", kernel(func(x []float64) float64 {
		k, v := valve.ReducedSeatLoss(x[0]*x[1], x[2]/x[3]), x[4]/(math.Pi/4*x[3]*x[3])
		return k * x[5] * v * v / 2
	}, "n", "fT", "Ds", "D", "Q", "rho"))
	_ = evaluator("reducers-loss", "valve.ReducersLoss",
		kernel(func(x []float64) float64 { return valve.ReducersLoss(x[0], x[1], x[2]) }, "d", "D1", "D2"))
	_ = evaluator("reducers-factor", "valve.ReducersFactor", kernel(func(x []float64) float64 {
		return valve.ReducersFactor(x[0], x[1], valve.ReducersLoss(x[1], x[2], x[3]))
	}, "Kv", "d", "D1", "D2"))
	_ = evaluator("reducers-factor/sizing", "valve.ReducersFactor", sizing)
	_ = evaluator("critical-pressure-ratio", "valve.CriticalPressureRatio",
		kernel(func(x []float64) float64 { return valve.CriticalPressureRatio(x[0], x[1]) }, "pv", "pc"))
	_ = evaluator("choked-drop", "valve.ChokedDrop",
		kernel(func(x []float64) float64 { return valve.ChokedDrop(x[0], x[1], x[2], x[3]) }, "FL", "p1", "pv", "pc"))
	_ = evaluator("choked-drop/outlet", "valve.ChokedDrop",
		kernel(func(x []float64) float64 { return x[1] - valve.ChokedDrop(x[0], x[1], x[2], x[3]) }, "FL", "p1", "pv",
			"pc"))
	_ = evaluator("minimum-velocity", "valve.LiftRules", liftRule(func(r valve.LiftRule, in Inputs) float64 {
		ratio := 1.0
		if in.Has("beta") {
			ratio = in.F("beta")
		}
		return valve.MinimumVelocity(r.N, in.F("rho"), ratio, r.Power)
	}))
	_ = evaluator("minimum-velocity/us", "valve.LiftRules", liftRule(func(r valve.LiftRule, in Inputs) float64 {
		return r.J * math.Sqrt(in.F("v"))
	}))
	_ = evaluator("handbook-loss/factor", "valve.HandbookLosses",
		handbookRow(func(h valve.HandbookLoss) float64 { return h.Factor }))
	_ = evaluator("handbook-loss/low", "valve.HandbookLosses",
		handbookRow(func(h valve.HandbookLoss) float64 { return h.Low }))
	_ = evaluator("handbook-loss/typical", "valve.HandbookLosses",
		handbookRow(func(h valve.HandbookLoss) float64 { return h.Typical }))
	_ = evaluator("handbook-loss/high", "valve.HandbookLosses",
		handbookRow(func(h valve.HandbookLoss) float64 { return h.High }))
)

// sizing finds the flow coefficient of a valve between reducers that passes the flow.
func sizing(in Inputs) (float64, error) {
	bare := valve.KvNeeded(in.F("Q")/3600, in.F("dp"), in.F("rho")/in.F("rho0")*1000)
	d, loss := in.F("d"), valve.ReducersLoss(in.F("d"), in.F("D1"), in.F("D2"))
	kv := bare
	for range 200 {
		kv = bare / valve.ReducersFactor(kv, d, loss)
	}
	return kv, nil
}

func liftRule(pick func(valve.LiftRule, Inputs) float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		style := in.S("style")
		for _, r := range valve.LiftRules("") {
			if r.Style == style {
				return pick(r, in), nil
			}
		}
		return 0, fmt.Errorf("no rule for %q", style)
	}
}

func handbookRow(pick func(valve.HandbookLoss) float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		style, source := in.S("style"), in.S("source")
		for _, h := range valve.HandbookLosses("") {
			if h.Style == style && h.Source == source {
				return pick(h), nil
			}
		}
		return 0, fmt.Errorf("no handbook row for %q in %q", style, source)
	}
}
