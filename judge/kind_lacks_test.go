package judge

import "testing"

// A missing fact names who settles it, where somebody has to.
func TestLacks(t *testing.T) {
	kind := &Kind{Settles: Owner}
	for _, tt := range []struct {
		f    Finding
		want string
	}{
		{Finding{Kind: kind, Severity: Open, Missing: "rags"}, "rags (owner)"},
		{Finding{Kind: kind, Severity: Note, Missing: "rags"}, "rags"},
		{Finding{Kind: &Kind{}, Severity: Confirm, Missing: "rags"}, "rags"},
		{Finding{Kind: kind, Severity: Open}, ""},
	} {
		if got := tt.f.Lacks(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}
