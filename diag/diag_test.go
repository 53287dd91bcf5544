package diag

import (
	"testing"
)

func TestMessageSaysWhereWhatAndHow(t *testing.T) {
	m := Message{
		ID: "unit-missing", Place: Place{"a.yaml", 3, 7}, Path: "duty.flow", Text: "no unit", Found: "450",
		Expected: "a flow", Mend: "write 450 gpm",
	}
	want := "a.yaml:3:7: duty.flow: no unit; found 450; expected a flow. To mend: write 450 gpm [unit-missing]"
	if got := m.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	m = Message{ID: "odd", Severity: Warning, Text: "odd"}
	if got := m.Error(); got != "warning: odd [odd]" {
		t.Errorf("got %s", got)
	}
}

func TestListIsAnErrorOnlyWithAnError(t *testing.T) {
	var l List
	if l.Err() != nil {
		t.Error("an empty list is an error")
	}
	l.Add(Message{Severity: Warning, Place: Place{"a", 9, 1}})
	if l.Err() != nil {
		t.Error("a warning is an error")
	}
	l.Add(Message{Place: Place{"a", 2, 1}})
	l.Sort()
	if l.Err() == nil || l[0].Place.Line != 2 {
		t.Errorf("not sorted by place, or the error is lost: %v", l)
	}
}

func TestDidYouMean(t *testing.T) {
	words := []string{"flow", "head", "static_head", "wave_speed"}
	for in, want := range map[string]string{
		"flwo": "flow", "hed": "head", "statichead": "static_head",
		"wavespeed": "wave_speed", "zebra": "", "": "",
	} {
		if got := DidYouMean(in, words); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

func TestMeant(t *testing.T) {
	words := []string{"pdf", "docx"}
	for in, want := range map[string]string{"pfd": `did you mean "pdf"?`, "zebra": "there are: pdf, docx"} {
		if got := Meant(in, words); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
