package fluid

import "testing"

func TestServices(t *testing.T) {
	for _, s := range Services() {
		if got, ok := ServiceNamed(string(s)); !ok || got != s || s.Sewage() && s.Drinking() {
			t.Errorf("%q is %q, %v", s, got, ok)
		}
	}
	if s, ok := ServiceNamed("oil"); ok {
		t.Errorf("%q is a service", s)
	}
	if !Sludge.Sewage() || Effluent.Sewage() || !DrinkingWater.Drinking() || RawWater.Drinking() {
		t.Error("what is sewage, and what people drink, is wrong")
	}
}
