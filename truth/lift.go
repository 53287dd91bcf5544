package truth

import (
	"seatward/judge"
	"seatward/lift"
)

var (
	_ = evaluator("lifting-limit", "lift.RecommendedKg", func(in Inputs) (float64, error) {
		t := lift.Task{ReachM: in.F("H") / 100, TwistDeg: in.F("A"), Coupling: in.F("C")}
		t.FromM = in.F("V") / 100
		t.ToM = in.F("end") / 100
		return lift.RecommendedKg(t), nil
	})
	_ = evaluator("present-value", "judge.PresentValue", func(in Inputs) (float64, error) {
		return judge.PresentValue(in.F("i"), in.F("n")), nil
	})
)
