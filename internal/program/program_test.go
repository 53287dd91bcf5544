package program

import (
	"runtime/debug"
	"testing"
)

func TestNamed(t *testing.T) {
	stamped := func(v string) *debug.BuildInfo { return &debug.BuildInfo{Main: debug.Module{Version: v}} }
	for _, tt := range []struct {
		linked string
		info   *debug.BuildInfo
		want   string
	}{
		{"", nil, "devel"},
		{"", stamped(""), "devel"},
		{"", stamped("(devel)"), "devel"},
		{"", stamped("v0.2.0"), "0.2.0"},
		{"", stamped("v0.2.1-0.20261129062713-0aecfe2b1c3d+dirty"), "0.2.1-0.20261129062713-0aecfe2b1c3d+dirty"},
		{"0.1.0", stamped("v0.2.0"), "0.1.0"},
	} {
		if got := named(tt.linked, tt.info); got != tt.want {
			t.Errorf("named(%q, %v) = %q, want %q", tt.linked, tt.info, got, tt.want)
		}
	}
}

func TestCommitted(t *testing.T) {
	info := &debug.BuildInfo{Settings: []debug.BuildSetting{
		{Key: "vcs", Value: "git"},
		{Key: "vcs.revision", Value: "0aecfe2"},
	}}
	for _, tt := range []struct {
		linked string
		info   *debug.BuildInfo
		want   string
	}{{"", nil, ""}, {"", &debug.BuildInfo{}, ""}, {"", info, "0aecfe2"}, {"abc", info, "abc"}} {
		if got := committed(tt.linked, tt.info); got != tt.want {
			t.Errorf("committed(%q, %v) = %q, want %q", tt.linked, tt.info, got, tt.want)
		}
	}
}

// TestThis: what a test writes must not change from commit to commit.
func TestThis(t *testing.T) {
	if got, want := This(), (Program{"seatward", "devel"}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}
