package steady

import (
	"errors"
	"math"
	"slices"
	"testing"
)

type notANumber struct{}

func (notANumber) Head(float64) float64   { return math.NaN() }
func (notANumber) Settle(float64) float64 { return math.NaN() }

func TestWhatIsNoSystem(t *testing.T) {
	good := func() *System {
		return &System{Branches: pumps("p", 2, poly{40, 0, 4000, 0.1}), Main: main1(1000), Levels: []Level{static(20)}}
	}
	for name, x := range map[string]struct {
		spoil func(*System)
		want  error
	}{
		"no branch":       {func(s *System) { s.Branches = nil }, ErrNoBranch},
		"no main":         {func(s *System) { s.Main = nil }, ErrNoMain},
		"no level":        {func(s *System) { s.Levels = nil }, ErrNoLevel},
		"no source":       {func(s *System) { s.Branches[1].Source = nil }, ErrNothing},
		"nil element":     {func(s *System) { s.Branches[1].Elements = []Element{nil} }, ErrNothing},
		"nil in main":     {func(s *System) { s.Main[0].Elements = []Element{nil} }, ErrNothing},
		"level NaN":       {func(s *System) { s.Levels[0].OutletM = math.NaN() }, ErrLevel},
		"level infinite":  {func(s *System) { s.Levels[0].WetWellM = math.Inf(-1) }, ErrLevel},
		"reach NaN":       {func(s *System) { s.Main = append([]Reach{{EndM: math.NaN()}}, s.Main...) }, ErrLevel},
		"many":            {func(s *System) { s.Branches = pumps("", 13, poly{40, 0, 4000, 0.1}) }, ErrTooMany},
		"source NaN":      {func(s *System) { s.Branches[0].Source = notANumber{} }, ErrNotANumber},
		"element NaN":     {func(s *System) { s.Branches[0].Elements = []Element{notANumber{}} }, ErrNotANumber},
		"main NaN":        {func(s *System) { s.Main[0].Elements = []Element{notANumber{}} }, ErrNotANumber},
		"nothing spoiled": {func(*System) {}, nil},
	} {
		s := good()
		x.spoil(s)
		if _, err := s.SolveAll(); !errors.Is(err, x.want) {
			t.Errorf("%s: %v, want %v", name, err, x.want)
		}
	}
	for _, running := range [][]int{nil, {2}, {-1}, {1, 0}, {0, 0}} {
		if _, err := good().Solve(running, static(20)); !errors.Is(err, ErrRunning) {
			t.Errorf("running %v: %v", running, err)
		}
	}
}

func TestCurvesForCharts(t *testing.T) {
	sys := &System{Branches: pumps("p", 2, poly{40, 0, 9000, 0.06}, loss(700)), Main: main1(2500)}
	p := mustSolve(t, sys, static(22))
	main, err := sys.MainCurve(static(22), []float64{0, p.FlowM3S})
	if err != nil || main[0].HeadM != 22 {
		t.Fatalf("%+v, %v", main, err)
	}
	near(t, "system curve", main[1].HeadM, p.HeaderHeadM, 1e-13)
	near(t, "its loss", main[1].LossM, p.MainLossM, 1e-12)
	branch, err := sys.BranchCurve(0, []float64{0, p.FlowM3S / 2})
	if err != nil || branch[0].NetM != 40 {
		t.Fatalf("%+v, %v", branch, err)
	}
	near(t, "branch curve", branch[1].NetM, p.HeaderHeadM, 1e-13)
	near(t, "branch loss", branch[1].LossM[0], p.Branches[0].LossM[0], 1e-13)
	joint, err := sys.CombinedCurve([]int{0, 1}, static(22), []float64{41, p.HeaderHeadM, -1e6})
	if err != nil || joint[0].FlowM3S != 0 || joint[0].Cut || joint[1].Cut || !joint[2].Cut {
		t.Fatalf("%+v, %v", joint, err)
	}
	near(t, "joint curve", joint[1].FlowM3S, p.FlowM3S, 1e-12)
	_, err1 := sys.BranchCurve(2, nil)
	_, err2 := sys.CombinedCurve(nil, static(22), nil)
	if !errors.Is(err1, ErrRunning) || !errors.Is(err2, ErrRunning) {
		t.Errorf("%v, %v", err1, err2)
	}
	if slices.Contains([]string{Flowing.String(), NoFlow.String(), Unlimited.String(), Unsettled.String()}, "") {
		t.Error("an outcome without words")
	}
}
