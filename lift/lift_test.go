package lift

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/quantity"
)

// TestBeyondReachNothing: outside its limits the equation allows no lift.
func TestBeyondReachNothing(t *testing.T) {
	for _, task := range []Task{
		{0.64, 0.5, 0.8, 0, 1}, {0.3, -0.1, 0.8, 0, 1}, {0.3, 0.5, 1.8, 0, 1}, {0.3, 0.5, 0.8, 140, 1},
	} {
		if got := RecommendedKg(task); got != 0 {
			t.Errorf("%+v: %g kg", task, got)
		}
	}
}

// TestNeverAboveTheConstant: no lift is allowed more than 23 kg, and reaching further or
// twisting never allows more.
func TestNeverAboveTheConstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := Task{
			rapid.Float64Range(0.1, 0.63).Draw(t, "reach"), rapid.Float64Range(0, 1.75).Draw(t, "from"),
			rapid.Float64Range(0, 1.75).Draw(t, "to"), rapid.Float64Range(0, 135).Draw(t, "twist"), 1,
		}
		kg := RecommendedKg(task)
		further, turned := task, task
		further.ReachM, turned.TwistDeg = min(0.63, task.ReachM*1.2), min(135, task.TwistDeg+10)
		if !(kg > 0 && kg <= 23+1e-12) || RecommendedKg(further) > kg || RecommendedKg(turned) > kg {
			t.Fatalf("%+v: %g kg", task, kg)
		}
	})
}

func TestJudge(t *testing.T) {
	limit := Limit(Task{})
	if math.Abs(limit.SI-RecommendedKg(Usual)) > 1e-12 || len(limit.Inputs) != 5 ||
		limit.Inputs[0].Origin != basis.Assumed {
		t.Errorf("%v", limit)
	}
	mass := func(kg float64) basis.Value { return basis.NewCatalog("mass", quantity.Mass, kg, "test") }
	if v := Judge("ball", mass(5), limit); !v.Alone || !(v.Index < 1) {
		t.Errorf("%+v", v)
	}
	if v := Judge("cover", mass(30), limit); v.Alone || !(v.Index > 2) {
		t.Errorf("%+v", v)
	}
	if v := Judge("valve", basis.Value{}, limit); v.Alone || v.Index != 0 {
		t.Errorf("an unknown mass may be lifted: %+v", v)
	}
	if v := Judge("ball", mass(1), Limit(Task{ReachM: 0.9})); v.Alone {
		t.Error("a lift out of reach is allowed")
	}
}
