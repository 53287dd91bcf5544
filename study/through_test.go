package study

import (
	"context"
	"encoding/json"
	"testing"
)

// TestAlone: a valve taken out of a study of several is what a study of it alone says, and
// the study of several stays as it is.
func TestAlone(t *testing.T) {
	const id = "flap/6in"
	opt := options(t)
	opt.Quick = true
	all := answerAnew(t, example(t, "layout"), opt)
	form := func(s *Study) string {
		data, err := json.Marshal(s.JSON())
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	before := form(all)
	with, err := all.RunThrough(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	got, err := with.Alone(id)
	if err != nil {
		t.Fatal(err)
	}
	only := options(t)
	only.Valve = id
	want := answerAnew(t, example(t, "layout"), only)
	if a, b := form(got), form(want); a != b {
		t.Errorf("out of several:\n%s\nalone:\n%s", a, b)
	}
	if form(all) != before || len(with.Assessments) != len(all.Assessments) {
		t.Error("the study of several is changed")
	}
	if _, err := want.Alone("swing/6in"); err == nil {
		t.Error("a valve that was not judged is taken out")
	}
}
